/** Each station is solved once: for what its fit looks at, and for no longer than a few others. */
import { describe, expect, it } from 'vitest'
import { solvedOnce } from '../../src/core/solvedonce.ts'
import { gravelPit } from '../helpers/stations.ts'

const UTC = '2026-05-01T12:00:00Z'

describe('solvedOnce', () => {
  it('gives the same solution for the same station, and for one with what the fit does not look at', () => {
    const solved = solvedOnce(gravelPit())
    expect(solvedOnce(structuredClone(gravelPit()))).toBe(solved)
    expect(solvedOnce(gravelPit({ stow: { lower: 180, upper: 40 } }))).toBe(solved)
    expect(solvedOnce(gravelPit({ noise: [{ id: 'n', utc: UTC, feed: 'a', of: 'sun', yDb: 8 }] }))).toBe(solved)
  })

  it('solves anew what has one prior more, and does not mix the two up', () => {
    const record = gravelPit({ priors: [{ id: 'upperZero', value: 2, sigma: 0.1 }] })
    const [plain, moved] = [solvedOnce(gravelPit()), solvedOnce(record)]
    const zero = ({ parameters, fit }: typeof plain) =>
      fit.values[parameters.list.find(p => p.id === 'upperZero')!.index]!
    expect((zero(moved) - zero(plain)) * (180 / Math.PI)).toBeCloseTo(2, 6)
    expect(solvedOnce(gravelPit())).toBe(plain)
    expect(solvedOnce(record)).toBe(moved)
  })

  it('keeps the sixteen used last', () => {
    const named = (k: number) => solvedOnce(gravelPit({ name: `Pit ${k}` }))
    const first = named(0)
    const second = named(1)
    for (let k = 2; k < 16; k++) named(k)
    expect(named(0)).toBe(first)
    named(16)
    expect(named(0)).toBe(first)
    expect(named(1)).not.toBe(second)
  })
})
