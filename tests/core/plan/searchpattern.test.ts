/** The places of a search: nothing between them is missed, none twice, the likelier first, a row where one will do. */
import { describe, expect, it } from 'vitest'
import { type PatternWish, patternOf } from '../../../src/core/plan/searchpattern.ts'
import { chance } from '../../helpers/random.ts'
import { someOf } from '../../helpers/some.ts'

const c = chance(41)
const drawn = (): PatternWish => {
  const wide = c.between(0, 40)
  return { wide, narrow: c.next() < 0.3 ? c.between(0, 1) : wide * c.next(), reach: c.between(0.6, 4) }
}
const distance = (wish: PatternWish, x: number, y: number): number =>
  Math.min(...patternOf(wish).places.map(([along, across]) => Math.hypot(along - x, across - y)))

describe('a pattern', () => {
  it('leaves no spot of what it covers further from a place than its reach: ellipses and bands, drawn', () => {
    for (let n = 0; n < 120; n++) {
      const wish = { ...drawn(), isBand: n % 3 === 0 }
      for (let k = 0; k < 30; k++) {
        // The edge is where a gap would be.
        const r = k % 2 === 0 ? 1 : Math.sqrt(c.next())
        const a = c.between(0, 2 * Math.PI)
        const [x, y] = wish.isBand
          ? [wish.wide * c.between(-1, 1), wish.narrow * c.between(-1, 1)]
          : [r * wish.wide * Math.cos(a), r * wish.narrow * Math.sin(a)]
        expect([wish, distance(wish, x, y) <= wish.reach + 1e-9]).toEqual([wish, true])
      }
    }
  })

  it('would leave gaps with cells a tenth longer', () => {
    const wish = { wide: 10, narrow: 10, reach: 1 }
    const { places, step } = patternOf(wish)
    const far = 1.1 * Math.hypot(step.along, step.across) * 0.5
    expect(far).toBeGreaterThan(wish.reach)
    // The corner where four cells meet is exactly as far as allowed.
    expect(distance(wish, step.along / 2, step.across / 2)).toBeCloseTo(wish.reach, 9)
    expect(places[0]).toEqual([0, 0])
  })

  it('visits no place twice, and none that has nothing to cover', () => {
    for (let n = 0; n < 60; n++) {
      const wish = drawn()
      const { places, step } = patternOf(wish)
      expect(new Set(places.map(p => `${p[0].toFixed(6)} ${p[1].toFixed(6)}`)).size).toBe(places.length)
      const near = (x: number, size: number) => Math.max(0, Math.abs(x) - size / 2)
      for (const [x, y] of someOf(places)) {
        const [u, v] = [near(x, step.along) / wish.wide, near(y, step.across) / Math.max(1e-12, wish.narrow)]
        expect(u * u + (near(y, step.across) === 0 ? 0 : v * v)).toBeLessThanOrEqual(1 + 1e-9)
      }
    }
  })

  it('looks at the likelier places first: of the first half of the steps, the mean is nearer in σ than of the second', () => {
    for (const wish of [
      { wide: 10, narrow: 10, reach: 1 },
      { wide: 20, narrow: 5, reach: 1 },
      { wide: 30, narrow: 0.2, reach: 1 },
    ]) {
      const { places } = patternOf(wish)
      const far = places.map(([x, y]) => Math.hypot(x / wish.wide, y / Math.max(wish.narrow, 1)))
      const mean = (list: number[]) => list.reduce((a, b) => a + b, 0) / list.length
      const half = far.length >> 1
      expect(mean(far.slice(0, half))).toBeLessThan(0.75 * mean(far.slice(half)))
    }
  })

  it('of a round uncertainty is a spiral: every step goes to a neighbour', () => {
    const { places, step } = patternOf({ wide: 7, narrow: 7, reach: 1 })
    const jumps = places.slice(1).map((p, k) => Math.hypot(p[0] - places[k]![0], p[1] - places[k]![1]))
    // Two corners are cut off the square where the ellipse does not come.
    expect(jumps.filter(d => d > 1.5 * step.along).length).toBeLessThan(places.length / 4)
    expect(Math.max(...jumps.slice(0, 20))).toBeLessThan(1.5 * step.along)
  })

  it('is one row where the uncertainty is narrow, and its steps are longer the narrower it is', () => {
    const thin = patternOf({ wide: 20, narrow: 0.1, reach: 1 })
    expect(thin.places.every(([, across]) => across === 0)).toBe(true)
    expect(thin.step.along).toBeGreaterThan(1.98)
    expect(patternOf({ wide: 20, narrow: 0.7, reach: 1 }).step.along).toBeLessThan(1.5)
    expect(thin.places.slice(0, 4).map(([x]) => Math.round(x / thin.step.along))).toEqual([0, 1, -1, 2])
  })

  it('of a band begins with its whole middle row', () => {
    const { places, step } = patternOf({ wide: 20, narrow: 5, reach: 1, isBand: true })
    const first = places.findIndex(([, across]) => across !== 0)
    expect(first).toBe(2 * Math.ceil(20 / step.along - 0.5) + 1)
  })

  it('is a single place where the beam is sure to hold it', () => {
    expect(patternOf({ wide: 0.3, narrow: 0.1, reach: 1 }).places).toEqual([[0, 0]])
    expect(patternOf({ wide: 0, narrow: 0, reach: 1 }).places).toEqual([[0, 0]])
    expect(() => patternOf({ wide: Number.NaN, narrow: 1, reach: 1 })).toThrow(RangeError)
  })
})
