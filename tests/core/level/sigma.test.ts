import { describe, expect, it } from 'vitest'
import { levelSigma, REVERSED_BIAS, UNREVERSED_BIAS } from '../../../src/core/level/sigma.ts'
import { degFromRad, radFromDeg } from '../../../src/core/units.ts'

describe('levelSigma', () => {
  it('is 0.03° for the rounding of a 0.1° step alone', () => {
    // 0.1/√12 = 0.0289
    expect(degFromRad(levelSigma({ noise: 0, step: radFromDeg(0.1), bias: 0 }))).toBeCloseTo(0.0289, 4)
  })
  it('adds noise, rounding and bias in quadrature: 0.3, 0.1/√12 and 0.4° make 0.501°', () => {
    const sigma = levelSigma({ noise: radFromDeg(0.3), step: radFromDeg(0.1), bias: radFromDeg(0.4) })
    expect(degFromRad(sigma)).toBeCloseTo(Math.sqrt(0.25 + 0.01 / 12), 12)
  })
  it('is about 0.5° out of the pocket and below 0.1° reversed', () => {
    const step = radFromDeg(0.1)
    expect(degFromRad(levelSigma({ noise: 0, step, bias: UNREVERSED_BIAS }))).toBeCloseTo(0.5, 2)
    expect(degFromRad(levelSigma({ noise: 0, step, bias: REVERSED_BIAS }))).toBeLessThan(0.1)
  })
  it('refuses a share that is negative or no number', () => {
    expect(() => levelSigma({ noise: -1, step: 0, bias: 0 })).toThrow(RangeError)
    expect(() => levelSigma({ noise: 0, step: Number.NaN, bias: 0 })).toThrow(RangeError)
  })
})
