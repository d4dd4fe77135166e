/** What an error costs on echoes, from a solution: the loss goes with the square of the error. */
import { feedFromRecord, feedOf } from '../core/records/feeds.ts'
import type { StationRecord } from '../core/records/fieldbook.ts'
import type { Solution } from '../core/records/solution.ts'
import { degFromRad } from '../core/units.ts'

/** Unless the person says otherwise. */
export const allowedDb = (station: StationRecord): number => station.tolerance?.echoLossDb ?? 0.5

/** Loss on echoes, dB, of an error in degrees. At the tolerance it is what the person allows. */
export const lossAt = (station: StationRecord, solution: Solution, errorDeg: number): number =>
  allowedDb(station) * (errorDeg / solution.sky.toleranceDeg) ** 2

/** Full width of a feed's beam at half power. */
export const beamwidthDeg = (station: StationRecord, feed: string): number =>
  degFromRad(feedFromRecord(feedOf(station, feed), station.dish.diameterM).hpbw)

/** At how many places a slipped counter was looked for: the gaps between the sightings, on two axes. */
export const placesLookedAt = (station: StationRecord): number => 2 * Math.max(1, station.sightings.length - 1)
