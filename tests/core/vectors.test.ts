import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  add,
  angleBetween,
  azElFromEnu,
  cross,
  dot,
  enuFromAzEl,
  norm,
  scale,
  sub,
  unit,
  type Vec3,
} from '../../src/core/vectors.ts'
import { DEG } from '../helpers/degrees.ts'

const seeded = { seed: 20260501, numRuns: 500 }
const real = fc.double({ min: -100, max: 100, noNaN: true })
const vector = fc.tuple(real, real, real).map(v => v as Vec3)

describe('cross and dot', () => {
  it('make east × north = up, in the right-handed Enu frame', () => {
    expect(cross([1, 0, 0], [0, 1, 0])).toEqual([0, 0, 1])
  })

  it('stand upright on both factors, and keep Lagrange’s identity', () => {
    fc.assert(
      fc.property(vector, vector, (a, b) => {
        const c = cross(a, b)
        const size = 1 + norm(a) * norm(b)
        expect(Math.abs(dot(c, a)) / (size * (1 + norm(a)))).toBeLessThan(1e-13)
        expect(Math.abs(dot(c, c) + dot(a, b) ** 2 - dot(a, a) * dot(b, b)) / size ** 2).toBeLessThan(1e-13)
      }),
      seeded,
    )
  })
})

describe('add, sub, scale, norm, unit', () => {
  it('undo each other', () => {
    fc.assert(
      fc.property(vector, vector, (a, b) => {
        sub(add(a, b), b).forEach((x, i) => {
          expect(x).toBeCloseTo(a[i]!, 10)
        })
        expect(norm(scale(a, -3))).toBeCloseTo(3 * norm(a), 10)
      }),
      seeded,
    )
    expect(norm(unit([3, -4, 12]))).toBeCloseTo(1, 15)
  })

  it('refuse the direction of nothing, and of NaN', () => {
    expect(() => unit([0, 0, 0])).toThrow(RangeError)
    expect(() => unit([Number.NaN, 0, 1])).toThrow(RangeError)
  })
})

describe('angleBetween', () => {
  it('keeps its digits near 0° and near 180°, where an acos loses half of them', () => {
    for (const small of [1e-12, 1e-9, 1e-6, 1e-3]) {
      const a: Vec3 = [1, 0, 0]
      const b: Vec3 = [Math.cos(small), Math.sin(small), 0]
      expect(angleBetween(a, b) / small).toBeCloseTo(1, 12)
      expect((Math.PI - angleBetween(a, scale(b, -5))) / small).toBeCloseTo(1, 3)
    }
    expect(angleBetween([0, 0, 2], [0, 3, 0])).toBeCloseTo(Math.PI / 2, 15)
  })
})

describe('azElFromEnu', () => {
  it('gives azimuth 0 to the zenith and to the nadir, and never a whole turn', () => {
    expect(azElFromEnu([0, 0, 1])).toEqual({ az: 0, el: Math.PI / 2 })
    expect(azElFromEnu([0, 0, -1])).toEqual({ az: 0, el: -Math.PI / 2 })
    const { az } = azElFromEnu([-1e-20, 1, 0])
    expect(az).toBeGreaterThanOrEqual(0)
    expect(az).toBeLessThan(2 * Math.PI)
  })

  it('turns with the compass: east is 90°, south 180°, west 270°', () => {
    for (const az of [0, 90, 180, 270, 359]) expect(azElFromEnu(enuFromAzEl(az * DEG, 0)).az / DEG).toBeCloseTo(az, 12)
  })
})

describe('what the types refuse', () => {
  const enu: Vec3<'Enu'> = [0, 0, 1]
  const dish: Vec3<'Dish'> = [0, 0, 1]

  it('a dish vector where an Enu vector is wanted, and the two together', () => {
    // @ts-expect-error: azimuth is an Enu matter
    azElFromEnu(dish)
    // @ts-expect-error: two frames do not mix
    dot(enu, dish)
    // @ts-expect-error: nor in a sum
    add(dish, enu)
    // @ts-expect-error: nor does a direction from the dish stand in Enu
    const wrong: Vec3<'Enu'> = dish
    // @ts-expect-error: an angle between vectors of the dish frame is asked for in Enu
    angleBetween(dish, dish)
    expect(wrong).toBe(dish)
    expect(dot(dish, dish)).toBe(1)
  })

  it('a cross product in the left-handed dish frame', () => {
    // @ts-expect-error: right × up = -out there, so the right-handed product would lie
    const turned = cross(dish, dish)
    expect(turned).toEqual([0, 0, 0])
    expect(cross(enu, enu)).toEqual([0, 0, 0])
  })
})
