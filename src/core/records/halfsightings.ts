/**
 * Half sightings: a time marked on the target whose readings are still missing, or readings noted by a second person whose
 * time is only about right. They wait in the station's list `halfSightings`, are exported, and are not solved.
 */
import type { HalfSightingRecord, StationRecord, TargetRecord } from './fieldbook.ts'
import { instantMs } from './instant.ts'

export type HalfSighting = HalfSightingRecord & Required<Pick<HalfSightingRecord, 'time'>>

/** A record as a half sighting; null when it has no id or no time. */
export function halfOf(x: unknown): HalfSighting | null {
  const half = x as Partial<HalfSightingRecord> | null
  if (typeof half?.id !== 'string' || typeof half.utc !== 'string' || !Number.isFinite(instantMs(half.utc))) return null
  return { ...(half as HalfSightingRecord), time: half.time ?? 'stamped' }
}

/**
 * The halves that wait at a station, newest first. One that a sighting was made from (`halfId`) does not wait any more,
 * also when an older book brought it back.
 */
export function waitingHalves(station: StationRecord): HalfSighting[] {
  const done = new Set(station.sightings.map(s => s.halfId))
  return (station.halfSightings ?? [])
    .map(halfOf)
    .filter(h => h !== null)
    .filter(h => !done.has(h.id))
    .sort((a, b) => instantMs(b.utc) - instantMs(a.utc))
}

/** A second person's readings are noted within this of the marked time; common practice, no source. ms */
export const JOIN_WITHIN_MS = 30_000

const hasReadings = (h: HalfSighting): boolean => h.lower !== undefined || h.upper !== undefined

/** A stamp and the readings that seem to belong to it. */
export interface HalfPair {
  stamped: HalfSighting
  readings: HalfSighting
  /** Readings later than the stamp, ms. */
  laterMs: number
}

const sameTarget = (a: TargetRecord | undefined, b: TargetRecord | undefined): boolean =>
  a === undefined || b === undefined || JSON.stringify(a) === JSON.stringify(b)

/**
 * Which halves seem to be two halves of one sighting: a stamp without readings and readings without a stamp, of the same
 * target, at most 30 s apart. The closest first; no half is in two pairs. The person decides.
 */
export function joinHalves(halves: readonly HalfSighting[]): HalfPair[] {
  const stamps = halves.filter(h => h.time === 'stamped' && !hasReadings(h))
  const others = halves.filter(h => h.time === 'about' && hasReadings(h))
  const pairs = stamps
    .flatMap(stamped =>
      others
        .filter(readings => sameTarget(stamped.target, readings.target))
        .map(readings => ({ stamped, readings, laterMs: instantMs(readings.utc) - instantMs(stamped.utc) })),
    )
    .filter(p => Math.abs(p.laterMs) <= JOIN_WITHIN_MS)
    .sort((a, b) => Math.abs(a.laterMs) - Math.abs(b.laterMs))
  const taken = new Set<string>()
  return pairs.filter(p => {
    if (taken.has(p.stamped.id) || taken.has(p.readings.id)) return false
    taken.add(p.stamped.id)
    taken.add(p.readings.id)
    return true
  })
}

/** The stamp with the readings: id and time of the stamp, what was measured of the readings. */
export function joinedHalf({ stamped, readings }: HalfPair): HalfSighting {
  const note = [stamped.note, readings.note].filter(Boolean).join('; ')
  const target = stamped.target ?? readings.target
  const arrivedFrom = readings.arrivedFrom ?? stamped.arrivedFrom
  const method = readings.method ?? stamped.method
  const feed = readings.feed ?? stamped.feed
  return {
    ...stamped,
    ...(readings.lower !== undefined && { lower: readings.lower }),
    ...(readings.upper !== undefined && { upper: readings.upper }),
    ...(target && { target }),
    ...(arrivedFrom && { arrivedFrom }),
    ...(method && { method }),
    ...(feed && { feed }),
    ...(note && { note }),
  }
}
