/** A row of Sun noise against a setting of the feed: where it is best, and when that cannot be said. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { feedRow, type RowReading } from '../../../src/core/noise/feedrow.ts'
import { rowRates } from '../../helpers/feedrows.ts'

const row = (settings: readonly number[], level: (at: number) => number, sigmaDb: number | null = 0.05): RowReading[] =>
  settings.map(at => ({ at, yDb: level(at), sigmaDb }))
const peakAt =
  (best: number, perMm2 = 0.002) =>
  (at: number) =>
    8 - perMm2 * (at - best) ** 2

describe('feedRow', () => {
  it('finds the vertex of exact parabolas, in any order, with the interval round it', () => {
    fc.assert(
      fc.property(fc.double({ min: -15, max: 15, noNaN: true }), best => {
        const { verdict } = feedRow(row([30, -20, 10, -30, 0, 20, -10], peakAt(best)))
        if (verdict.kind !== 'best') throw new Error(verdict.kind)
        expect(verdict.at).toBeCloseTo(best, 6)
        expect(verdict.low95).toBeLessThan(verdict.low68)
        expect(verdict.low68).toBeLessThan(best)
        expect(verdict.high68).toBeGreaterThan(best)
        expect(verdict.high95).toBeLessThanOrEqual(30)
      }),
    )
  })

  it('has the σ of the vertex of five readings by hand, but for the widening of 1.12', () => {
    // u = -1, -½, 0, ½, 1: Var(b) = σ²/2.5, vertex at 0, so σ(v) = σ √(1/2.5) / 2|c| in half widths; c = -1.8 dB, σ = 0.05.
    const { verdict } = feedRow(row([-30, -15, 0, 15, 30], peakAt(0)))
    if (verdict.kind !== 'best') throw new Error(verdict.kind)
    const byHand = (30 * 0.05 * Math.sqrt(1 / 2.5)) / (2 * 1.8)
    expect((verdict.high68 - verdict.low68) / 2 / 1.12).toBeCloseTo(byHand, 2)
  })

  it('never says a best that the row does not bracket: beyond the end it says which way', () => {
    const settings = [0, 10, 20, 30, 40, 50]
    expect(feedRow(row(settings, peakAt(90))).verdict).toEqual({ kind: 'outside', toward: 'more' })
    expect(feedRow(row(settings, peakAt(-40))).verdict).toEqual({ kind: 'outside', toward: 'less' })
    expect(feedRow(row(settings, peakAt(50))).verdict).toEqual({ kind: 'open', toward: 'more' })
    // A straight slope has no vertex to be beyond.
    expect(feedRow(row(settings, at => 5 + 0.02 * at)).verdict).toEqual({ kind: 'open', toward: 'more' })
  })

  it('says that nothing stands out of the scatter, and that the middle is the quietest', () => {
    const settings = [0, 10, 20, 30, 40, 50]
    expect(feedRow(row(settings, at => 8 + 0.03 * Math.sin(at))).verdict.kind).toBe('flat')
    expect(feedRow(row(settings, at => 8 + 0.002 * (at - 25) ** 2)).verdict.kind).toBe('valley')
  })

  it('wants four different settings, and five readings where nothing is stated of their scatter', () => {
    expect(feedRow(row([0, 0, 10, 10, 20, 20], peakAt(10))).verdict).toEqual({ kind: 'not-enough', wanted: 1 })
    expect(feedRow(row([0, 10, 20, 30], peakAt(10), null)).verdict).toEqual({ kind: 'not-enough', wanted: 1 })
    expect(feedRow([]).verdict).toEqual({ kind: 'not-enough', wanted: 4 })
  })

  it('gives up a stated σ that the row contradicts', () => {
    const rough = row([-30, -20, -10, 0, 10, 20, 30], at => peakAt(0)(at) + (at % 20 === 0 ? 0.2 : -0.2), 0.02)
    expect(feedRow(rough).scatterDb).toBeGreaterThan(0.15)
  })
})

describe('in 3000 drawn rows a best', () => {
  for (const stated of [true, false])
    it(`is within its 68 and 95 % as often as that, and said of a row without it in under 1.5 % (σ ${stated ? 'stated' : 'by scatter'})`, () => {
      const r = rowRates(3000, 'defocus', stated, 50_001)
      // About 700 bests: ± 3.5 % and ± 1.7 % at two σ.
      expect(r.said).toBeGreaterThan(0.15)
      expect(r.holds68).toBeGreaterThan(0.64)
      expect(r.holds68).toBeLessThan(0.78)
      expect(r.holds95).toBeGreaterThan(0.93)
      expect(r.falseBest).toBeLessThan(0.015)
      expect(r.falseOutside).toBeLessThan(0.01)
    })
})
