/**
 * Geostationary satellites: fixed points above the equator, EarthFixed. Real ones keep within a box of about ±0.1° of
 * their longitude [M]; that is not in here.
 */
import type { Rad } from '../units.ts'
import type { EarthFixed } from './earthfixed.ts'

/** Orbit radius of one sidereal day, km. */
const GEOSTATIONARY_RADIUS_KM = 42164.17

/** @param lon longitude of the satellite, east + */
export const geostationaryEarthFixed = (lon: Rad): EarthFixed => ({
  x: GEOSTATIONARY_RADIUS_KM * Math.cos(lon),
  y: GEOSTATIONARY_RADIUS_KM * Math.sin(lon),
  z: 0,
})
