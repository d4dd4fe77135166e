import { describe, expect, it } from 'vitest'
import { knownBar, TICK_PCT } from '../../../src/ui/correct/known-geometry.ts'

describe('knownBar', () => {
  it('reaches the ticks where the ± is what the tolerance allows, about the middle', () => {
    expect(knownBar(0.4, 0.4, 'open')).toEqual({
      leftPct: 50 - TICK_PCT,
      widthPct: 2 * TICK_PCT,
      isBeyond: false,
      isFilled: false,
    })
    expect(knownBar(0.1, 0.4, 'settled').widthPct).toBeCloseTo(TICK_PCT / 2, 9)
  })
  it('is filled only where it is known well enough, not where it is as measured', () => {
    expect(knownBar(0.1, 0.4, 'settled').isFilled).toBe(true)
    expect(knownBar(0.5, 0.4, 'as measured').isFilled).toBe(false)
  })
  it('has both ends beyond its room where much is open, and is still seen where hardly anything is', () => {
    expect(knownBar(180, 0.4, 'open')).toMatchObject({ isBeyond: true })
    expect(knownBar(180, 0.4, 'open').leftPct).toBeLessThan(0)
    expect(knownBar(1e-6, 0.4, 'settled').widthPct).toBeGreaterThan(1)
  })
})
