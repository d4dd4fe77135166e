/** Upper transits: when Sun or Moon stands in the meridian, topocentric hour angle 0, azimuth exactly 180° or 0°. */
import { wrapPi, wrapTurn } from '../angles.ts'
import { haDecFromEnu } from '../frames.ts'
import { DAY_MS, type Rad, type UtcMs } from '../units.ts'
import type { Vec3 } from '../vectors.ts'
import { type BodyName, bodyAirless, instantAt } from './almanac.ts'
import { siteFrame } from './earthfixed.ts'
import type { Site } from './place.ts'

export interface Transit {
  utcMs: UtcMs
  /** Airless; close to due south or due north, or the zenith. */
  direction: Vec3<'Enu'>
  /** Airless, of the centre. Not the day's highest: that differs by the drift in declination. */
  el: Rad
  /** Which way to face: true when the body crosses north of the zenith. */
  north: boolean
}

/** Hour angle gained in a millisecond: the Earth's turn, less what the body runs after it on average. */
const RATE: Record<BodyName, number> = {
  sun: (2 * Math.PI) / DAY_MS,
  moon: (2 * Math.PI) / 89_428_329, // mean lunar day, 24 h 50 min 28.3 s
}

/**
 * The first upper transit at or after an instant, as the first whole millisecond not before it (the
 * almanac drops fractions). It may lie below the horizon.
 * At a pole it is the passage of the given longitude's meridian.
 *
 * @param from UTC milliseconds
 */
export function nextTransit(body: BodyName, site: Pick<Site, 'lat' | 'lon' | 'heightM'>, from: UtcMs): Transit {
  const frame = siteFrame(site)
  const hourAngle = (t: UtcMs) => haDecFromEnu(bodyAirless(body, instantAt(t), frame).direction, site.lat).ha
  const rate = RATE[body]
  const first = Math.ceil(from)
  const start = hourAngle(first)
  // Just past counts as now if a millisecond earlier it had not yet happened.
  const isNow = start >= 0 && start < 2 * rate && hourAngle(first - 1) < 0
  let utcMs = isNow ? first : first + Math.round(wrapTurn(-start) / rate)
  // The rate is right to a tenth (the Moon's speed varies), so each step leaves at most a tenth: ten steps are plenty.
  for (let i = 0; i < 10; i++) {
    const step = Math.round(-wrapPi(hourAngle(utcMs)) / rate)
    if (Math.abs(step) <= 1) break
    utcMs += step
  }
  while (hourAngle(utcMs) < 0) utcMs++
  while (utcMs > first && hourAngle(utcMs - 1) >= 0) utcMs--
  const { direction } = bodyAirless(body, instantAt(utcMs), frame)
  return {
    utcMs,
    direction,
    el: Math.atan2(direction[2], Math.hypot(direction[0], direction[1])),
    north: direction[1] > 0,
  }
}
