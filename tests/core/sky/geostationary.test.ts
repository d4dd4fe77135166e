import { describe, expect, it } from 'vitest'
import { haDecFromEnu } from '../../../src/core/frames.ts'
import { siteFrame, topocentric } from '../../../src/core/sky/earthfixed.ts'
import { geostationaryEarthFixed } from '../../../src/core/sky/geostationary.ts'
import { azElFromEnu } from '../../../src/core/vectors.ts'
import { DEG } from '../../helpers/degrees.ts'
import { published } from './reference.ts'

const look = (latDeg: number, lonDeg: number, satelliteDeg: number) => {
  const seen = topocentric(
    geostationaryEarthFixed(satelliteDeg * DEG),
    siteFrame({ lat: latDeg * DEG, lon: lonDeg * DEG, heightM: 0 }),
  )
  const { az, el } = azElFromEnu(seen.direction)
  return { az: az / DEG, el: el / DEG, km: seen.distanceKm, dec: haDecFromEnu(seen.direction, latDeg * DEG).dec / DEG }
}

// The books use a sphere. On the ellipsoid, with the same geodetic latitude, the site lies up to 21.4 km elsewhere: up to
// 0.034° in direction at 36 000 km, and up to 21.4 km in range.
const SPHERE_DEG = 0.034
const SPHERE_KM = 21.4

describe('geostationary satellites', () => {
  it('stand where Roddy puts them: 35° N 100° W, satellite 90° W: azimuth 162.9°, elevation 48°, 37 215 km', () => {
    // Satellite Communications, 4th ed., examples 3.1 and 3.2; unrounded 162.9117, 47.9691, 37 215.4 (6371 km sphere)
    const { expected } = published('Geostationary look angle (Roddy)')
    const got = look(35, -100, -90)
    expect(Math.abs(got.az - expected.azimuth_deg)).toBeLessThan(0.05 + SPHERE_DEG)
    expect(Math.abs(got.az - 162.9117)).toBeLessThan(SPHERE_DEG / Math.cos(48 * DEG))
    expect(Math.abs(got.el - 47.9691)).toBeLessThan(SPHERE_DEG)
    expect(Math.abs(got.km - expected.range_km)).toBeLessThan(SPHERE_KM)
  })

  it('stand due south at 33.786°, 38 287 km, from 49° N under their meridian', () => {
    // The same book, example 3.3
    const got = look(49, 12, 12)
    expect(got.az).toBeCloseTo(180, 9)
    expect(Math.abs(got.el - 33.7856)).toBeLessThan(SPHERE_DEG)
    expect(Math.abs(got.km - 38287.4)).toBeLessThan(SPHERE_KM)
  })

  it('stand at 109.333°, 5.847° from 52° N 0° for a satellite at 66° E', () => {
    // Pratt, Bostian, Allnutt, Satellite Communications, 2nd ed., example 2.2
    const { expected } = published('Geostationary look angle, low elevation')
    const got = look(52, 0, 66)
    expect(Math.abs(got.az - expected.azimuth_deg)).toBeLessThan(SPHERE_DEG)
    expect(Math.abs(got.el - expected.elevation_deg)).toBeLessThan(SPHERE_DEG)
  })

  it('have the declination of the polar-mount tables: atan(sin φ / (6.6107 - cos φ)) below the equator', () => {
    for (const [lat, offset] of [
      [20, 3.451],
      [30, 4.974],
      [40, 6.276],
      [50, 7.314],
      [60, 8.066],
    ] as const)
      expect(Math.abs(look(lat, 0, 0).dec + offset)).toBeLessThan(SPHERE_DEG)
  })

  it('mirror north to south, east to west, and cross the date line', () => {
    const a = look(-35, 175, -175)
    const b = look(35, 0, 10)
    expect(a.el).toBeCloseTo(b.el, 9)
    expect(a.az).toBeCloseTo(180 - b.az, 9)
    expect(look(35, 0, -10).az).toBeCloseTo(360 - b.az, 9)
  })

  it('stand in the zenith, 35 786 km up, from below, and under the horizon from the pole', () => {
    const under = look(0, -75, -75)
    expect(under.el).toBeCloseTo(90, 9)
    expect(under.km).toBeCloseTo(42164.17 - 6378.137, 6)
    expect(look(90, 0, 0).el).toBeLessThan(-8)
  })
})
