/**
 * Hour angle and declination as names for a direction in Enu, like azimuth and elevation (vectors.ts).
 * Hour angle counts from the upper meridian, west positive; declination from the equator, north positive; p is the
 * latitude. P = (0, cos p, sin p) points to the celestial north pole, Q = (0, -sin p, cos p) to where the upper meridian
 * meets the equator; west is (-1, 0, 0). Nothing here divides, so the Earth's poles need no special case.
 */
import type { Rad } from './units.ts'
import type { Vec3 } from './vectors.ts'

/** P of the latitude: the direction of the celestial north pole; below the horizon in the south. */
export const northPole = (lat: Rad): Vec3<'Enu'> => [0, Math.cos(lat), Math.sin(lat)]

/** Q of the latitude: hour angle 0, declination 0. */
export const meridianEquator = (lat: Rad): Vec3<'Enu'> => [0, -Math.sin(lat), Math.cos(lat)]

/** Unit vector of an hour angle (west +) and declination seen from the latitude. */
export const enuFromHaDec = (ha: Rad, dec: Rad, lat: Rad): Vec3<'Enu'> => {
  const q = Math.cos(dec) * Math.cos(ha)
  const p = Math.sin(dec)
  const c = Math.cos(lat)
  const s = Math.sin(lat)
  return [-Math.cos(dec) * Math.sin(ha), p * c - q * s, p * s + q * c]
}

/** Hour angle in (-π, π], west +, and declination of a direction of any length. At a celestial pole the hour angle is 0. */
export const haDecFromEnu = (v: Vec3<'Enu'>, lat: Rad): { ha: Rad; dec: Rad } => {
  const c = Math.cos(lat)
  const s = Math.sin(lat)
  const p = v[1] * c + v[2] * s
  const q = v[2] * c - v[1] * s
  // 0 - x, not -x: due south is hour angle +0, and due north below the pole +π rather than -π.
  const w = 0 - v[0]
  return { ha: Math.atan2(w, q), dec: Math.atan2(p, Math.hypot(w, q)) }
}
