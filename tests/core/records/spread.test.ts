import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { spreadOf } from '../../../src/core/records/spread.ts'

describe('spreadOf', () => {
  it('finds both σ again, whichever way the drift runs', () => {
    const sigma = fc.double({ min: 0.001, max: 10, noNaN: true })
    fc.assert(
      fc.property(sigma, sigma, fc.double({ min: 0, max: 6.3, noNaN: true }), (a, b, way) => {
        const [x, y] = [Math.cos(way), Math.sin(way)]
        const [ca, cb] = [a * a, b * b]
        const s = spreadOf({ rr: ca * x * x + cb * y * y, ru: (ca - cb) * x * y, uu: ca * y * y + cb * x * x })
        expect(s.mostDeg / Math.max(a, b)).toBeCloseTo(1, 6)
        expect(s.leastDeg / Math.min(a, b)).toBeCloseTo(1, 3)
      }),
    )
  })
})
