import { describe, expect, it } from 'vitest'
import { dishFromOffset, offsetFromDish, shadowFromSun, sunFromShadow } from '../../../src/core/dish/shadow.ts'
import type { Vec3 } from '../../../src/core/vectors.ts'
import { DEG } from '../../helpers/degrees.ts'
import { seeded } from '../../helpers/random.ts'
import { between } from '../mount/sample.ts'

/** A Sun up to `most` degrees off the axis, uniform over the cap. */
function randomSun(random: () => number, most: number): Vec3<'Dish'> {
  const z = between(random, Math.cos(most * DEG), 1)
  const a = between(random, 0, 2 * Math.PI)
  const rho = Math.sqrt(1 - z * z)
  return [rho * Math.cos(a), rho * Math.sin(a), z]
}
const shadow = (f: number, sun: Vec3<'Dish'>): { rightMm: number; upMm: number } => {
  const at = shadowFromSun(f, sun)
  if (at === 'sun-behind-dish') throw new Error('the Sun shines in')
  return at
}

describe('shadowFromSun', () => {
  it('is where bisection along the ray from the feed meets the bowl, for 1000 Suns to 88° off the axis, to 1e-9 mm', () => {
    const random = seeded(401)
    let worst = 0
    for (let k = 0; k < 1000; k++) {
      const f = between(random, 150, 3000)
      const sun = randomSun(random, k % 2 ? 88 : 3)
      const above = (t: number): number => {
        const [x, y, z] = [-t * sun[0], -t * sun[1], f - t * sun[2]]
        return z - (x * x + y * y) / (4 * f)
      }
      let [near, far] = [0, 4 * f]
      expect(above(near)).toBeGreaterThan(0)
      expect(above(far)).toBeLessThan(0)
      for (let i = 0; i < 80; i++) {
        const middle = (near + far) / 2
        if (above(middle) > 0) near = middle
        else far = middle
      }
      const { rightMm, upMm } = shadow(f, sun)
      worst = Math.max(worst, Math.abs(rightMm + near * sun[0]), Math.abs(upMm + near * sun[1]))
    }
    console.info(`shadow against bisection: worst ${worst.toExponential(1)} mm`)
    expect(worst).toBeLessThan(1e-9)
  })

  it('lies 2f tan(θ/2) from the axis on the side away from the Sun', () => {
    // Polar equation of a parabola about its focus, r = 2f/(1 + cos θ): r sin θ = 2f tan(θ/2).
    const random = seeded(403)
    for (let k = 0; k < 500; k++) {
      const f = between(random, 150, 3000)
      const sun = randomSun(random, 88)
      const { rightMm, upMm } = shadow(f, sun)
      const theta = Math.acos(sun[2])
      expect(Math.abs(Math.hypot(rightMm, upMm) - 2 * f * Math.tan(theta / 2))).toBeLessThan(1e-6)
      expect(rightMm * sun[1] - upMm * sun[0]).toBeCloseTo(0, 9)
      expect(rightMm * sun[0] + upMm * sun[1]).toBeLessThanOrEqual(0)
    }
  })

  it('moves 16.76 mm for a degree at a focal length of 0.96 m', () => {
    // Worked by hand: shift at the vertex = f tan θ; the exact 2f tan(θ/2) is 16.756 mm, f tan θ 16.757 mm.
    const { rightMm } = shadow(960, dishFromOffset({ right: 1 * DEG, up: 0 }))
    expect(Math.abs(rightMm + 16.76)).toBeLessThan(0.005)
  })

  it('falls on the vertex when the Sun is on the shadow line', () => {
    const { rightMm, upMm } = shadow(960, [0, 0, 1])
    expect(Math.hypot(rightMm, upMm)).toBe(0)
  })

  it('falls to the left when the Sun is to the right, and low when it is high', () => {
    expect(shadow(960, dishFromOffset({ right: 0.02, up: 0 })).rightMm).toBeLessThan(0)
    expect(shadow(960, dishFromOffset({ right: 0, up: 0.02 })).upMm).toBeLessThan(0)
  })

  it("says 'sun-behind-dish' when the Sun is behind it or in the plane of the rim, instead of a point", () => {
    expect(shadowFromSun(960, [0, 0, -1])).toBe('sun-behind-dish')
    expect(shadowFromSun(960, [0.6, 0, -0.8])).toBe('sun-behind-dish')
    expect(shadowFromSun(960, [1, 0, 0])).toBe('sun-behind-dish')
  })
})

describe('sunFromShadow', () => {
  it('undoes shadowFromSun: offsets come back to 1e-12 rad, shadows to 1e-9 mm', () => {
    const random = seeded(411)
    for (let k = 0; k < 1000; k++) {
      const f = between(random, 150, 3000)
      const sun = randomSun(random, 85)
      const { rightMm, upMm } = shadow(f, sun)
      const offset = sunFromShadow(f, rightMm, upMm)
      const want = offsetFromDish(sun)
      expect(Math.hypot(offset.right - want.right, offset.up - want.up)).toBeLessThan(1e-12)
      const again = shadow(f, dishFromOffset(offset))
      expect(Math.hypot(again.rightMm - rightMm, again.upMm - upMm)).toBeLessThan(1e-9)
    }
  })

  it('puts the Sun to the right of a dish whose shadow fell to the left: 12 mm left and 4 mm up at f 1.2 m', () => {
    const { right, up } = sunFromShadow(1200, -12, 4)
    // 2 atan(ρ/2f) = 0.60394° in all, split as the shadow is.
    const angle = 2 * Math.atan(Math.hypot(12, 4) / 2400)
    expect(right).toBeCloseTo((angle * 12) / Math.hypot(12, 4), 14)
    expect(up).toBeCloseTo((-angle * 4) / Math.hypot(12, 4), 14)
  })

  it('is nought for a shadow on the vertex', () => {
    const { right, up } = sunFromShadow(960, 0, 0)
    expect(Math.hypot(right, up)).toBe(0)
  })
})

describe('a focal length that is none', () => {
  it('stops at the door: nought, negative and NaN', () => {
    for (const f of [0, -960, Number.NaN]) {
      expect(() => sunFromShadow(f, 1, 1)).toThrow(RangeError)
      expect(() => shadowFromSun(f, [0, 0, 1])).toThrow(RangeError)
    }
  })
})

describe('offsets', () => {
  it('are the arc along the great circle, split by right and up: 30° to the right and 40° up is 50° away', () => {
    const d = dishFromOffset({ right: 30 * DEG, up: 40 * DEG })
    expect(d[2]).toBeCloseTo(Math.cos(50 * DEG), 14)
    expect(d[0] / d[1]).toBeCloseTo(0.75, 14)
    const back = offsetFromDish(d)
    expect(back.right / DEG).toBeCloseTo(30, 12)
    expect(back.up / DEG).toBeCloseTo(40, 12)
  })

  it('go round trip for any direction but the one straight behind, any length of vector, to 1e-12 rad', () => {
    const random = seeded(421)
    for (let k = 0; k < 1000; k++) {
      const size = k % 3 === 0 ? between(random, 0, 1e-8) : between(random, 0, 3.1)
      const a = between(random, 0, 7)
      const offset = { right: size * Math.cos(a), up: size * Math.sin(a) }
      const d = dishFromOffset(offset)
      expect(Math.hypot(...d)).toBeCloseTo(1, 14)
      const back = offsetFromDish([d[0] * 7, d[1] * 7, d[2] * 7])
      expect(Math.hypot(back.right - offset.right, back.up - offset.up)).toBeLessThan(1e-12)
    }
  })
})
