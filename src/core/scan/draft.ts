/** The sighting that a scan gives, as the field book has it but for its id. Radians in, degrees out. */
import type { Method, SightingRecord } from '../records/fieldbook.ts'
import { utcFromMs } from '../records/instant.ts'
import type { CrossScanRecord, DriftScanRecord } from '../records/scans.ts'
import type { Feed } from '../records/station.ts'
import { degFromRad, type Rad, type UtcMs } from '../units.ts'

/** A sighting without its id. */
export type SightingDraft = Omit<SightingRecord, 'id'>

interface SpotRad {
  right: Rad
  up: Rad
}

export const spotDeg = (q: SpotRad) => ({ rightDeg: degFromRad(q.right), upDeg: degFromRad(q.up) })

/** From square radians to square degrees. */
export function covDeg(c: { rr: number; ru: number; uu: number }) {
  const k = degFromRad(1) ** 2
  return { rr: c.rr * k, ru: c.ru * k, uu: c.uu * k }
}

/** What a fit of a scan found. */
interface Found {
  /** True time; the record has the phone's, as the scan does. */
  utcMs: UtcMs
  lower: number
  upper: number
  arrivedFrom?: SightingRecord['arrivedFrom'] | undefined
  /** Of the target from the beam; left out where the readings are the peak's own. */
  offset?: SpotRad | undefined
  cov: { rr: number; ru: number; uu: number }
}

export const sightingDraft = (
  scan: CrossScanRecord | DriftScanRecord,
  method: Method,
  feed: Feed,
  found: Found,
): SightingDraft => ({
  utc: utcFromMs(found.utcMs + 1000 * (scan.clockOffsetS ?? 0)),
  ...(scan.clockOffsetS === undefined ? {} : { clockOffsetS: scan.clockOffsetS }),
  target: scan.target,
  lower: found.lower,
  upper: found.upper,
  ...(found.arrivedFrom === undefined ? {} : { arrivedFrom: found.arrivedFrom }),
  method,
  feed: feed.id,
  ...(found.offset === undefined ? {} : { offset: spotDeg(found.offset) }),
  scan: scan.id,
  cov: covDeg(found.cov),
})
