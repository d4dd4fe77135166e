import { describe, expect, it } from 'vitest'
import { siteFrame } from '../../../src/core/sky/earthfixed.ts'
import { satelliteBox } from '../../../src/core/sky/satellitebox.ts'
import { DEG } from '../../helpers/degrees.ts'

const frame = (latDeg: number, lonDeg: number) => siteFrame({ lat: latDeg * DEG, lon: lonDeg * DEG, heightM: 0 })

describe('satelliteBox', () => {
  it('from right below is a little more than ±0.1°, since the satellite is nearer than the Earth’s centre', () => {
    const { most } = satelliteBox(0, frame(0, 0))
    // 0.1° at 42 164 km seen from 35 786 km, to the corner.
    expect(most / DEG).toBeCloseTo(0.1 * (42_164.17 / (42_164.17 - 6378.137)) * Math.SQRT2, 3)
  })

  it('at 47° N, due south, is 0.11° of sky to either side, and more of azimuth', () => {
    const { az, el, most } = satelliteBox(9 * DEG, frame(47, 9))
    expect(el / DEG).toBeGreaterThan(0.09)
    expect(el / DEG).toBeLessThan(0.12)
    // Azimuth stretches by 1/cos el, el = 36°.
    expect(az / DEG).toBeGreaterThan(0.13)
    expect(az / DEG).toBeLessThan(0.15)
    expect(most / DEG).toBeGreaterThan(0.14)
    expect(most / DEG).toBeLessThan(0.17)
  })

  it('grows with the box, and is the same across north', () => {
    const small = satelliteBox(9 * DEG, frame(-47, 9))
    const large = satelliteBox(9 * DEG, frame(-47, 9), 0.2 * DEG)
    expect(large.most / small.most).toBeCloseTo(2, 2)
    // Due north from the south: its azimuth does not jump by a turn.
    expect(small.az / DEG).toBeLessThan(0.15)
  })
})
