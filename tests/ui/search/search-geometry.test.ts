/** The picture of a search: all inside the frame, up is up, each step in one state, here where one is. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { patternOf } from '../../../src/core/plan/searchpattern.ts'
import { MARGIN, SEARCH_WIDTH, searchShapes } from '../../../src/ui/search/search-geometry.ts'
import { someOf } from '../../helpers/some.ts'

const steps = (wide: number, narrow: number, turn: number) =>
  patternOf({ wide, narrow: narrow * wide, reach: 1.5 }).places.map(([x, y], k) => ({
    rightDeg: x * Math.cos(turn) - y * Math.sin(turn),
    upDeg: x * Math.sin(turn) + y * Math.cos(turn),
    inside: k % 7 !== 3,
  }))

describe('the picture', () => {
  it('keeps every step inside, whatever its shape and turn, and counts each once', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 60, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 3.1, noNaN: true }),
        fc.nat(20),
        (wide, narrow, turn, here) => {
          const all = steps(wide, narrow, turn)
          const s = searchShapes({ steps: all, here, done: here })
          const drawn = [...s.done, ...s.toCome, ...s.skipped, ...(s.here ? [s.here] : [])]
          expect(drawn.length).toBe(all.length)
          for (const { x, y } of drawn) {
            expect(x).toBeGreaterThanOrEqual(MARGIN - 1e-6)
            expect(x).toBeLessThanOrEqual(SEARCH_WIDTH - MARGIN + 1e-6)
            expect(y).toBeGreaterThanOrEqual(MARGIN - 1e-6)
            expect(y).toBeLessThanOrEqual(s.height - MARGIN + 1e-6)
          }
        },
      ),
      { numRuns: 200 },
    )
  })

  it('has right at the right and up above, the middle first', () => {
    const all = [
      { rightDeg: 0, upDeg: 0, inside: true },
      { rightDeg: 4, upDeg: 0, inside: true },
      { rightDeg: 0, upDeg: 4, inside: true },
    ]
    const s = searchShapes({ steps: all, here: 2, done: 2 })
    expect(s.done[1]!.x).toBeGreaterThan(s.done[0]!.x)
    expect(s.here!.y).toBeLessThan(s.done[0]!.y)
    expect(s.words[0]).toBe('3 steps, 2 of them done.')
  })

  it('draws steps of a pattern apart from each other', () => {
    const s = searchShapes({ steps: steps(12, 0.8, 0.4), here: null, done: 0 })
    const [a, ...rest] = s.toCome
    for (const b of someOf(rest)) expect(Math.hypot(a!.x - b.x, a!.y - b.y)).toBeGreaterThan(2 * s.radius)
  })
})
