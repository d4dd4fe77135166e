import { describe, expect, it } from 'vitest'
import { gapOfBoth, warpFromGaps } from '../../../src/core/tape/strings.ts'

describe('warpFromGaps', () => {
  /** A rim bent as a saddle, and what two strings at right angles show where they cross. */
  const gapsOf = (a: number, high: number) => {
    const rim = (angle: number) => a * Math.cos(2 * (angle - high))
    const middle = (angle: number) => (rim(angle) + rim(angle + Math.PI)) / 2
    return [
      { pair: 'upright' as const, gap: middle(0) - middle(Math.PI / 2) },
      { pair: 'diagonal' as const, gap: middle(Math.PI / 4) - middle((3 * Math.PI) / 4) },
    ]
  }

  it('is half the gap: crossed strings 3.2 mm apart are a saddle of 1.6 mm', () => {
    // Common practice, no source; the simulated rim below holds it.
    expect(warpFromGaps([{ pair: 'upright', gap: 3.2 }])?.amplitude).toBeCloseTo(1.6, 12)
  })

  it('finds size and direction of any saddle from both pairs', () => {
    for (let k = 0; k < 12; k++) {
      const high = (k * Math.PI) / 12
      const warp = warpFromGaps(gapsOf(2.5, high))!
      expect(warp.amplitude).toBeCloseTo(2.5, 9)
      expect(Math.abs(Math.sin(warp.highAt - high))).toBeLessThan(1e-9)
      expect(warp.highAt).toBeGreaterThanOrEqual(0)
      expect(warp.highAt).toBeLessThan(Math.PI + 1e-9)
    }
  })

  it('has the rms of a bend that grows as the square of the radius: summed over the dish', () => {
    let [sum, area] = [0, 0]
    for (let i = 0; i < 200; i++)
      for (let j = 0; j < 90; j++) {
        const r = (i + 0.5) / 200
        sum += r * (3 * r * r * Math.cos((j / 90) * 4 * Math.PI)) ** 2
        area += r
      }
    expect(warpFromGaps(gapsOf(3, 0))!.rms).toBeCloseTo(Math.sqrt(sum / area), 3)
  })

  it('is nothing without a gap measured, and nought for strings that touch', () => {
    expect(warpFromGaps([])).toBeNull()
    expect(warpFromGaps([{ pair: 'upright', gap: 0 }])?.amplitude).toBe(0)
  })
})

describe('gapOfBoth', () => {
  it('takes the thickness out: 5 mm one way and 1 mm the other is 2 mm', () => {
    expect(gapOfBoth(5, 1)).toBe(2)
    expect(gapOfBoth(1, 5)).toBe(-2)
  })
  it('is the one gap where the strings press on each other the other way about, with its sign', () => {
    expect(gapOfBoth(4, 0)).toBe(4)
    expect(gapOfBoth(0, 4)).toBe(-4)
    expect(gapOfBoth(0, 0)).toBeCloseTo(0, 15)
  })
})
