/** The beam's pattern against the aperture itself, integrated over its face point by point. */
import { describe, expect, it } from 'vitest'
import { bessel, farField, HALF_POWER_U, power, powerOverDisc } from '../../../src/core/rehearse/pattern.ts'

const PEDESTAL = 10 ** (-12 / 20)

/** The far field of the lit disc, as the sum of its elements with their phases; nothing of Bessel in it. */
function apertureField(u: number, n = 400): number {
  let sum = 0
  let on = 0
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      const [x, y] = [-1 + (2 * (i + 0.5)) / n, -1 + (2 * (j + 0.5)) / n]
      const rho2 = x * x + y * y
      if (rho2 > 1) continue
      const lit = PEDESTAL + (1 - PEDESTAL) * (1 - rho2)
      on += lit
      sum += lit * Math.cos(u * x)
    }
  return sum / on
}

describe('the pattern', () => {
  it('is down by 3.01 dB where the computed aperture is', () => {
    expect(10 * Math.log10(apertureField(HALF_POWER_U) ** 2)).toBeCloseTo(-3.0103, 2)
    expect(power(2.7, 5.4)).toBeCloseTo(0.5, 6)
  })

  it('has its first side lobe where the computed aperture has it, and as high to 0.05 dB', () => {
    const peakOf = (of: (u: number) => number) => {
      let best = { u: 0, db: -Infinity }
      for (let u = 4.6; u < 7; u += 0.05) {
        const db = 20 * Math.log10(Math.abs(of(u)))
        if (db > best.db) best = { u, db }
      }
      return best
    }
    const [mine, theirs] = [peakOf(farField), peakOf(u => apertureField(u, 240))]
    expect(mine.u).toBeCloseTo(theirs.u, 6)
    expect(Math.abs(mine.db - theirs.db)).toBeLessThan(0.05)
    // Stutzman & Thiele, table of parabola-on-pedestal apertures (from memory): about -23 dB with an edge of -12 dB.
    expect(mine.db).toBeGreaterThan(-23.5)
    expect(mine.db).toBeLessThan(-22.3)
  })

  it('has half-power width 66.3 λ/D for that lighting (Stutzman & Thiele, from memory: 1.15 to 1.17 rad)', () => {
    const hpbwInWavesPerD = (2 * HALF_POWER_U) / Math.PI
    expect(hpbwInWavesPerD).toBeGreaterThan(1.15)
    expect(hpbwInWavesPerD).toBeLessThan(1.17)
  })

  it('takes Bessel functions that are those of the tables (Abramowitz & Stegun, table 9.1)', () => {
    expect(bessel(1, 1)).toBeCloseTo(0.4400505857, 9)
    expect(bessel(2, 5)).toBeCloseTo(0.0465651163, 9)
    expect(bessel(0, 10)).toBeCloseTo(-0.2459357645, 9)
    expect(bessel(1, 100)).toBeCloseTo(-0.077145352, 8)
  })

  it('hears less of a disc than of a point at its middle, and more of one in a null', () => {
    expect(powerOverDisc([0, 0], 0.53, 1)).toBeLessThan(1)
    const nullAt = 2 * HALF_POWER_U
    let zero = nullAt
    for (let u = 3.5; u < 5; u += 0.001) if (Math.abs(farField(u)) < Math.abs(farField(zero))) zero = u
    const offDeg = (zero / HALF_POWER_U) * 0.5
    expect(powerOverDisc([offDeg, 0], 0.53, 1)).toBeGreaterThan(10 * power(offDeg, 1))
  })

  it('averages a disc as an exact Gaussian beam does, where the beam is wide: L = x²/(1 - e^-x²)', () => {
    const x2 = Math.LN2 * (0.533 / 2) ** 2
    expect(powerOverDisc([0, 0], 0.533, 2)).toBeCloseTo((1 - Math.exp(-x2)) / x2, 2)
  })
})
