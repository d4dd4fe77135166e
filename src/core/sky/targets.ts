/** Where any target stands in Enu: airless, or through the site's air as the method sees it. */
import { wrapTurn } from '../angles.ts'
import type { UtcMs } from '../units.ts'
import { azElFromEnu, enuFromAzEl, type Vec3 } from '../vectors.ts'
import { bodyAirless, type Instant, instantAt, sourceAirless } from './almanac.ts'
import { type SiteFrame, siteFrame, topocentric } from './earthfixed.ts'
import { geostationaryEarthFixed } from './geostationary.ts'
import type { Air, Band, Place, Site, Target } from './place.ts'
import { liftedDirection, refractivity } from './refraction.ts'
import { findSource, SOURCE_NAMES } from './sources.ts'

/**
 * Where the target stands without air. A landmark's azimuth and elevation are taken as measured.
 * @throws RangeError for a source that is not in the table; records are checked before they come here
 */
export function airlessPlace(
  target: Target,
  instant: Instant,
  frame: SiteFrame,
): { direction: Vec3<'Enu'>; distanceKm: number | null } {
  switch (target.type) {
    case 'sun':
    case 'moon':
      return bodyAirless(target.type, instant, frame)
    case 'geostationary':
      return topocentric(geostationaryEarthFixed(target.lon), frame)
    case 'landmark':
      return { direction: enuFromAzEl(target.az, target.el), distanceKm: null }
    case 'source': {
      const source = findSource(target.name)
      if (!source)
        throw new RangeError(`airlessPlace: no source "${target.name}"; known are ${SOURCE_NAMES.join(', ')}`)
      return { direction: sourceAirless(source, instant, frame), distanceKm: null }
    }
  }
}

/**
 * Lifts airless directions of a target as the air at a site does in a band, its refractivity worked out once. A landmark is not
 * lifted, whatever the band, because its elevation was measured through the same air.
 */
export function lifterOf({ type }: Pick<Target, 'type'>, air: Air, band: Band): (airless: Vec3<'Enu'>) => Vec3<'Enu'> {
  if (type === 'landmark') return airless => airless
  const n = refractivity(air, band)
  return airless => liftedDirection(airless, n)
}

/**
 * Where the target appears to the method: lifted by the air in the band. Azimuth in [0, 2π).
 * @throws RangeError unknown source; utcMs that no date has
 */
export function apparentPlace(target: Target, utcMs: UtcMs, site: Site, band: Band): Place {
  const airless = airlessPlace(target, instantAt(utcMs), siteFrame(site))
  const direction = lifterOf(target, site.air, band)(airless.direction)
  const { az, el } = azElFromEnu(direction)
  // A tiny bit west of north rounds to a whole turn; here it is 0.
  return { direction, az: wrapTurn(az), el, distanceKm: airless.distanceKm }
}
