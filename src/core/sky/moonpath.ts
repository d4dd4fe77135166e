/**
 * The Moon's whole path over a month: the directions by which a mount is judged. Every 30 minutes for 27.3 days, the
 * points from + k · 30 min with k · 30 min < 27.3 d, k from 0: 1311 of them, above and below the horizon; the
 * caller leaves out what it does not want.
 */
import { wrapTurn } from '../angles.ts'
import { haDecFromEnu } from '../frames.ts'
import { DAY_MS, MINUTE_MS, type UtcMs } from '../units.ts'
import { azElFromEnu, type Vec3 } from '../vectors.ts'
import { siteFrame, topocentric } from './earthfixed.ts'
import type { Band, MoonPoint, Site } from './place.ts'
import { liftedDirection, refractivity } from './refraction.ts'
import { bodyTrack } from './track.ts'

/** Between two points of the path. */
export const MOON_PATH_STEP_MS = 30 * MINUTE_MS
const SPAN_MS = 27.3 * DAY_MS
export const MOON_PATH_POINTS = Math.ceil(SPAN_MS / MOON_PATH_STEP_MS)

/** @param band what the apparent direction is lifted for */
export function moonPath(site: Site, fromUtcMs: UtcMs, band: Band = 'radio'): MoonPoint[] {
  const frame = siteFrame(site)
  const n = refractivity(site.air, band)
  const moon = bodyTrack('moon', fromUtcMs, fromUtcMs + (MOON_PATH_POINTS - 1) * MOON_PATH_STEP_MS)
  return Array.from({ length: MOON_PATH_POINTS }, (_, k) => {
    const utcMs = fromUtcMs + k * MOON_PATH_STEP_MS
    const earthFixed = moon(utcMs)
    const airless = topocentric(earthFixed, frame)
    const direction = liftedDirection(airless.direction, n)
    const { az, el } = azElFromEnu(direction)
    return {
      utcMs,
      direction,
      az: wrapTurn(az),
      el,
      declination: haDecFromEnu(airless.direction, site.lat).dec,
      distanceKm: airless.distanceKm,
      earthFixed,
    }
  })
}

/** The same moments seen from another site, through its air: no almanac, no interpolation. One direction a point. */
export function moonPathDirectionsAt(path: readonly MoonPoint[], site: Site, band: Band = 'radio'): Vec3<'Enu'>[] {
  const frame = siteFrame(site)
  const n = refractivity(site.air, band)
  return path.map(p => liftedDirection(topocentric(p.earthFixed, frame).direction, n))
}
