/** The drawing of a jack's triangle. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { jackDrawing } from '../../../src/ui/kit/jackdrawing.ts'

const distance = (p: { x: number; y: number }, q: { x: number; y: number }) => Math.hypot(p.x - q.x, p.y - q.y)

describe('jackDrawing', () => {
  it('is to scale where the lengths close a triangle: sides as 3 : 4 : 5 for 300, 400, 500 mm', () => {
    const { pins, toScale } = jackDrawing(300, 400, 500)
    const [pivot, fixed, end] = pins
    expect(toScale).toBe(true)
    const unit = distance(pivot!, fixed!) / 3
    expect(distance(pivot!, end!) / unit).toBeCloseTo(4, 1)
    expect(distance(fixed!, end!) / unit).toBeCloseTo(5, 1)
  })

  it('shows the usual triangle while a length is missing or none closes', () => {
    expect(jackDrawing(null, 400, 500).toScale).toBe(false)
    expect(jackDrawing(300, 400, 900).pins).toEqual(jackDrawing(null, null, null).pins)
  })

  it('keeps pins and words inside the picture, whatever the lengths (300 triangles, seeded)', () => {
    const mm = fc.double({ min: 50, max: 3000, noNaN: true })
    fc.assert(
      fc.property(mm, mm, mm, (base, rod, length) => {
        const s = jackDrawing(base, rod, length)
        for (const { x, y } of [...s.pins, ...Object.values(s.labels)]) {
          expect(x).toBeGreaterThanOrEqual(0)
          expect(x).toBeLessThanOrEqual(s.width)
          expect(y).toBeGreaterThanOrEqual(0)
          expect(y).toBeLessThanOrEqual(s.height)
        }
      }),
      { numRuns: 300, seed: 7 },
    )
  })
})
