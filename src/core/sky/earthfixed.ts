/**
 * The rotating Earth's own frame, and how a place on it looks out. `EarthFixed`: kilometres from the Earth's centre,
 * x to the equator at Greenwich, y to the equator at 90° east, z to the north pole; right-handed. Polar motion (0.3″)
 * and UT1 - UTC (under 15″ in hour angle) are left out. Ellipsoid: WGS 84.
 * One body's EarthFixed vector serves every site at that instant: a site costs nine multiplications.
 */
import type { Metres, Rad } from '../units.ts'
import type { Vec3 } from '../vectors.ts'

export interface EarthFixed {
  readonly x: number
  readonly y: number
  readonly z: number
}

/** WGS 84 (NIMA TR8350.2): equatorial radius in km, and flattening. */
const RADIUS_KM = 6378.137
const FLATTENING = 1 / 298.257223563

/** A site's centre and axes, worked out once and used for every instant. */
export interface SiteFrame {
  readonly position: EarthFixed
  readonly east: EarthFixed
  readonly north: EarthFixed
  readonly up: EarthFixed
}

/**
 * @param site geodetic latitude -π/2 to π/2, longitude east +, height above the ellipsoid. At a pole north is the limit
 *             along the given longitude's meridian, so azimuths stay defined there.
 */
export function siteFrame(site: { lat: Rad; lon: Rad; heightM: Metres }): SiteFrame {
  const { lat, lon } = site
  if (!(Math.abs(lat) <= Math.PI / 2 + 1e-12) || !Number.isFinite(lon) || !Number.isFinite(site.heightM))
    throw new RangeError(
      `siteFrame: lat must be -π/2 to π/2, lon and height finite, got ${lat}, ${lon}, ${site.heightM}`,
    )
  const sinLat = Math.sin(lat)
  const cosLat = Math.cos(lat)
  const sinLon = Math.sin(lon)
  const cosLon = Math.cos(lon)
  const e2 = FLATTENING * (2 - FLATTENING)
  const n = RADIUS_KM / Math.sqrt(1 - e2 * sinLat * sinLat)
  const h = site.heightM / 1000
  return {
    position: { x: (n + h) * cosLat * cosLon, y: (n + h) * cosLat * sinLon, z: (n * (1 - e2) + h) * sinLat },
    east: { x: -sinLon, y: cosLon, z: 0 },
    north: { x: -sinLat * cosLon, y: -sinLat * sinLon, z: cosLat },
    up: { x: cosLat * cosLon, y: cosLat * sinLon, z: sinLat },
  }
}

const dot = (a: EarthFixed, b: EarthFixed): number => a.x * b.x + a.y * b.y + a.z * b.z

/** The same direction in the site's Enu, length kept: for what is too far away for parallax. */
export const enuFromEarthFixed = (v: EarthFixed, frame: SiteFrame): Vec3<'Enu'> => [
  dot(frame.east, v),
  dot(frame.north, v),
  dot(frame.up, v),
]

/** Unit vector and distance from the site to a point given in kilometres from the Earth's centre. Parallax included. */
export function topocentric(point: EarthFixed, frame: SiteFrame): { direction: Vec3<'Enu'>; distanceKm: number } {
  const p = frame.position
  const d = { x: point.x - p.x, y: point.y - p.y, z: point.z - p.z }
  const r = Math.sqrt(dot(d, d))
  return { direction: [dot(frame.east, d) / r, dot(frame.north, d) / r, dot(frame.up, d) / r], distanceKm: r }
}

/** A vector in the true equator and equinox of date, turned into EarthFixed. @param siderealTime Greenwich, apparent */
export function earthFixedFromEquator(v: EarthFixed, siderealTime: Rad): EarthFixed {
  const c = Math.cos(siderealTime)
  const s = Math.sin(siderealTime)
  return { x: c * v.x + s * v.y, y: c * v.y - s * v.x, z: v.z }
}
