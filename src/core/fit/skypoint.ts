/** A point of the Moon's path and its reach. Radians. */
import type { Reach } from '../mount/aim.ts'
import type { MoonPoint } from '../sky/place.ts'
import type { Rad } from '../units.ts'

/** A point of the Moon's path that the solved mount reaches. */
export interface SkyPoint {
  moon: MoonPoint
  reach: Reach
  /** 2 × SLOTS partials of the offset at the solved readings. */
  partials: Float64Array
  /** Where the target stands from the beam when the mount is given the paper mount's readings; null: it has none. */
  before: [right: Rad, up: Rad] | null
}
