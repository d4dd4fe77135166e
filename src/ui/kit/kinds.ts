/** What the number fields take that several subjects have: form, unit and range. Degrees, seconds, mm or inches. */
import type { NumberKind } from './numberfield.ts'

export const KINDS = {
  longitude: { form: 'longitude', min: -180, max: 180 },
  azimuth: { form: 'angle', min: 0, max: 360 },
  elevation: { form: 'angle', min: -90, max: 90 },
  offset: { form: 'angle', min: -45, max: 45 },
  /** The schema's own bound is 0 < σ ≤ 45; less than a thousandth of a degree is a slip. */
  sigma: { form: 'angle', min: 0.001, max: 45 },
  clockOffset: { form: 'number', unit: 's', min: -86_400, max: 86_400 },
  mm: { form: 'number', unit: 'mm', min: 0, max: 100_000 },
  in: { form: 'number', unit: 'in', min: 0, max: 3900 },
  tilt: { form: 'angle', min: -90, max: 90 },
  /** The end that points up is the one that counts: never below 0. */
  raised: { form: 'angle', min: 0, max: 90 },
  circle: { form: 'angle', min: -360, max: 360 },
  heading: { form: 'angle', min: 0, max: 360 },
  step: { form: 'angle', min: 0, max: 5 },
  turn: { form: 'angle', min: -180, max: 180 },
  turnSigma: { form: 'angle', min: 0.001, max: 180 },
  shift: { form: 'number', unit: 'mm', min: -1000, max: 1000 },
  shiftSigma: { form: 'number', unit: 'mm', min: 0.01, max: 1000 },
} as const satisfies Record<string, NumberKind>
