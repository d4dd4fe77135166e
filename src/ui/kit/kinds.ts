/** What the number fields take that several subjects have: form, unit and range. Degrees, seconds, mm or inches. */
import { RANGES } from '../../core/records/ranges.ts'
import { bounds, type NumberKind } from './numberfield.ts'

export const KINDS = {
  longitude: { form: 'longitude', ...bounds(RANGES.lonDeg) },
  azimuth: { form: 'angle', ...bounds(RANGES.azimuthDeg) },
  elevation: { form: 'angle', ...bounds(RANGES.elevationDeg) },
  offset: { form: 'angle', min: -45, max: 45 },
  /** Less than a thousandth of a degree is a slip. */
  sigma: { form: 'angle', min: 0.001, max: RANGES.sigmaDeg[1] },
  clockOffset: { form: 'number', unit: 's', min: -86_400, max: 86_400 },
  mm: { form: 'number', unit: 'mm', min: 0, max: RANGES.shadowMm[1] },
  in: { form: 'number', unit: 'in', min: 0, max: 3900 },
  tilt: { form: 'angle', ...bounds(RANGES.elevationDeg) },
  /** The end that points up is the one that counts: never below 0. */
  raised: { form: 'angle', ...bounds(RANGES.raisedDeg) },
  circle: { form: 'angle', ...bounds(RANGES.circleDeg) },
  heading: { form: 'angle', ...bounds(RANGES.azimuthDeg) },
  step: { form: 'angle', ...bounds(RANGES.finenessDeg) },
  turn: { form: 'angle', ...bounds(RANGES.turnDeg) },
  turnSigma: { form: 'angle', min: 0.001, max: 180 },
  shift: { form: 'number', unit: 'mm', min: -1000, max: 1000 },
  shiftSigma: { form: 'number', unit: 'mm', min: 0.01, max: 1000 },
} as const satisfies Record<string, NumberKind>
