import { describe, expect, it } from 'vitest'
import { comaOf } from '../../../src/core/dish/coma.ts'
import { beamDeviationFactor } from '../../../src/core/dish/optics.ts'

describe('comaOf', () => {
  it("moves the beam by Lo's beam deviation factor, to 3 % from f/D 0.35 to 0.5", () => {
    // Lo 1960, IRE AP-8, 347, from memory; an empirical formula against a sum over the aperture.
    for (const ratio of [0.35, 0.38, 0.4, 0.45, 0.5]) {
      const f = 2400 * ratio
      expect(Math.abs(comaOf(5, f, 1200, 10368).deviation / beamDeviationFactor(ratio) - 1), `${ratio}`).toBeLessThan(
        0.03,
      )
    }
  })
  it('grows with the square of the displacement while it is small, and is nothing on the axis', () => {
    expect(comaOf(0, 960, 1200, 5760)).toEqual({ lossDb: 0, deviation: 0 })
    const a = comaOf(5, 960, 1200, 5760).lossDb
    const b = comaOf(10, 960, 1200, 5760).lossDb
    expect(b / a).toBeCloseTo(4, 1)
    // Lengths in wavelengths alone count.
    expect(comaOf(20, 1920, 2400, 2880).lossDb).toBeCloseTo(b, 6)
    expect(comaOf(-10, 960, 1200, 5760).lossDb).toBe(b)
  })
  it('is small where the beam has moved by half its width: 0.05 dB or less at f/D 0.4', () => {
    // 10 mm at f = 0.96 m moves the beam 0.4895°, 0.58 of its width at 10 GHz; a beam scanned so little loses next to nothing
    // (common practice: a beamwidth may be scanned at f/D 0.4 for some tenths of a dB).
    const { lossDb } = comaOf(10, 960, 1200, 10368)
    expect(lossDb).toBeGreaterThan(0.001)
    expect(lossDb).toBeLessThan(0.1)
  })
})
