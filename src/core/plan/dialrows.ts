/**
 * Rows of what to drive to: where a target stands at each time, the readings that put the beam on it, and whether the mount can. Of
 * two poses the one of the row before is taken, in the first row the one nearest mid-range. Degrees, and readings as the axes show them.
 */
import { midRange, nearestReach, reachesOf, type TrueAngles } from '../mount/aim.ts'
import type { Built } from '../mount/slots.ts'
import { type Feed, isHighEnough, type Station } from '../records/station.ts'
import { degFromRad, type Rad, type UtcMs } from '../units.ts'
import type { Vec3 } from '../vectors.ts'

/** Where a target stands, as the beam must point. */
export interface TargetStanding {
  direction: Vec3
  az: Rad
  el: Rad
}

export interface DialRow {
  utcMs: UtcMs
  azDeg: number
  elDeg: number
  /** Null: no pose shows it. */
  lower: number | null
  upper: number | null
  /** Within both limits, above mask and floor. */
  reachable: boolean
}

/** @param at  where the target stands; what else it says is kept in the row by `beside` */
export function dialRows<S extends TargetStanding, B extends object>(
  station: Station,
  feed: Feed,
  built: Built,
  at: (utcMs: UtcMs) => S,
  times: Iterable<UtcMs>,
  beside: (standing: S) => B,
): (DialRow & B)[] {
  const { model } = station
  let near: TrueAngles = midRange(model, built)
  return Array.from(times, utcMs => {
    const place = at(utcMs)
    const reach = nearestReach(reachesOf(model, built, 'beam', place.direction, near.T), near)
    if (reach !== null) near = reach
    return {
      utcMs,
      azDeg: degFromRad(place.az),
      elDeg: degFromRad(place.el),
      lower: reach?.lower ?? null,
      upper: reach?.upper ?? null,
      reachable: reach?.inside === true && isHighEnough(station, feed, place.az, place.el),
      ...beside(place),
    }
  })
}

/** `count` instants, a step apart. */
export const evenTimes = (fromMs: UtcMs, stepMs: number, count: number): UtcMs[] =>
  Array.from({ length: count }, (_, k) => fromMs + k * stepMs)
