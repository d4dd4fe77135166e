import { describe, expect, it } from 'vitest'
import { pairsOf, tappedPeak } from '../../../src/core/scan/tapped.ts'

const mark = (s: number, what: 'rising' | 'same' | 'missed' | 'peak') => ({ s, mark: what })

describe('pairsOf', () => {
  it('lets fall first what rose last', () => {
    const marks = [mark(0, 'rising'), mark(10, 'rising'), mark(50, 'peak'), mark(90, 'same'), mark(101, 'same')]
    expect(pairsOf(marks)).toEqual({
      pairs: [
        { fromS: 10, toS: 90 },
        { fromS: 0, toS: 101 },
      ],
      open: [],
      peaks: [50],
    })
  })
  it('passes over a place that was missed, and a fall that nothing rose for', () => {
    const marks = [mark(0, 'rising'), mark(10, 'rising'), mark(90, 'missed'), mark(100, 'same'), mark(120, 'same')]
    expect(pairsOf(marks)).toEqual({ pairs: [{ fromS: 0, toS: 100 }], open: [], peaks: [] })
  })
})

describe('tappedPeak', () => {
  it('lies halfway; at half power 0.2 dB of the needle is a sixtieth of the width on either side', () => {
    // 12 dB per beamwidth at half power (12.04 (θ/w)², its slope at w/2): 0.2/12.04 w each, /√2 for the middle.
    const peak = tappedPeak({ pairs: [{ fromS: 100, toS: 900 }], open: [], peaks: [] }, 800)!
    expect(peak.s).toBe(500)
    expect(peak.sigmaS).toBeCloseTo(Math.hypot((0.2 / 12.04) * 800, 0.5) / Math.SQRT2, 6)
  })
  it('weighs a close pair less, since the level hardly falls there', () => {
    const far = { fromS: 100, toS: 900 }
    const close = { fromS: 470, toS: 570 }
    const peak = tappedPeak({ pairs: [far, close], open: [], peaks: [] }, 800)!
    expect(peak.s).toBeGreaterThan(500)
    expect(peak.s).toBeLessThan(502)
  })
  it('is no surer than its pairs agree', () => {
    const pairs = [
      { fromS: 0, toS: 1000 },
      { fromS: 100, toS: 1100 },
    ]
    expect(tappedPeak({ pairs, open: [], peaks: [] }, 800)!.sigmaS).toBeCloseTo(50, 6)
  })
  it('falls back on the peak alone, a tenth of a width; several taps are no surer than one', () => {
    const peak = tappedPeak({ pairs: [], open: [3], peaks: [500, 500, 500] }, 800)!
    expect(peak).toMatchObject({ from: 'peaks', s: 500, count: 3 })
    expect(peak.sigmaS).toBeCloseTo(80, 1)
    expect(tappedPeak({ pairs: [], open: [3], peaks: [] }, 800)).toBeNull()
  })
})
