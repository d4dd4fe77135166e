import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { reachEdge } from '../../../src/ui/correct/reachedge.ts'
import { someOf } from '../../helpers/some.ts'

const grid = (can: (column: number, row: number) => boolean) =>
  Array.from({ length: 18 }, (_, r) => Array.from({ length: 72 }, (_, c) => can(c + 0.5, r + 0.5)))

describe('reachEdge', () => {
  it('is empty where everything or nothing is reached', () => {
    expect(reachEdge(grid(() => true))).toEqual([])
    expect(reachEdge(grid(() => false))).toEqual([])
    expect(reachEdge([])).toEqual([])
  })
  it('lies within half a cell of a limit along a row or a column, from the horizon up, across north too', () => {
    for (const piece of someOf(reachEdge(grid((_, r) => r > 5))))
      for (const [, r] of someOf(piece)) expect(Math.abs(r - 5)).toBeLessThan(0.5)
    for (const west of [0, 20, 60]) {
      const pieces = reachEdge(grid(c => (c - west + 72) % 72 < 30))
      const rows = pieces.flatMap(p => p.map(([, r]) => r))
      expect([Math.min(...rows), Math.max(...rows)]).toEqual([0, 18])
      for (const [c] of someOf(pieces.flat())) {
        const off = Math.min(...[west, west + 30].map(at => Math.abs(((c - at + 108) % 72) - 36)))
        expect(off).toBeLessThan(0.5)
      }
    }
  })
  it('does not step along a limit at a slant: it stays within a third of a cell of the line', () => {
    const slope = 0.37
    const pieces = reachEdge(grid((c, r) => r > 4 + slope * Math.abs(c - 36)))
    const inside = pieces.flat().filter(([c, r]) => Math.abs(c - 36) > 4 && r > 1 && r < 17)
    expect(inside.length).toBeGreaterThan(40)
    for (const [c, r] of inside)
      expect(Math.abs(r - 4 - slope * Math.abs(c - 36)) / Math.hypot(1, slope)).toBeLessThan(0.34)
  })
  it('closes: every end of a piece is the end of another, but at the grid’s own ends', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(fc.boolean(), { minLength: 8, maxLength: 8 }), { minLength: 4, maxLength: 4 }),
        rows => {
          const ends = new Map<string, number>()
          for (const [c, r] of reachEdge(rows).flat()) {
            if (r === 0 || r === 4) continue
            const key = `${(((c % 8) + 8) % 8).toFixed(6)} ${r.toFixed(6)}`
            ends.set(key, (ends.get(key) ?? 0) + 1)
          }
          for (const n of ends.values()) expect(n % 2).toBe(0)
        },
      ),
    )
  })
})
