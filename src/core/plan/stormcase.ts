/** What the check after a storm works on: what was measured since, and the causes that are weighed. Radians. */
import type { Solved } from '../fit/solved.ts'
import type { Built } from '../mount/slots.ts'
import type { Feed } from '../records/station.ts'
import type { Rad, UtcMs } from '../units.ts'
import type { Causes } from './stormmoves.ts'
import type { Measured, Pass } from './stormrows.ts'
import type { CauseSky, StormSky } from './stormsky.ts'

/** What the check works on; the plan goes on from it. */
export interface StormCase {
  solved: Solved
  feed: Feed
  since: UtcMs
  built: Built
  measured: Measured[]
  /** All that was measured, linear about the mount as it was. */
  pass: Pass
  causes: Causes
  /** The Moon's sky, and the causes over it: worked out when first looked at, since a move that shows needs no sky. */
  readonly sky: StormSky
  readonly single: readonly CauseSky[]
  readonly double: readonly CauseSky[]
  tolerance: Rad
}
