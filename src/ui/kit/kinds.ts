/** What the number fields take that several subjects have: form, unit and range. Degrees, seconds, mm or inches. */
import { RANGES, TYPED } from '../../core/records/ranges.ts'
import { bounds, lengthKind, type NumberKind } from './numberfield.ts'

/** Its side is said in words beside it. */
const SHADOW = [0, RANGES.shadowMm[1]] as const

export const KINDS = {
  latitude: { form: 'latitude', ...bounds(RANGES.latDeg) },
  longitude: { form: 'longitude', ...bounds(RANGES.lonDeg) },
  azimuth: { form: 'angle', ...bounds(RANGES.azimuthDeg) },
  elevation: { form: 'angle', ...bounds(RANGES.elevationDeg) },
  offset: { form: 'angle', ...bounds(TYPED.offsetDeg) },
  sigma: { form: 'angle', ...bounds(TYPED.sigmaDeg) },
  clockOffset: { form: 'number', unit: 's', ...bounds(TYPED.clockOffsetS) },
  mm: lengthKind('mm', SHADOW),
  in: lengthKind('in', SHADOW),
  tilt: { form: 'angle', ...bounds(RANGES.elevationDeg) },
  /** The end that points up is the one that counts: never below 0. */
  raised: { form: 'angle', ...bounds(RANGES.raisedDeg) },
  circle: { form: 'angle', ...bounds(RANGES.circleDeg) },
  heading: { form: 'angle', ...bounds(RANGES.azimuthDeg) },
  step: { form: 'angle', ...bounds(RANGES.finenessDeg) },
  turn: { form: 'angle', ...bounds(RANGES.turnDeg) },
  turnSigma: { form: 'angle', ...bounds(TYPED.turnSigmaDeg) },
} as const satisfies Record<string, NumberKind>
