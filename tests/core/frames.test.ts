import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { enuFromHaDec, haDecFromEnu, meridianEquator, northPole } from '../../src/core/frames.ts'
import { apply, rotation } from '../../src/core/rotations.ts'
import { angleBetween, azElFromEnu, enuFromAzEl, type Vec3 } from '../../src/core/vectors.ts'
import { DEG } from '../helpers/degrees.ts'
import { published } from './sky/reference.ts'

const seeded = { seed: 20260501, numRuns: 500 }
const angle = (from: number, to: number) => fc.double({ min: from * DEG, max: to * DEG, noNaN: true })
// Whole microdegrees: what any edge of the program can write.
const microdegrees = (max: number) => fc.integer({ min: -max * 1e6, max: max * 1e6 }).map(n => n * 1e-6 * DEG)
const expectDirection = (got: Vec3, want: Vec3, tolerance = 1e-12) =>
  expect(angleBetween(got, want)).toBeLessThan(tolerance)

describe('enuFromHaDec and haDecFromEnu', () => {
  it('give the azimuth and elevation of ERFA t_hd2ae, to 1e-12 rad', () => {
    const { inputs, expected } = published('hour angle, declination to azimuth, elevation')
    const { az, el } = azElFromEnu(enuFromHaDec(inputs.ha_rad, inputs.dec_rad, inputs.lat_rad))
    expect(Math.abs(az - expected.az_rad)).toBeLessThan(1e-12)
    expect(Math.abs(el - expected.el_rad)).toBeLessThan(1e-12)
  })

  it('give the hour angle and declination of ERFA t_ae2hd, to 1e-12 rad', () => {
    const { inputs, expected } = published('azimuth, elevation to hour angle, declination')
    const { ha, dec } = haDecFromEnu(enuFromAzEl(inputs.az_rad, inputs.el_rad), inputs.lat_rad)
    expect(Math.abs(ha - expected.ha_rad)).toBeLessThan(1e-12)
    expect(Math.abs(dec - expected.dec_rad)).toBeLessThan(1e-12)
  })

  it('give Meeus 13.b, Venus from Washington: azimuth 68.0337° west of south, elevation 15.1249°, to 0.0002°', () => {
    // Astronomical Algorithms, 2nd ed., p. 95; the tolerance is the book's rounding of the longitude.
    const { inputs, expected } = published('Meeus 13.b Venus from Washington (US Naval Observatory)')
    const { az, el } = azElFromEnu(
      enuFromHaDec(expected.hour_angle_deg * DEG, inputs.apparent_dec_deg * DEG, inputs.lat_deg * DEG),
    )
    expect(Math.abs(az / DEG - 180 - 68.0337)).toBeLessThan(2e-4)
    expect(Math.abs(el / DEG - 15.1249)).toBeLessThan(2e-4)
  })

  it('go round trip over the whole sky from any latitude, the poles included', () => {
    fc.assert(
      fc.property(
        angle(-180, 180),
        angle(-90, 90),
        fc.oneof(angle(-90, 90), fc.constantFrom(-90 * DEG, 0, 90 * DEG)),
        (ha, dec, lat) => {
          const v = enuFromHaDec(ha, dec, lat)
          const back = haDecFromEnu(v, lat)
          expect(Math.hypot(...v)).toBeCloseTo(1, 14)
          expect(Math.abs(back.ha)).toBeLessThanOrEqual(Math.PI)
          expectDirection(enuFromHaDec(back.ha, back.dec, lat), v)
          // acos and asin free: 1e-9 even at the celestial poles.
          expect(Math.abs(back.dec - dec)).toBeLessThan(1e-9)
        },
      ),
      seeded,
    )
  })

  it('turn about the celestial pole as the sky does: hour angle grows westward, -1 times right-handed about P', () => {
    fc.assert(
      fc.property(angle(-180, 180), angle(-89, 89), angle(-90, 90), angle(-90, 90), (ha, dec, lat, turn) => {
        const turned = apply(rotation(northPole(lat), -turn), enuFromHaDec(ha, dec, lat))
        expectDirection(turned, enuFromHaDec(ha + turn, dec, lat))
      }),
      seeded,
    )
  })

  it('put hour angle 6 h in the west, for north and south', () => {
    for (const lat of [-60, 0, 60]) expectDirection(enuFromHaDec(90 * DEG, 0, lat * DEG), [-1, 0, 0])
  })

  it('put hour angle 0 and declination 0 on Q, due south in the north and due north in the south', () => {
    expectDirection(enuFromHaDec(0, 0, 50 * DEG), meridianEquator(50 * DEG))
    expect(azElFromEnu(meridianEquator(50 * DEG)).az).toBeCloseTo(Math.PI, 12)
    expect(azElFromEnu(meridianEquator(-50 * DEG)).az).toBeCloseTo(0, 12)
  })

  it('call due south hour angle 0 and due north below the pole ±180°', () => {
    const lat = 50 * DEG
    expect(haDecFromEnu(enuFromAzEl(180 * DEG, 20 * DEG), lat).ha).toBeCloseTo(0, 12)
    expect(Math.abs(haDecFromEnu(enuFromAzEl(0, 20 * DEG), lat).ha)).toBeCloseTo(Math.PI, 12)
  })

  it('make the zenith hour angle 0, declination = latitude', () => {
    for (const lat of [-90, -33, 0, 47, 90]) {
      const { ha, dec } = haDecFromEnu([0, 0, 1], lat * DEG)
      expect(dec / DEG).toBeCloseTo(lat, 12)
      if (Math.abs(lat) < 90) expect(ha).toBeCloseTo(0, 12)
    }
  })

  it('make declination the elevation at the north pole, and hour angle the azimuth from south westward', () => {
    const { az, el } = azElFromEnu(enuFromHaDec(40 * DEG, 25 * DEG, 90 * DEG))
    expect(el / DEG).toBeCloseTo(25, 12)
    expect(az / DEG).toBeCloseTo(220, 12)
  })

  it('make declination minus the elevation at the south pole, azimuth from north eastward minus the hour angle', () => {
    const { az, el } = azElFromEnu(enuFromHaDec(40 * DEG, -25 * DEG, -90 * DEG))
    expect(el / DEG).toBeCloseTo(25, 12)
    expect(az / DEG).toBeCloseTo(320, 12)
  })
})

