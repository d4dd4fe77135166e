/**
 * What is looked at, from where, through which air: the shapes that the sky files share.
 * A direction is a unit vector in Enu; azimuth and elevation are only names for it at the edges.
 */
import type { Deg, Metres, Rad } from '../units.ts'
import type { Vec3 } from '../vectors.ts'
import type { EarthFixed } from './earthfixed.ts'

export interface Site {
  /** Geodetic, WGS 84, -π/2 to π/2. At a pole azimuth is counted along the given longitude's meridian. */
  lat: Rad
  /** East positive. */
  lon: Rad
  heightM: Metres
  air: Air
}

/** What bends the ray. */
export interface Air {
  pressureHPa: number
  temperatureC: number
  /** 0 to 1 */
  humidity: number
}

export type Target =
  | { type: 'moon' }
  | { type: 'sun' }
  | { type: 'source'; name: string }
  | { type: 'geostationary'; lon: Rad }
  | { type: 'landmark'; az: Rad; el: Rad }

/** The refraction that applies to a method. */
export type Band = 'radio' | 'optical'

/** Where a target stands. */
export interface Place {
  direction: Vec3<'Enu'>
  az: Rad
  el: Rad
  /** Observer to body centre; null for a source and a landmark. */
  distanceKm: number | null
}

/** One point of the Moon's path. */
export interface MoonPoint {
  utcMs: number
  /** Apparent (radio refraction). */
  direction: Vec3<'Enu'>
  el: Rad
  az: Rad
  /** Topocentric, airless. */
  declination: Rad
  distanceKm: number
  /** Geocentric, km: what another site needs to see the Moon at the same instant (earthfixed.ts, topocentric). */
  earthFixed: EarthFixed
}

export type { Deg, Rad }
