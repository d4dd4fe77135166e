/**
 * What lies behind a target and is heard through it: the bright part of the Milky Way, and the Sun. Angles on the sky, radians.
 *
 * The bright part is the galactic plane from l = -40° to +40°, whose ridge stands far above the rest of the sky at every radio
 * frequency (Haslam et al. 1982, 408 MHz; the bounds are a reader's choice [M]). The Moon crosses it once a month, by the centre.
 * Galactic frame: north pole at α 192.85948°, δ +27.12825°, centre at α 266.40499°, δ -28.93617°, J2000 (IAU 1958 as carried to
 * J2000 by the Hipparcos catalogue, ESA SP-1200, vol. 1, 1.5.3).
 */
import { apply, transpose } from '../rotations.ts'
import { type Rad, radFromDeg, type UtcMs } from '../units.ts'
import { angleBetween, cross, dot, type Vec3 } from '../vectors.ts'
import { bodyEarthFixed, instantAt } from './almanac.ts'
import { type EarthFixed, earthFixedFromEquator, type SiteFrame, topocentric } from './earthfixed.ts'

const direction = (raDeg: number, decDeg: number): Vec3<'J2000'> => {
  const [ra, dec] = [radFromDeg(raDeg), radFromDeg(decDeg)]
  return [Math.cos(dec) * Math.cos(ra), Math.cos(dec) * Math.sin(ra), Math.sin(dec)]
}
const POLE = direction(192.85948, 27.12825)
const CENTRE = direction(266.40499, -28.93617)
/** Where l = 90° meets the plane. */
const QUARTER = cross(POLE, CENTRE)
const HALF_LENGTH = radFromDeg(40)

/** Within this of the bright plane or the Sun the target's sky is noisy enough to say so. */
export const NOISY_WITHIN: Rad = radFromDeg(10)

/** Galactic longitude in (-π, π] and latitude of a J2000 direction of any length. */
export function galactic(v: Vec3<'J2000'>): { l: Rad; b: Rad } {
  const [x, y, z] = [dot(v, CENTRE), dot(v, QUARTER), dot(v, POLE)]
  return { l: Math.atan2(y, x), b: Math.atan2(z, Math.hypot(x, y)) }
}

/** Angle to the nearest point of the bright part. */
export function fromBrightPlane(v: Vec3<'J2000'>): Rad {
  const { l, b } = galactic(v)
  if (Math.abs(l) <= HALF_LENGTH) return Math.abs(b)
  const beside = Math.abs(l) - HALF_LENGTH
  return Math.acos(Math.max(-1, Math.min(1, Math.cos(b) * Math.cos(beside))))
}

/** The J2000 direction of an airless one in a site's Enu at an instant. */
function j2000FromEnu(v: Vec3<'Enu'>, frame: SiteFrame, utcMs: UtcMs): Vec3<'J2000'> {
  const instant = instantAt(utcMs)
  const along = (k: keyof EarthFixed) => v[0] * frame.east[k] + v[1] * frame.north[k] + v[2] * frame.up[k]
  // The inverse of earthFixedFromEquator is the same turn the other way.
  const e = earthFixedFromEquator({ x: along('x'), y: along('y'), z: along('z') }, -instant.siderealTime)
  return apply(transpose(instant.dateFromJ2000), [e.x, e.y, e.z])
}

/** How far a target stands from the bright part of the plane and from the Sun. @param airless  its direction from the site */
export function backgroundOf(airless: Vec3<'Enu'>, frame: SiteFrame, utcMs: UtcMs): { galaxy: Rad; sun: Rad } {
  const sun = topocentric(bodyEarthFixed('sun', instantAt(utcMs)), frame).direction
  return { galaxy: fromBrightPlane(j2000FromEnu(airless, frame, utcMs)), sun: angleBetween(airless, sun) }
}
