/**
 * Half sightings: a time stamped on the target whose readings are still missing, or readings noted by a second person whose
 * time is only about right. They wait in the station's list `halfSightings`, are exported, and are not solved.
 * The list's shape is not checked by the intake, so what is read from it is looked at here.
 */

import type { Method, Side, StationRecord, TargetRecord } from './fieldbook.ts'
import { instantMs } from './instant.ts'

export interface HalfSighting {
  id: string
  /** By the phone's clock, as it was. */
  utc: string
  /** 'stamped': pressed on the target. 'about': when the readings were written down. */
  time: 'stamped' | 'about'
  target?: TargetRecord
  /** The phone's monotonic clock at the stamp, ms since the page was opened. */
  monotonicMs?: number
  /** By how much the phone's clock was seen to be set before the stamp, s, + forward. */
  clockStepS?: number
  /** A guess, to be confirmed. */
  method?: Method
  feed?: string
  /** What the program said to dial at that moment: a suggestion, not a measurement. */
  dialled?: { lower?: number; upper?: number }
  /** Measured. */
  lower?: number
  upper?: number
  arrivedFrom?: { lower?: Side; upper?: Side }
  note?: string
}

type Loose = Record<string, unknown>
const isLoose = (x: unknown): x is Loose => typeof x === 'object' && x !== null && !Array.isArray(x)
const isNumber = (x: unknown): x is number => typeof x === 'number' && Number.isFinite(x)
const METHODS: readonly unknown[] = ['signal-peak', 'shadow', 'optical', 'cross-scan', 'drift-scan']

function targetOf(x: unknown): TargetRecord | undefined {
  if (!isLoose(x)) return undefined
  if (x.type === 'moon' || x.type === 'sun') return { type: x.type }
  if (x.type === 'source' && typeof x.name === 'string') return { type: 'source', name: x.name }
  if (x.type === 'geostationary' && isNumber(x.lonDeg)) return { type: 'geostationary', lonDeg: x.lonDeg }
  if (x.type === 'landmark' && isNumber(x.azDeg) && isNumber(x.elDeg))
    return { type: 'landmark', azDeg: x.azDeg, elDeg: x.elDeg }
  return undefined
}

function pairOf(x: unknown): { lower?: number; upper?: number } | undefined {
  if (!isLoose(x)) return undefined
  return { ...(isNumber(x.lower) && { lower: x.lower }), ...(isNumber(x.upper) && { upper: x.upper }) }
}

function sidesOf(x: unknown): HalfSighting['arrivedFrom'] {
  if (!isLoose(x)) return undefined
  const side = (s: unknown): s is Side => s === '+' || s === '-'
  return { ...(side(x.lower) && { lower: x.lower }), ...(side(x.upper) && { upper: x.upper }) }
}

/** What of an entry is a half sighting; null when it has no id or no time. */
export function halfOf(x: unknown): HalfSighting | null {
  if (!isLoose(x) || typeof x.id !== 'string' || typeof x.utc !== 'string') return null
  if (!Number.isFinite(instantMs(x.utc))) return null
  const target = targetOf(x.target)
  const dialled = pairOf(x.dialled)
  const arrivedFrom = sidesOf(x.arrivedFrom)
  return {
    id: x.id,
    utc: x.utc,
    time: x.time === 'about' ? 'about' : 'stamped',
    ...(target && { target }),
    ...(isNumber(x.monotonicMs) && { monotonicMs: x.monotonicMs }),
    ...(isNumber(x.clockStepS) && { clockStepS: x.clockStepS }),
    ...(METHODS.includes(x.method) && { method: x.method as Method }),
    ...(typeof x.feed === 'string' && { feed: x.feed }),
    ...(dialled && { dialled }),
    ...pairOf(x),
    ...(arrivedFrom && { arrivedFrom }),
    ...(typeof x.note === 'string' && { note: x.note }),
  }
}

/**
 * The halves that wait at a station, newest first. One that a sighting was made from (`halfId`) does not wait any more,
 * also when an older book brought it back.
 */
export function waitingHalves(station: StationRecord): HalfSighting[] {
  const list = (station as { halfSightings?: unknown }).halfSightings
  if (!Array.isArray(list)) return []
  const done = new Set(station.sightings.map(s => (s as { halfId?: unknown }).halfId))
  return list
    .map(halfOf)
    .filter(h => h !== null)
    .filter(h => !done.has(h.id))
    .sort((a, b) => instantMs(b.utc) - instantMs(a.utc))
}

/** A second person's clock and hand are within this of the stamp; common practice, no source. ms */
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
