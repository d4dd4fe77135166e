import { describe, expect, it } from 'vitest'
import { wavelengthM } from '../../../src/core/dish/optics.ts'
import {
  blockageLossDb,
  bowlFromDepth,
  bowlFromRatio,
  defocusLossDb,
  focalRatioOf,
  rimAngle,
  rimToFocus,
  spaceLossDb,
  sunAtFocus,
} from '../../../src/core/dish/paraboloid.ts'
import { DEG } from '../../helpers/degrees.ts'

describe('bowlFromDepth', () => {
  it('is f 960 mm, f/D 0.4, 1335 mm from rim to focus for 2.4 m and 375 mm; 1250 mm for 3 m and 450 mm', () => {
    // Worked by hand from f = D²/16d and the parabola's definition.
    const bowl = bowlFromDepth(2400, 375)
    expect(bowl.focalLength).toBeCloseTo(960, 9)
    expect(focalRatioOf(bowl)).toBeCloseTo(0.4, 12)
    expect(rimToFocus(bowl)).toBeCloseTo(1335, 9)
    expect(Math.hypot(1200, 960 - 375)).toBeCloseTo(1335, 9)
    expect(bowlFromDepth(3000, 450).focalLength).toBeCloseTo(1250, 9)
  })

  it('is undone by bowlFromRatio, and stops at the door for no diameter or depth', () => {
    expect(bowlFromRatio(2400, 0.4).depth).toBeCloseTo(375, 9)
    for (const [d, z] of [
      [0, 375],
      [2400, 0],
      [Number.NaN, 375],
      [2400, -1],
    ] as const)
      expect(() => bowlFromDepth(d, z)).toThrow(RangeError)
  })
})

describe('rimAngle and spaceLossDb', () => {
  it('are 71.08° and 3.58 dB at f/D 0.35, down to 53.13° and 1.94 dB at 0.50', () => {
    // By hand: θ0 = 2 atan(D/4f); -20 log10 cos²(θ0/2).
    for (const [ratio, angle, loss] of [
      [0.35, 71.08, 3.58],
      [0.38, 66.68, 3.12],
      [0.4, 64.01, 2.86],
      [0.42, 61.53, 2.63],
      [0.45, 58.11, 2.34],
      [0.5, 53.13, 1.94],
    ] as const) {
      const bowl = bowlFromRatio(2400, ratio)
      expect(Math.abs(rimAngle(bowl) / DEG - angle)).toBeLessThan(6e-3)
      expect(Math.abs(spaceLossDb(bowl) - loss)).toBeLessThan(6e-3)
    }
  })
})

describe('defocusLossDb', () => {
  it('is 0.071, 0.284, 1.158 dB for λ/8, λ/4, λ/2 at f/D 0.4, in or out', () => {
    // Baars, uniform illumination (from memory); by hand.
    const bowl = bowlFromRatio(2400, 0.4)
    const wave = 1000 * wavelengthM(5760)
    for (const [part, loss] of [
      [8, 0.071],
      [4, 0.284],
      [2, 1.158],
    ] as const) {
      expect(Math.abs(defocusLossDb(wave / part, 5760, bowl) - loss)).toBeLessThan(6e-4)
      expect(defocusLossDb(-wave / part, 5760, bowl)).toBe(defocusLossDb(wave / part, 5760, bowl))
    }
    expect(defocusLossDb(0, 5760, bowl)).toBe(0)
  })

  it('agrees with summing the waves over the aperture, to a hundredth of a dB up to λ/2', () => {
    // Path of a ring seen under θ from the focus: dz (1 - cos θ); light per area as cos⁴(θ/2) undone, so uniform in 1 - cos θ
    // to the accuracy that the closed form claims: numeric mean of exp(i 2π dz (1 - cos θ)/λ) over 1 - cos θ.
    const bowl = bowlFromRatio(3000, 0.4)
    const wave = 1000 * wavelengthM(3400)
    const most = 1 - Math.cos(rimAngle(bowl))
    for (const part of [8, 4, 2]) {
      let [re, im] = [0, 0]
      const n = 2000
      for (let k = 0; k < n; k++) {
        const phase = ((2 * Math.PI) / part) * most * ((k + 0.5) / n)
        re += Math.cos(phase) / n
        im += Math.sin(phase) / n
      }
      expect(-20 * Math.log10(Math.hypot(re, im))).toBeCloseTo(defocusLossDb(wave / part, 3400, bowl), 2)
    }
  })
})

describe('blockageLossDb', () => {
  it('is 0.087 dB for a tenth of the diameter, 0.355 dB for a fifth', () => {
    // By hand, uniform illumination.
    expect(Math.abs(blockageLossDb(240, 2400) - 0.087)).toBeLessThan(6e-4)
    expect(Math.abs(blockageLossDb(480, 2400) - 0.355)).toBeLessThan(6e-4)
    expect(blockageLossDb(0, 2400)).toBeCloseTo(0, 15)
    expect(blockageLossDb(2400, 2400)).toBe(Infinity)
  })
})

describe('sunAtFocus', () => {
  it('is 4.5 kW in a spot of 8.9 mm, 7e4 Suns, for 2.4 m at f 960 mm', () => {
    // By hand: 1 kW/m² (common practice) on π 1.2² m²; the Sun is 0.533° across on average.
    const { powerW, imageMm, suns } = sunAtFocus(bowlFromDepth(2400, 375))
    expect(Math.abs(powerW - 4524)).toBeLessThan(1)
    expect(Math.abs(imageMm - 8.93)).toBeLessThan(0.01)
    expect(Math.abs(suns / 7.2e4 - 1)).toBeLessThan(0.01)
  })
})
