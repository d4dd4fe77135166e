import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type RollRow, rollShapes } from '../../../src/ui/when/roll-geometry.ts'

const FROM = Date.UTC(2026, 10, 29, 20)
const rows = (list: (readonly [number | null, number | null])[]): RollRow[] =>
  list.map(([rollDeg, offsetDeg], k) => ({ ms: FROM + 300_000 * k, rollDeg, offsetDeg }))
const points = (d: string): [number, number][] =>
  [...d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(m => [Number(m[1]), Number(m[2])])

describe('rollShapes', () => {
  it('keeps both lines and their words within the frame', () => {
    const deg = fc.option(fc.double({ min: -180, max: 180, noNaN: true }), { nil: null })
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            deg,
            deg.map(d => d && Math.abs(d / 2)),
          ),
          { minLength: 2, maxLength: 61 },
        ),
        list => {
          const s = rollShapes(rows(list), FROM + 1)
          const { x, y, width, height } = s.frame
          for (const [px, py] of [...points(s.roll), ...points(s.offset)]) {
            expect(px).toBeGreaterThanOrEqual(x - 0.1)
            expect(px).toBeLessThanOrEqual(x + width + 0.1)
            expect(py).toBeGreaterThanOrEqual(y - 0.1)
            expect(py).toBeLessThanOrEqual(y + height + 0.1)
          }
          for (const l of s.labels) expect(l.y).toBeLessThanOrEqual(y + height)
          expect(s.lines.filter(l => l.isZero)).toHaveLength(1)
          expect(s.lines.length).toBeLessThanOrEqual(8)
        },
      ),
    )
  })

  it('breaks the line where there is no pose and at the seam of the circle', () => {
    const s = rollShapes(
      rows([
        [10, null],
        [12, null],
        [null, null],
        [14, null],
        [179, null],
        [-179, null],
        [-170, null],
      ]),
      0,
    )
    expect(s.roll.match(/M/g)).toHaveLength(3)
    expect(s.offset).toBe('')
    expect(s.labels.map(l => l.word)).toEqual(['UP mark'])
    expect(s.now).toBeNull()
  })

  it('is empty without a pass', () => {
    expect(rollShapes([], 0)).toMatchObject({ roll: '', lines: [], feet: [] })
  })
})
