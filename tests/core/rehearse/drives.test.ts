/** An axis under its buttons: speed, overrun, stops, slack. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Drive, driven, isMoving, pressed, still, stopOf } from '../../../src/core/rehearse/drives.ts'

const DRIVE: Drive = { readingsPerS: 8, overrun: 4, low: 0, high: 1000, slack: 6 }

describe('a drive', () => {
  it('runs at its speed while its button is held', () => {
    expect(driven(DRIVE, pressed(DRIVE, still(100), 1), 5).at).toBeCloseTo(140)
    expect(driven(DRIVE, pressed(DRIVE, still(100), -1), 5).at).toBeCloseTo(60)
  })

  it('runs on by its overrun once it is let go, and then rests', () => {
    const let_go = pressed(DRIVE, driven(DRIVE, pressed(DRIVE, still(100), 1), 5), 0)
    const later = driven(DRIVE, let_go, 60)
    expect(later.at).toBeCloseTo(144)
    expect(isMoving(later)).toBe(false)
    expect(isMoving(driven(DRIVE, let_go, 0.2))).toBe(true)
  })

  it('stops at its stops and says which', () => {
    const at = driven(DRIVE, pressed(DRIVE, still(990), 1), 60)
    expect(at.at).toBe(1000)
    expect(stopOf(DRIVE, at)).toBe('high')
    expect(stopOf(DRIVE, driven(DRIVE, pressed(DRIVE, at, -1), 1))).toBeNull()
  })

  it('leaves the axis behind by its slack after it turned round', () => {
    const up = driven(DRIVE, pressed(DRIVE, still(100), 1), 5)
    expect(up.side).toBe(1)
    // Three readings back take up half of a slack of six; six take all of it.
    expect(driven(DRIVE, pressed(DRIVE, up, -1), 3 / 8).side).toBeCloseTo(0)
    expect(driven(DRIVE, pressed(DRIVE, up, -1), 1).side).toBe(-1)
  })

  it('does the same in many small steps as in one', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 3, noNaN: true }), fc.integer({ min: 1, max: 40 }), (seconds, n) => {
        const start = pressed(DRIVE, pressed(DRIVE, still(500), 1), 0)
        let small = start
        for (let k = 0; k < n; k++) small = driven(DRIVE, small, seconds / n)
        const one = driven(DRIVE, start, seconds)
        expect(small.at).toBeCloseTo(one.at, 6)
        expect(small.side).toBeCloseTo(one.side, 6)
      }),
    )
  })

  it('does not run backward in time', () => {
    expect(() => driven(DRIVE, still(1), -1)).toThrow(RangeError)
  })
})
