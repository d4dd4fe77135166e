import { describe, expect, it } from 'vitest'
import { bowlFromDepth } from '../../../src/core/dish/paraboloid.ts'
import { bowlShapes } from '../../../src/ui/dish/bowl-geometry.ts'
import { rimFace } from '../../../src/ui/dish/rimface-geometry.ts'
import { plain } from '../../helpers/plain.ts'

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
