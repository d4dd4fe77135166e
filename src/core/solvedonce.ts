/**
 * Stations solved, each once: the screens ask several things of one station, and of the same mount as it was before each of its visits.
 * A cache of what is computed, never of what is measured; the same text always gives the same fit.
 */
import { solveStation } from './fit/solution.ts'
import type { Solved } from './fit/solved.ts'
import type { StationRecord } from './records/fieldbook.ts'
import { stationFromRecord } from './records/stationintake.ts'

/**
 * What the fit does not look at: a scan under way grows by the second, and must not have the station solved again each time. Nor
 * does it know how the axes are driven, or by which screws the mount is set.
 */
const UNSOLVED = {
  ...{ scans: undefined, noise: undefined, halfSightings: undefined, clockChecks: undefined },
  ...{ stow: undefined, adjusters: undefined, alignment: undefined, checks: undefined },
}
const undriven = ({ mount }: StationRecord) => ({
  ...mount,
  lower: { ...mount.lower, drive: undefined },
  upper: { ...mount.upper, drive: undefined },
})

/** The station, the mount before a storm, and before each of the visits that are compared (plan/hasmoved.ts); then some. */
const MOST = 16
/** Characters of all of them together: a long book is kept fewer times, the last one always. */
const MOST_TEXT = 4_000_000

/** By their texts, the longest unused first. */
const known = new Map<string, Solved>()

export function solvedOnce(record: StationRecord): Solved {
  const text = JSON.stringify({ ...record, ...UNSOLVED, mount: undriven(record) })
  const solved = known.get(text) ?? solveStation(stationFromRecord(record))
  known.delete(text)
  known.set(text, solved)
  let length = 0
  for (const key of known.keys()) length += key.length
  for (const key of known.keys()) {
    if (key === text || (known.size <= MOST && length <= MOST_TEXT)) break
    known.delete(key)
    length -= key.length
  }
  return solved
}
