import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  apply,
  compose,
  IDENTITY,
  type Rotation,
  rotation,
  rotationFromVector,
  transpose,
  turnFromVectorStep,
} from '../../src/core/rotations.ts'
import { cross, dot, norm, unit, type Vec3 } from '../../src/core/vectors.ts'

const seeded = { seed: 20260501, numRuns: 500 }
const real = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const vector = fc
  .tuple(real(-1, 1), real(-1, 1), real(-1, 1))
  .filter(v => Math.hypot(...v) > 0.01)
  .map(v => unit(v as Vec3))
const worst = (a: readonly number[], b: readonly number[]) => Math.max(...a.map((x, i) => Math.abs(x - b[i]!)))

describe('the frames of a rotation', () => {
  it('refuse, as types, a vector of another frame and a composition in the other order', () => {
    const dishFromEnu: Rotation<'Dish', 'Enu'> = IDENTITY as unknown as Rotation<'Dish', 'Enu'>
    const enuFromPhone: Rotation<'Enu', 'Phone'> = IDENTITY as unknown as Rotation<'Enu', 'Phone'>
    const up: Vec3<'Phone'> = [0, 0, 1]
    const dishFromPhone: Rotation<'Dish', 'Phone'> = compose(dishFromEnu, enuFromPhone)
    const seen: Vec3<'Dish'> = apply(dishFromPhone, up)
    const back: Vec3<'Phone'> = apply(transpose(dishFromPhone), seen)
    expect(back).toEqual(up)
    // @ts-expect-error Phone is no frame that Enu-from-Phone ends in
    compose(enuFromPhone, dishFromEnu)
    // @ts-expect-error a vector of the phone is not one of Enu
    apply(dishFromEnu, up)
  })
})

describe('rotation', () => {
  it('turns right-handed: a quarter turn about up takes east to north, about north takes up to east', () => {
    expect(worst(apply(rotation([0, 0, 1], Math.PI / 2), [1, 0, 0]), [0, 1, 0])).toBeLessThan(1e-15)
    expect(worst(apply(rotation([0, 1, 0], Math.PI / 2), [0, 0, 1]), [1, 0, 0])).toBeLessThan(1e-15)
  })

  it('is Rodrigues’ formula: v cos t + (a × v) sin t + a (a · v)(1 - cos t)', () => {
    fc.assert(
      fc.property(vector, vector, real(-7, 7), (a, v, t) => {
        const [c, s] = [Math.cos(t), Math.sin(t)]
        const w = cross(a, v)
        const k = dot(a, v) * (1 - c)
        const want = [0, 1, 2].map(i => v[i]! * c + w[i]! * s + a[i]! * k)
        expect(worst(apply(rotation(a, t), v), want)).toBeLessThan(1e-14)
      }),
      seeded,
    )
  })

  it('keeps lengths and handedness; transposed it turns back', () => {
    fc.assert(
      fc.property(vector, vector, real(-7, 7), (a, v, t) => {
        const m = rotation(a, t)
        expect(norm(apply(m, v))).toBeCloseTo(1, 14)
        expect(worst(compose(m, transpose(m)), IDENTITY)).toBeLessThan(1e-14)
        expect(worst(transpose(m), rotation(a, -t))).toBeLessThan(1e-14)
        const x = apply(m, [1, 0, 0])
        const y = apply(m, [0, 1, 0])
        expect(worst(cross(x, y), apply(m, [0, 0, 1]))).toBeLessThan(1e-14)
      }),
      seeded,
    )
  })
})

describe('compose', () => {
  it('applies its second argument first', () => {
    fc.assert(
      fc.property(vector, vector, vector, real(-7, 7), real(-7, 7), (a, b, v, s, t) => {
        const [m, n] = [rotation(a, s), rotation(b, t)]
        expect(worst(apply(compose(m, n), v), apply(m, apply(n, v)))).toBeLessThan(1e-14)
      }),
      seeded,
    )
    // Up, then north: not the same as north, then up.
    const [up, north] = [rotation([0, 0, 1], 1), rotation([0, 1, 0], 1)]
    expect(worst(compose(up, north), compose(north, up))).toBeGreaterThan(0.1)
  })
})

describe('rotationFromVector', () => {
  it('turns by the vector’s length about it, down to nothing', () => {
    fc.assert(
      fc.property(vector, real(0, 3), (a, t) => {
        expect(worst(rotationFromVector([a[0] * t, a[1] * t, a[2] * t]), rotation(a, t))).toBeLessThan(1e-14)
      }),
      seeded,
    )
    expect(rotationFromVector([0, 0, 0])).toEqual(IDENTITY)
    expect(worst(rotationFromVector([1e-200, 0, 0]), IDENTITY)).toBeLessThan(1e-15)
  })
})

describe('turnFromVectorStep', () => {
  it('is the axis about which exp([v]×) turns when v grows by w: central differences agree to 1e-9', () => {
    fc.assert(
      fc.property(
        vector,
        fc.oneof(real(0, 3), real(0, 2e-4), fc.constantFrom(0, 0.99e-4, 1.01e-4)),
        vector,
        vector,
        (axis, size, w, x) => {
          const v: Vec3 = [axis[0] * size, axis[1] * size, axis[2] * size]
          const h = 1e-3
          const at = (e: number): Rotation => rotationFromVector([v[0] + e * w[0], v[1] + e * w[1], v[2] + e * w[2]])
          const point = (e: number) => apply(at(e), x)
          const [p1, m1, p2, m2] = [point(h), point(-h), point(2 * h), point(-2 * h)]
          const difference = p1.map((p, i) => (8 * (p - m1[i]!) - (p2[i]! - m2[i]!)) / (12 * h))
          const omega = turnFromVectorStep(v, w)
          expect(worst(cross(omega, apply(at(0), x)), difference)).toBeLessThan(1e-9)
        },
      ),
      seeded,
    )
  })

  it('does not jump where the series takes over from the closed form, at 1e-4 rad', () => {
    const w: Vec3 = [0.3, -0.5, 0.8]
    const below = turnFromVectorStep([0.99999e-4, 0, 0], w)
    const above = turnFromVectorStep([1.00001e-4, 0, 0], w)
    expect(worst(below, above)).toBeLessThan(1e-8)
  })
})
