import { describe, expect, it } from 'vitest'
import { chanceOf, erfc } from '../../src/core/chance.ts'

describe('chanceOf', () => {
  // Two-sided tails of the normal distribution, Particle Data Group, Review of Particle Physics, "Statistics", the table
  // of α for δ in σ (1 in 3σ: 0.27 %, 4σ: 6.3e-5, 5σ: 5.7e-7, 6σ: 2.0e-9); two digits as printed.
  it.each([
    [1, 0.3173],
    [3, 2.7e-3],
    [4, 6.3e-5],
    [5, 5.7e-7],
    [6, 2.0e-9],
  ])('%dσ happens by chance with the published %d', (sigma, alpha) => {
    expect(chanceOf(sigma ** 2) / alpha).toBeCloseTo(1, 1)
    expect(Math.abs(chanceOf(sigma ** 2) / alpha - 1)).toBeLessThan(0.02) // half of the last printed digit
  })

  it('looking in twenty places makes it twenty times as likely, never more than certain', () => {
    expect(chanceOf(24, 20)).toBeCloseTo(20 * chanceOf(24), 15)
    expect(chanceOf(1, 20)).toBe(1)
    expect(chanceOf(0)).toBe(1)
  })
})

describe('erfc', () => {
  it('is smooth where the series hands over to the fraction, at 2.5', () => {
    const slope = (-2 / Math.sqrt(Math.PI)) * Math.exp(-6.25)
    expect((erfc(2.5) - erfc(2.5 - 1e-7)) / 1e-7 / slope).toBeCloseTo(1, 4) // a jump of 1e-10 would show as 0.4
  })

  it('refuses what is not a distance', () => {
    expect(() => erfc(-1)).toThrow(RangeError)
    expect(() => erfc(Number.NaN)).toThrow(RangeError)
  })
})
