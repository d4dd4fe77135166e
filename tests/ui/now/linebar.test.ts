import { describe, expect, it } from 'vitest'
import { lineBar } from '../../../src/ui/now/linebar-geometry.ts'

describe('lineBar', () => {
  it('ends a quarter beyond the larger of value and allowed', () => {
    expect(lineBar(0.4, 0.5)).toMatchObject({ filledPct: 64, allowedPct: 80, full: 0.625, beyond: false })
    expect(lineBar(1, 0.5)).toMatchObject({ filledPct: 80, allowedPct: 40 })
  })
  it('is full, and says so, when the value passes the given end', () => {
    expect(lineBar(120, null, 100)).toMatchObject({ filledPct: 100, beyond: true, allowedPct: null })
  })
  it('is empty for nothing, a negative or no number', () => {
    for (const v of [0, -3, Number.NaN]) expect(lineBar(v, 0.5).filledPct).toBe(0)
    expect(lineBar(0, null).full).toBe(1)
  })
  it('has its ticks at round numbers: every 10 of 100, every 0.1 of 0.625', () => {
    expect(lineBar(50, null, 100).ticksPct).toEqual([10, 20, 30, 40, 50, 60, 70, 80, 90])
    expect(lineBar(0.4, 0.5).ticksPct.map(Math.round)).toEqual([16, 32, 48, 64, 80, 96])
  })
})
