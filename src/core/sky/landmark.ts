/**
 * A landmark or beacon by its coordinates: azimuth and distance along the WGS 84 ellipsoid (geodesic, Karney 2013, J. Geodesy 87, 43),
 * elevation by the heights of both ends over an Earth whose radius is enlarged for the air's bending. The only door to the
 * library (geographiclib-geodesic). Radians, metres.
 *
 * Enlarged radius k·R: radio k = 4/3, the standard atmosphere's (ITU-R P.310, from memory); light k = 7/6 (surveyors' coefficient of
 * refraction 0.14, from memory). Real air near the ground differs: over 30 km by some hundredths of a degree, at times by more.
 */
import { Geodesic } from 'geographiclib-geodesic'
import { wrapTurn } from '../angles.ts'
import { degFromRad, type Metres, type Rad, radFromDeg } from '../units.ts'

interface Spot {
  lat: Rad
  lon: Rad
  /** Above sea level; both ends over the same zero. */
  heightM: Metres
}

export interface Sightline {
  /** 0 to 2π, from true north. */
  az: Rad
  distanceM: Metres
  /** As seen by radio, by light, and without air. */
  radioEl: Rad
  opticalEl: Rad
  airlessEl: Rad
}

const RADIO = 4 / 3
const LIGHT = 7 / 6
/** Mean radius of WGS 84; the radius along the line differs by half a percent, of a bulge that is small itself. */
const EARTH_M = 6_371_009
/** Nearer than this the azimuth is noise of the coordinates; further than this nothing stands above the horizon. */
const NEAREST_M = 1
const FURTHEST_M = 1_000_000

/** Elevation of a point at a distance along a round Earth. @param k  by which its radius is enlarged; Infinity: flat */
export function elevationOver(distanceM: Metres, fromM: Metres, toM: Metres, k: number): Rad {
  const radius = k * EARTH_M
  const angle = distanceM / radius
  return Math.atan2(Math.cos(angle) - (radius + fromM) / (radius + toM), Math.sin(angle))
}

/** The shortest line from one place to another along the ellipsoid: azimuth where it starts, 0 to 2π, and length. */
export function geodesic(from: Omit<Spot, 'heightM'>, to: Omit<Spot, 'heightM'>): { az: Rad; distanceM: Metres } {
  const deg = degFromRad
  const line = Geodesic.WGS84.Inverse(deg(from.lat), deg(from.lon), deg(to.lat), deg(to.lon))
  return { az: wrapTurn(radFromDeg(line.azi1!)), distanceM: line.s12! }
}

/** From one place to another; `too-near` and `too-far` where no direction can be said. */
export function sightline(
  from: Spot,
  to: Spot,
): ({ kind: 'sightline' } & Sightline) | { kind: 'too-near' | 'too-far' } {
  const { az, distanceM } = geodesic(from, to)
  if (distanceM < NEAREST_M) return { kind: 'too-near' }
  if (distanceM > FURTHEST_M) return { kind: 'too-far' }
  const el = (k: number): Rad => elevationOver(distanceM, from.heightM, to.heightM, k)
  return { kind: 'sightline', az, distanceM, radioEl: el(RADIO), opticalEl: el(LIGHT), airlessEl: el(1) }
}
