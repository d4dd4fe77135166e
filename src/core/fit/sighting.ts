/** A sighting as the fit weighs it: direction, offset from the line and their whitening. Radians; directions in Enu. */
import type { Line } from '../mount/asbuilt.ts'
import type { SightingRecord, Use } from '../records/fieldbook.ts'
import type { Rad } from '../units.ts'
import type { Vec3 } from '../vectors.ts'

export interface Sighting {
  record: SightingRecord
  utcMs: number
  /** Apparent direction of the target. */
  t: Vec3
  line: Line
  lowerSide: 0 | 1 | -1
  upperSide: 0 | 1 | -1
  slots: Int16Array
  /** Measured offset of the target from the line. */
  right: Rad
  up: Rad
  /** Whitening: (w11, w21, w22) of the lower triangle of the inverse Cholesky factor of the covariance. */
  w11: number
  w21: number
  w22: number
  /** √(trace/2) of the covariance. */
  sigma: Rad
  use: Use
  /** The id of the sighting that this one is a copy of (repeats.ts); it is then left out. */
  repeats: string | null
  /** By how much the variance in the whitening is widened for what close sightings share (repeats.ts); 1 alone. */
  crowd: number
}
