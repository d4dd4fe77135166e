import { describe, expect, it } from 'vitest'
import { bowlFromDepth } from '../../../src/core/dish/paraboloid.ts'
import { bowlShapes } from '../../../src/ui/dish/bowl-geometry.ts'
import { rimFace } from '../../../src/ui/dish/rimface-geometry.ts'
import { trendShapes } from '../../../src/ui/noise/trend-geometry.ts'

const plain = (text: string) => text.replace(/\u00a0/g, ' ')

describe('bowlShapes', () => {
  it('draws depth and focus to one scale, the focus outside the rim of a flat dish and inside that of a deep one', () => {
    const flat = bowlShapes(bowlFromDepth(2400, 375), 'mm')
    const scale = (flat.line.x2 - flat.line.x1) / 2400
    expect(flat.depth.y2 - flat.depth.y1).toBeCloseTo(375 * scale, 0)
    expect(flat.depth.y2 - flat.focus.y).toBeCloseTo(960 * scale, 0)
    expect(flat.focus.y).toBeLessThan(flat.line.y)
    const deep = bowlShapes(bowlFromDepth(2400, 800), 'mm')
    expect(deep.focus.y).toBeGreaterThan(deep.line.y)
    expect(plain(flat.words.join(' '))).toContain('1335 mm from the rim: f/D 0.400')
    expect(plain(bowlShapes(bowlFromDepth(2400, 375), 'in').labels.depth)).toBe('depth 14.76 in')
  })
})

describe('rimFace', () => {
  const face = {
    seenFrom: 'behind' as const,
    hours: [12, 3, 6, 9],
    taped: [1335, null, null, 1340],
    unit: 'mm' as const,
    diameterMm: 2400,
    feed: { rightMm: 12, upMm: 5 },
  }
  it('puts 12 on top and 3 at the right from either side; only the feed changes sides', () => {
    const behind = rimFace(face)
    const front = rimFace({ ...face, seenFrom: 'front' })
    expect(front.spokes).toEqual(behind.spokes)
    expect(behind.spokes[0]!.y).toBeLessThan(behind.centre)
    expect(behind.spokes[1]!.x).toBeGreaterThan(behind.centre)
    expect(behind.feed!.x).toBeGreaterThan(behind.centre)
    expect(front.feed!.x - front.centre).toBeCloseTo(behind.centre - behind.feed!.x, 9)
    expect(front.feed!.y).toBe(behind.feed!.y)
    expect(behind.feed!.y).toBeLessThan(behind.centre)
  })
  it('tells what is taped, and that an offset is drawn larger', () => {
    const s = rimFace(face)
    expect(plain(s.words.join(' '))).toContain('Taped so far: 12 o’clock 1335 mm, 9 o’clock 1340 mm.')
    expect(s.magnified).toBe(32) // 0.35 × 1200 mm / 13 mm
    expect(rimFace({ ...face, taped: [null, null, null, null] }).words.join(' ')).toContain('12, 3, 6, 9 o’clock')
  })
  it('keeps a feed that is far out inside the rim, and crosses strings at right angles', () => {
    const s = rimFace({ ...face, feed: { rightMm: 5000, upMm: 0 } })
    expect(s.feed!.x).toBeLessThan(s.centre + s.rimR)
    const [a, b] = rimFace({ ...face, hours: [], taped: [], strings: 'diagonal' }).strings
    expect((a!.x2 - a!.x1) * (b!.x2 - b!.x1) + (a!.y2 - a!.y1) * (b!.y2 - b!.y1)).toBeCloseTo(0, 0)
    expect(a!.x1).toBeGreaterThan(s.centre) // half past one is upper right
  })
})

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
    for (const bar of s.bars) {
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
