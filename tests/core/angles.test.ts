import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { wrapPi, wrapTurn } from '../../src/core/angles.ts'

const TURN = 2 * Math.PI
const seeded = { seed: 20260501, numRuns: 1000 }
const angle = fc.oneof(
  fc.double({ min: -100, max: 100, noNaN: true }).filter(a => a === 0 || Math.abs(a) > 1e-300), // no denormal numbers
  fc.integer({ min: -20, max: 20 }).map(n => (n * Math.PI) / 2),
  fc.constantFrom(-1e-17, 1e-17, -1e-300, 0, -0),
)

/** The same direction on the circle. */
const isSame = (a: number, b: number) => {
  expect(Math.cos(a)).toBeCloseTo(Math.cos(b), 12)
  expect(Math.sin(a)).toBeCloseTo(Math.sin(b), 12)
}

describe('wrapPi', () => {
  it('gives the same angle from -180° to 180°', () => {
    fc.assert(
      fc.property(angle, a => {
        isSame(wrapPi(a), a)
        expect(wrapPi(a)).toBeGreaterThanOrEqual(-Math.PI)
        expect(wrapPi(a)).toBeLessThanOrEqual(Math.PI)
      }),
      seeded,
    )
  })

  it('calls half a turn -180°, so that the range is half open', () => {
    expect(wrapPi(Math.PI)).toBe(-Math.PI)
    expect(wrapPi(-Math.PI)).toBe(-Math.PI)
    expect(wrapPi(3)).toBeCloseTo(3, 14)
  })
})

describe('wrapTurn', () => {
  it('gives the same angle from 0° up to but never 360°, not even just below nought', () => {
    fc.assert(
      fc.property(angle, a => {
        isSame(wrapTurn(a), a)
        expect(wrapTurn(a)).toBeGreaterThanOrEqual(0)
        expect(wrapTurn(a)).toBeLessThan(TURN)
      }),
      seeded,
    )
    expect(wrapTurn(-1e-17)).toBe(0)
    expect(wrapTurn(-Math.PI / 2)).toBeCloseTo(1.5 * Math.PI, 14)
  })
})