describe('enuFromAzEl and azElFromEnu', () => {
  it('go round trip over the whole sky, azimuth in [0, 360°)', () => {
    fc.assert(
      fc.property(microdegrees(720), microdegrees(90), (az, el) => {
        const v = enuFromAzEl(az, el)
        const back = azElFromEnu(v)
        expect(back.az).toBeGreaterThanOrEqual(0)
        expect(back.az).toBeLessThan(2 * Math.PI)
        expectDirection(enuFromAzEl(back.az, back.el), v)
        expect(Math.abs(back.el - el)).toBeLessThan(1e-9)
      }),
      seeded,
    )
  })

  it('name the cardinal directions and the zenith', () => {
    expectDirection(enuFromAzEl(0, 0), [0, 1, 0])
    expectDirection(enuFromAzEl(90 * DEG, 0), [1, 0, 0])
    expectDirection(enuFromAzEl(180 * DEG, 0), [0, -1, 0])
    expectDirection(enuFromAzEl(270 * DEG, 0), [-1, 0, 0])
    expectDirection(enuFromAzEl(123 * DEG, 90 * DEG), [0, 0, 1])
  })

  it('pass through north without a jump of the direction: 359.999° and 0.001° are 0.002° apart', () => {
    const apart = angleBetween(enuFromAzEl(359.999 * DEG, 0), enuFromAzEl(0.001 * DEG, 0))
    expect(apart / DEG).toBeCloseTo(0.002, 9)
    expect(azElFromEnu(enuFromAzEl(-0.001 * DEG, 0)).az / DEG).toBeCloseTo(359.999, 9)
  })
})
