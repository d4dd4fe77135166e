import { describe, expect, it } from 'vitest'
import { type Fix, meanPosition } from '../../src/device/position.ts'

const fix = (latDeg: number, lonDeg: number, accuracyM: number, heightM: number | null = null): Fix => ({
  latDeg,
  lonDeg,
  accuracyM,
  heightM,
  heightAccuracyM: heightM === null ? null : 10,
})

describe('meanPosition', () => {
  it('weighs a fix of 5 m a hundred times as much as one of 50 m', () => {
    const mean = meanPosition([fix(47, 9, 5), fix(47.0101, 9, 50)])
    expect(mean.latDeg).toBeCloseTo(47.0001, 9)
    expect(mean.best.accuracyM).toBe(5)
  })

  it('does not shrink the radius by averaging: neighbouring fixes share their error', () => {
    expect(meanPosition(Array.from({ length: 100 }, () => fix(47, 9, 8))).radiusM).toBe(8)
  })

  it('widens the radius when the fixes scatter more than they admit', () => {
    // ±0.0009° of latitude is 100 m to either side; 95 % radius of such a scatter 1.73 × 100 m
    expect(meanPosition([fix(47.0009, 9, 5), fix(46.9991, 9, 5)]).radiusM).toBeCloseTo(173.4, 0)
  })

  it('is right across the date line, and at the pole', () => {
    expect(Math.abs(meanPosition([fix(10, 179.999, 5), fix(10, -179.999, 5)]).lonDeg)).toBeCloseTo(180, 9)
    expect(meanPosition([fix(90, 0, 5), fix(90, 120, 5)]).latDeg).toBe(90)
  })

  it('averages the heights that there are', () => {
    const mean = meanPosition([fix(47, 9, 5, 600), fix(47, 9, 5), fix(47, 9, 5, 610)])
    expect(mean.heightM).toBeCloseTo(605, 9)
    expect(mean.fixes).toBe(3)
    expect(meanPosition([fix(47, 9, 5)]).heightM).toBeNull()
  })
})
