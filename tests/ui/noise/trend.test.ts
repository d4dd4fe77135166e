import { describe, expect, it } from 'vitest'
import { trendShapes } from '../../../src/ui/noise/trend-geometry.ts'
import { plain } from '../../helpers/plain.ts'
import { someOf } from '../../helpers/some.ts'

describe('trendShapes', () => {
  const day = (d: number) => Date.UTC(2026, 4, d)
  const points = [
    { id: 'b', utcMs: day(9), db: 6.2, sigma: 0.3 },
    { id: 'a', utcMs: day(1), db: 8.4, sigma: 0.3 },
  ]
  it('runs in order of time within its frame, higher values higher, and says first and last', () => {
    const s = trendShapes({ points, step: { utcMs: day(9), before: 8.4, after: 6.2 } })
    const [a, b] = s.marks
    expect([a!.id, b!.id]).toEqual(['a', 'b'])
    expect(a!.x).toBeLessThan(b!.x)
    expect(a!.y).toBeLessThan(b!.y)
    for (const bar of someOf(s.bars)) {
      expect(bar.y1).toBeGreaterThanOrEqual(s.frame.y - 0.1)
      expect(bar.y2).toBeLessThanOrEqual(s.frame.y + s.frame.height + 0.1)
    }
    expect(s.levels.map(l => l.y)).toEqual([a!.y, b!.y])
    expect(plain(s.words[0]!)).toBe('G/T from 1 May 2026 to 9 May 2026: first 8.4 ± 0.3 dB/K, last 6.2 ± 0.3 dB/K.')
  })
  it('is empty of marks without records, and stands in the middle with one', () => {
    expect(trendShapes({ points: [], step: null }).marks).toEqual([])
    const s = trendShapes({ points: points.slice(1), step: null })
    expect(s.marks[0]!.x).toBeCloseTo(s.frame.x + s.frame.width / 2, 0)
  })
})
