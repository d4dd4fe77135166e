import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { asTyped } from '../../../src/core/carry/numbers.ts'

describe('asTyped', () => {
  it('is worth what it says, and no further off than half of its last digit may be', () => {
    fc.assert(
      fc.property(fc.double({ min: -1000, max: 1000, noNaN: true }), fc.integer({ min: 0, max: 7 }), (value, power) => {
        const reach = 10 ** power
        const { value: worth, text } = asTyped(value, reach, 0.001)
        expect(Number(text)).toBe(worth)
        expect(Math.abs(worth - value) * reach).toBeLessThanOrEqual(0.00100001)
      }),
    )
  })
  it('has as few digits as that allows, and no power of ten before there would be many zeros', () => {
    expect(asTyped(1.23456, 1, 0.005).text).toBe('1.23')
    expect(asTyped(0.9876543, 100, 0.001).text).toBe('0.98765')
    expect(asTyped(-0.000012345678, 10_000, 0.001).text).toBe('-1.23e-5')
    expect(asTyped(-0.00001, 1, 0.005).text).toBe('0')
  })
})
