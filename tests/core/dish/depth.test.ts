/** Focal ratio from a straight-edge. */
import { describe, expect, it } from 'vitest'
import { depthFromFocalRatio, focalRatioFromDepth } from '../../../src/core/dish/depth.ts'

describe('focalRatioFromDepth', () => {
  it('is 0.4 for a 2.4 m dish that is 375 mm deep', () => {
    // f = D²/16d: 0.96 m. A paraboloid's definition z = r²/4f at the rim, worked by hand: 1.2²/(4 · 0.96) = 0.375.
    expect(focalRatioFromDepth(2.4, 375)).toBeCloseTo(0.4, 12)
    expect(depthFromFocalRatio(2.4, 0.4)).toBeCloseTo(375, 9)
  })
})
