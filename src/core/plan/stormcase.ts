/** What the check after a storm works on: what was measured since, and the causes that are weighed. Radians. */
import type { Solved } from '../fit/solved.ts'
import type { Built } from '../mount/slots.ts'
import type { Feed } from '../records/station.ts'
import type { Rad, UtcMs } from '../units.ts'
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
  sky: StormSky
  single: CauseSky[]
  double: CauseSky[]
  tolerance: Rad
}
