import { describe, expect, it } from 'vitest'
import { echoPathDb } from '../../../src/core/dish/echopath.ts'

describe('echoPathDb', () => {
  it.each([
    // The radar equation of the Moon, ρ 0.065, at 1296 and 10368 MHz, dB: at this distance, at 384 400 km.
    [356_500, 269.87, 271.18],
    [406_700, 272.16, 271.18],
    [356_500, 287.93, 289.24],
    [406_700, 290.22, 289.24],
  ])('at %d km is the difference of the published losses, %d against %d dB', (km, there, mean) => {
    expect(echoPathDb(km)).toBeCloseTo(there - mean, 1)
  })

  it('is nothing at the mean distance', () => {
    expect(echoPathDb(384_400)).toBe(0)
  })
})
