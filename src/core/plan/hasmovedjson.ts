/** Has it moved, as JSON: UTC text, and the check in degrees, millimetres and readings. */
import type { Solved } from '../fit/solved.ts'
import type { StationRecord } from '../records/fieldbook.ts'
import { utcFromMs } from '../records/instant.ts'
import type { Feed } from '../records/station.ts'
import type { UtcMs } from '../units.ts'
import { type HasMovedVerdict, hasMovedOf } from './hasmoved.ts'
import { checkOut, type StormCheckJson } from './stormjson.ts'

export interface HasMovedJson {
  verdict: HasMovedVerdict
  /** Moved: after `beforeUtc`, by `firstUtc`. Holds: no move since `firstUtc`. */
  since: { beforeUtc: string; firstUtc: string } | null
  /** Visits in the present setup, 0 before the first: measurements less than 8 h apart are one. */
  visits: number
  /** From when on the check below compares: the first record of a visit. Null, as the check: nothing to compare. */
  fromUtc: string | null
  check: StormCheckJson | null
}

export function hasMovedJson(solved: Solved, record: StationRecord, feed: Feed, now: UtcMs): HasMovedJson {
  const { verdict, since, visits, split } = hasMovedOf(solved, record, feed, now)
  return {
    verdict,
    since: since && { beforeUtc: utcFromMs(since.beforeMs), firstUtc: utcFromMs(since.firstMs) },
    visits,
    fromUtc: split && utcFromMs(split.firstMs),
    check: split && checkOut(split.case, split.check, feed, now),
  }
}
