import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { earthFixedFromEquator, enuFromEarthFixed, siteFrame, topocentric } from '../../../src/core/sky/earthfixed.ts'
import { DEG } from '../../helpers/degrees.ts'
import { asVec, published } from './reference.ts'

describe('siteFrame', () => {
  it("puts ERFA's WGS 84 example (t_gd2gc) where ERFA does, to 1e-6 m", () => {
    const { inputs, expected } = published('WGS84 geodetic to geocentric')
    const { position } = siteFrame({ lat: inputs.lat_rad, lon: inputs.lon_rad, heightM: inputs.height_m })
    for (const [i, m] of expected.xyz_m.entries()) expect(Math.abs(asVec(position)[i]! * 1000 - m)).toBeLessThan(1e-6)
  })

  it('has the poles 6356.752 km from the centre (WGS 84 semi-minor axis)', () => {
    for (const lat of [90, -90])
      expect(siteFrame({ lat: lat * DEG, lon: 1, heightM: 0 }).position.z).toBeCloseTo(Math.sign(lat) * 6356.752314, 5)
  })

  it('has right-handed unit axes anywhere, poles included', () => {
    const lat = fc.oneof(fc.double({ min: -90, max: 90, noNaN: true }), fc.constantFrom(-90, 90))
    fc.assert(
      fc.property(lat, fc.double({ min: -180, max: 180, noNaN: true }), (latDeg, lonDeg) => {
        const f = siteFrame({ lat: latDeg * DEG, lon: lonDeg * DEG, heightM: 0 })
        const e = enuFromEarthFixed(f.east, f)
        const n = enuFromEarthFixed(f.north, f)
        const u = enuFromEarthFixed(f.up, f)
        for (const [got, want] of [
          [e, [1, 0, 0]],
          [n, [0, 1, 0]],
          [u, [0, 0, 1]],
        ] as const)
          for (let i = 0; i < 3; i++) expect(got[i]).toBeCloseTo(want[i]!, 14)
        const crossX = f.east.y * f.north.z - f.east.z * f.north.y
        expect(crossX).toBeCloseTo(f.up.x, 14)
      }),
      { seed: 20260501, numRuns: 200 },
    )
  })

  it('refuses a latitude beyond the pole and what is not a number', () => {
    expect(() => siteFrame({ lat: 1.6, lon: 0, heightM: 0 })).toThrow(RangeError)
    expect(() => siteFrame({ lat: Number.NaN, lon: 0, heightM: 0 })).toThrow(RangeError)
    expect(() => siteFrame({ lat: 0, lon: Number.NaN, heightM: 0 })).toThrow(RangeError)
  })
})

describe('topocentric', () => {
  it('sees a point straight above at the zenith, at its height', () => {
    const low = siteFrame({ lat: -33 * DEG, lon: 151 * DEG, heightM: 0 })
    const high = siteFrame({ lat: -33 * DEG, lon: 151 * DEG, heightM: 5000 })
    const { direction, distanceKm } = topocentric(high.position, low)
    expect(direction[2]).toBeCloseTo(1, 12)
    expect(distanceKm).toBeCloseTo(5, 9)
  })
})

describe('earthFixedFromEquator', () => {
  it('puts the equinox over Greenwich when sidereal time is 0 and over 90° west six hours later', () => {
    expect(earthFixedFromEquator({ x: 1, y: 0, z: 0 }, 0)).toEqual({ x: 1, y: 0, z: 0 })
    expect(earthFixedFromEquator({ x: 1, y: 0, z: 0 }, Math.PI / 2).y).toBeCloseTo(-1, 14)
  })
})
