/**
 * Geostationary satellites: fixed points above the equator, EarthFixed. Real ones keep within a box of about ±0.1° of
 * their longitude [M]: satellitebox.ts.
 */
import type { Rad } from '../units.ts'
import type { EarthFixed } from './earthfixed.ts'

/** Orbit radius of one sidereal day, km. */
const GEOSTATIONARY_RADIUS_KM = 42164.17

/** @param lon longitude of the satellite, east + @param lat how far it stands off the equator, north + */
export const geostationaryEarthFixed = (lon: Rad, lat: Rad = 0): EarthFixed => ({
  x: GEOSTATIONARY_RADIUS_KM * Math.cos(lat) * Math.cos(lon),
  y: GEOSTATIONARY_RADIUS_KM * Math.cos(lat) * Math.sin(lon),
  z: GEOSTATIONARY_RADIUS_KM * Math.sin(lat),
})
