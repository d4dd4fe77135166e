/**
 * What to dial for any target: rows of both readings over the coming minutes, and what happens to it next, with the
 * cause when it leaves reach. Like dial.ts, which knows Sun and Moon only; the sky is asked here, the screen runs between.
 */
import { aim, midRange } from '../mount/aim.ts'
import type { Built } from '../mount/slots.ts'
import type { Axis } from '../records/fieldbook.ts'
import { type Feed, isHighEnough, type Station } from '../records/station.ts'
import type { Target } from '../sky/place.ts'
import { apparentPlace } from '../sky/targets.ts'
import type { UtcMs } from '../units.ts'
import { type DialBody, nextEvent } from './dial.ts'
import { type DialRow, dialRows, evenTimes } from './dialrows.ts'

/** The distance is null for a source and a landmark. */
export type TargetDialRow = DialRow & { distanceKm: number | null }

/** Why it cannot be reached: too low, an axis at its end, or no pose at all (the mount's keyhole). */
export type OutOfReach = { kind: 'low' } | { kind: 'stop'; axis: Axis; end: 'min' | 'max' } | { kind: 'no-pose' }

export interface TargetDial {
  rows: TargetDialRow[]
  /** The next that happens within 25 hours; null: nothing does. */
  next: DialBody['event']
  /** Why it is out of reach now, or will be at `next`; null: it is within reach and stays so, or comes within it. */
  why: OutOfReach | null
}

/**
 * @param target of the records, in radians
 * @param stepMs and count of the rows from `now` on
 * @throws RangeError for a source that is not in the table
 */
export function dialTargetOf(
  station: Station,
  feed: Feed,
  built: Built,
  target: Target,
  now: UtcMs,
  stepMs: number,
  count: number,
): TargetDial {
  const { model } = station
  const mid = midRange(model, built)
  const at = (utcMs: UtcMs) => apparentPlace(target, utcMs, station.site, 'radio')
  const rows = dialRows(station, feed, built, at, evenTimes(now, stepMs, count), ({ distanceKm }) => ({ distanceKm }))
  const outAt = (utcMs: UtcMs): OutOfReach | null => {
    const place = at(utcMs)
    if (!isHighEnough(station, feed, place.az, place.el)) return { kind: 'low' }
    const reach = aim(model, built, 'beam', place.direction, mid)
    if (reach === null) return { kind: 'no-pose' }
    if (reach.inside) return null
    for (const axis of ['lower', 'upper'] as const) {
      if (reach[axis] < model[axis].minReading) return { kind: 'stop', axis, end: 'min' }
      if (reach[axis] > model[axis].maxReading) return { kind: 'stop', axis, end: 'max' }
    }
    return null
  }
  const next = nextEvent(utcMs => (at(utcMs).el < 0 ? 'down' : outAt(utcMs) === null ? 'reached' : 'up'), now)
  const outNow = outAt(now)
  const why = outNow ?? (next?.what === 'leaves-reach' ? outAt(next.utcMs) : null)
  return { rows, next, why }
}
