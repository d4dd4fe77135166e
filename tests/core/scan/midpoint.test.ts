import { describe, expect, it } from 'vitest'
import { midpointOf, sigmaAtLevel } from '../../../src/core/scan/midpoint.ts'
import { chance } from '../../helpers/random.ts'

describe('sigmaAtLevel', () => {
  it('is 0.0083 of a beam for 0.1 dB at half power, where the level falls 12 dB a beamwidth', () => {
    // Worked by hand: L = 12.04 (θ/w)²; at θ = w/2 the slope is 12.04 dB per w (common practice: 12 dB/HPBW).
    expect(sigmaAtLevel(3.01, 1, 0.1)).toBeCloseTo(0.1 / 12.04, 5)
    expect(sigmaAtLevel(3.01, 5.4, 0.1)).toBeCloseTo((5.4 * 0.1) / 12.04, 4)
  })
})

describe('midpointOf', () => {
  it('is the mean of the middles, as far apart as the stated σ says', () => {
    const c = chance(2)
    const errors: number[] = []
    let stated = 0
    for (let k = 0; k < 3000; k++) {
      const m = midpointOf(
        [1, 2].map(d => ({ left: 3 - d + c.normal(0.1), right: 3 + d + c.normal(0.1) })),
        0.1,
      )
      errors.push(m.middle - 3)
      stated += m.sigma ** 2
    }
    const rms = Math.sqrt(errors.reduce((a, e) => a + e * e, 0) / errors.length)
    expect(rms).toBeCloseTo(0.05, 2)
    expect(Math.sqrt(stated / 3000) / rms).toBeGreaterThan(0.95)
    expect(Math.sqrt(stated / 3000) / rms).toBeLessThan(1.35)
  })
  it('takes the scatter for σ where the pairs disagree', () => {
    const m = midpointOf(
      [
        { left: 10, right: 20 },
        { left: 8, right: 24 },
      ],
      0.1,
    )
    expect(m.middle).toBe(15.5)
    expect(m.sigma).toBeCloseTo(0.5, 12)
    expect(midpointOf([{ left: 10, right: 20 }], 0.1)).toEqual({
      middle: 15,
      sigma: 0.1 / Math.SQRT2,
      spread: null,
      middles: [15],
    })
    expect(() => midpointOf([], 0.1)).toThrow(RangeError)
  })
})
