import { describe, expect, it } from 'vitest'
import { residualRange, residualShapes } from '../../../src/ui/correct/residuals-geometry.ts'
import { someOf } from '../../helpers/some.ts'

const at = (id: string, rightDeg: number, upDeg: number, status: 'used' | 'outlier' | 'excluded' = 'used') => ({
  id,
  rightDeg,
  upDeg,
  status,
  label: id,
})
const base = { size: 216, toleranceDeg: 0.7, beamwidthDeg: 5 }

describe('residualShapes', () => {
  it('draws right to the right and up upward, to one scale', () => {
    const s = residualShapes({ ...base, points: [at('a', 0.35, 0), at('b', 0, 0.35)] })
    // 100 units from the middle to the frame stand for 1.3 × 0.7° = 0.91°.
    expect(s.rangeDeg).toBeCloseTo(0.91, 12)
    expect(s.marks[0]).toMatchObject({ x: 146.5, y: 108 })
    expect(s.marks[1]).toMatchObject({ x: 108, y: 69.5 })
    expect(s.toleranceR).toBe(76.9)
  })
  it('takes every used point in, however far', () => {
    const s = residualShapes({ ...base, points: [at('far', 9, 0), at('a', 0, 0)] })
    expect(s.marks.every(m => m.shape === 'used')).toBe(true)
    expect(residualRange({ ...base, points: [at('far', 9, 0)] })).toBeCloseTo(9.9, 12)
  })
  it('takes an outlier in up to three times that, and beyond it puts an arrowhead at the frame with its size', () => {
    const near = residualShapes({ ...base, points: [at('o', 2, 0, 'outlier')] })
    expect(near.marks[0]!.shape).toBe('outlier')
    const far = residualShapes({ ...base, points: [at('o', 3, -4, 'outlier')] })
    expect(far.marks[0]).toMatchObject({ shape: 'over', turnDeg: 143 })
    expect(far.marks[0]!.x).toBeGreaterThan(108)
    expect(far.marks[0]!.y).toBeGreaterThan(108)
    expect(far.beyond[0]!.text).toBe('5.0°')
    expect(far.words.at(-2)).toMatch(/o: 3.00°\sright, 4.00°\slow, set aside/)
  })
  it('writes no size over another: of thirty arrowheads in a heap one says how far, and each can be tapped', () => {
    const heap = Array.from({ length: 30 }, (_, k) => at(`o${k}`, 9 + k, 0.01 * k, 'outlier'))
    const s = residualShapes({ ...base, points: [at('a', 0, 0), ...heap, at('high', 0, 9, 'outlier')] })
    expect(s.beyond.map(b => b.text)).toEqual(['9.0°', '9.0°'])
    expect(s.marks.filter(m => m.shape === 'over')).toHaveLength(31)
  })
  it('writes how far off an arrowhead is beside it: its middle never on the circle allowed, and clear of “high”', () => {
    const { centre, toleranceR } = residualShapes({ ...base, points: [] })
    for (let turn = 0; turn < 360; turn += 3) {
      const rad = (turn * Math.PI) / 180
      const s = residualShapes({ ...base, points: [at('o', 9 * Math.sin(rad), 9 * Math.cos(rad), 'outlier')] })
      const [label] = s.beyond
      expect(Math.hypot(label!.x - centre, label!.y - centre) - toleranceR, `${turn}°`).toBeGreaterThan(3)
      // Both in letters of 16: "9.0°" is 36 wide, "high" 33.
      const high = s.highLeft ? centre - 12 - 33 : centre + 12
      const isClear = label!.x + 18 < high || label!.x - 18 > high + 33 || label!.y - 8 > 26
      expect(isClear, `${turn}°`).toBe(true)
    }
  })
  it('keeps every mark inside the frame', () => {
    const s = residualShapes({
      ...base,
      points: [at('a', 0.5, -0.6), at('b', -8, 0.1, 'outlier'), at('c', 0, 50, 'excluded')],
    })
    for (const m of someOf(s.marks)) {
      expect(Math.abs(m.x - 108)).toBeLessThanOrEqual(100)
      expect(Math.abs(m.y - 108)).toBeLessThanOrEqual(100)
    }
  })
  it('leaves out a beam wider than the picture, and says so', () => {
    expect(residualShapes({ ...base, points: [] }).beamR).toBeNull()
    expect(residualShapes({ ...base, points: [] }).words.at(-1)).toBe('The beam, 5.0° wide, is wider than the picture.')
    expect(residualShapes({ ...base, points: [at('a', 3, 0)] }).beamR).toBe(75.8)
  })
  it('counts what lies within the tolerance', () => {
    expect(residualShapes({ ...base, points: [at('a', 0.5, 0.5), at('b', 0.1, 0)] }).words[1]).toBe(
      '1 of 2 used sightings lie within the 0.70° allowed.',
    )
  })
})
