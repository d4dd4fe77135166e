import { describe, expect, it } from 'vitest'
import { roundAbove } from '../../../src/ui/kit/roundabove.ts'

describe('roundAbove', () => {
  it('is 1, 2, 5 or 10 times a power of ten', () => {
    expect([0.0625, 0.2, 3, 5, 7, 100].map(roundAbove).map(v => Number(v.toPrecision(12)))).toEqual([
      0.1, 0.2, 5, 5, 10, 100,
    ])
  })
})
