import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Deg, degFromRad, type Metres, type Mm, type Rad, radFromDeg } from '../../src/core/units.ts'

const seeded = { seed: 20260501, numRuns: 1000 }

describe('radFromDeg and degFromRad', () => {
  it('make 180° out of π and back', () => {
    expect(radFromDeg(180)).toBe(Math.PI)
    expect(degFromRad(Math.PI)).toBe(180)
    expect(radFromDeg(-45)).toBeCloseTo(-Math.PI / 4, 15)
  })

  it('go round trip within the last three bits', () => {
    fc.assert(
      fc.property(fc.double({ min: -720, max: 720, noNaN: true }), d => {
        expect(Math.abs(degFromRad(radFromDeg(d)) - d)).toBeLessThanOrEqual(5e-16 * Math.abs(d) + 1e-300)
      }),
      seeded,
    )
  })
})

describe('what the types refuse', () => {
  it('degrees for radians, millimetres for metres', () => {
    const deg: Deg = 30
    const mm: Mm = 960
    // @ts-expect-error: degrees are not radians
    const rad: Rad = deg
    // @ts-expect-error: nor are they to be converted twice
    degFromRad(deg)
    // @ts-expect-error: millimetres are not metres
    const metres: Metres = mm
    // A bare number is let in: arithmetic stays light.
    const bare: Rad = 0.5
    expect([rad, metres, bare]).toEqual([30, 960, 0.5])
  })
})
