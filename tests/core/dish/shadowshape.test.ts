import { describe, expect, it } from 'vitest'
import { shadowFromSun } from '../../../src/core/dish/shadow.ts'
import { shadowOfPoint, shadowShape } from '../../../src/core/dish/shadowshape.ts'
import type { Vec3 } from '../../../src/core/vectors.ts'
import { DEG } from '../../helpers/degrees.ts'
import { chance } from '../../helpers/random.ts'
import { someOf } from '../../helpers/some.ts'

const sunAt = (theta: number, angle: number): Vec3<'Dish'> => [
  Math.sin(theta) * Math.cos(angle),
  Math.sin(theta) * Math.sin(angle),
  Math.cos(theta),
]

/** The same by walking down the ray until it is below the bowl, then halving. */
function walked(f: number, q: Vec3<'Dish'>, s: Vec3<'Dish'>): [number, number] {
  const above = (t: number) => {
    const [x, y, z] = [q[0] - t * s[0], q[1] - t * s[1], q[2] - t * s[2]]
    return z - (x * x + y * y) / (4 * f)
  }
  let a = 0
  let b = 1
  while (above(b) > 0) {
    a = b
    b *= 1.1
  }
  for (let k = 0; k < 200; k++) {
    const m = (a + b) / 2
    if (above(m) > 0) a = m
    else b = m
  }
  return [q[0] - a * s[0], q[1] - a * s[1]]
}

describe('shadowOfPoint', () => {
  it('lands where walking down the ray lands, for 1000 random Suns, feeds and dishes', () => {
    const c = chance(11)
    for (let k = 0; k < 1000; k++) {
      const f = c.between(200, 3000)
      const q: Vec3<'Dish'> = [c.between(-0.2, 0.2) * f, c.between(-0.2, 0.2) * f, f * c.between(0.8, 1.2)]
      const sun = sunAt(c.between(0, 60 * DEG), c.between(0, 2 * Math.PI))
      const p = shadowOfPoint(f, q, sun)!
      const [x, y] = walked(f, q, sun)
      expect(Math.hypot(p.rightMm - x, p.upMm - y)).toBeLessThan(1e-6 * f)
      const own = shadowFromSun(f, sun)
      const focus = shadowOfPoint(f, [0, 0, f], sun)!
      if (own === 'sun-behind-dish') throw new Error('behind')
      expect(Math.hypot(focus.rightMm - own.rightMm, focus.upMm - own.upMm)).toBeLessThan(1e-8 * f)
    }
  })
  it('has none when the Sun stands behind the dish', () => {
    expect(shadowOfPoint(960, [0, 0, 960], [0, 0.8, -0.6])).toBeNull()
  })
})

describe('shadowShape', () => {
  it("is round, of the feed's size and blurred by 8.9 mm in all, with the Sun on the axis at f = 0.96 m", () => {
    // Worked by hand: 960 mm · 0.533° = 8.93 mm of penumbra.
    const shape = shadowShape(960, 1200, [0, 0, 960], 180, [0, 0, 1])!
    for (const p of someOf(shape.outline)) expect(Math.hypot(p.rightMm, p.upMm)).toBeCloseTo(90, 9)
    expect(Math.hypot(shape.centre.rightMm, shape.centre.upMm)).toBe(0)
    expect(2 * shape.blurMm).toBeCloseTo(8.93, 2)
    expect(shape.isWhole).toBe(true)
  })
  it('moves 16.76 mm for a degree, to the side away from the Sun, and leaves the dish when far off', () => {
    const shape = shadowShape(960, 1200, [0, 0, 960], 180, sunAt(DEG, 0))!
    expect(shape.centre.rightMm).toBeCloseTo(-16.76, 2)
    expect(shadowShape(960, 1200, [0, 0, 960], 180, sunAt(64 * DEG, 1))!.isWhole).toBe(false)
    expect(shadowShape(960, 1200, [0, 0, 960], 180, [1, 0, 0])).toBeNull()
  })
})
