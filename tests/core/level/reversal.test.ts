import { describe, expect, it } from 'vitest'
import {
  type Reversal,
  reversalOfElevations,
  reversalOfUpVectors,
  reversalOnCircle,
  reversalSigma,
} from '../../../src/core/level/reversal.ts'
import { degFromRad, radFromDeg } from '../../../src/core/units.ts'
import { unit, type Vec3 } from '../../../src/core/vectors.ts'
import { chance } from '../../helpers/random.ts'

type Turn = (u: Vec3<'Phone'>) => Vec3<'Phone'>
const X: Vec3<'Phone'> = [1, 0, 0]
const Y: Vec3<'Phone'> = [0, 1, 0]
const Z: Vec3<'Phone'> = [0, 0, 1]
const halfTurnAboutX: Turn = ([x, y, z]) => [x, -y, -z]
const halfTurnAboutY: Turn = ([x, y, z]) => [-x, y, -z]
const halfTurnAboutZ: Turn = ([x, y, z]) => [-x, -y, z]

/** What a phone with zero-g offsets reports of the true up vector. */
const seen = (up: Vec3<'Phone'>, bias: Vec3<'Phone'>): Vec3<'Phone'> =>
  unit([up[0] + bias[0], up[1] + bias[1], up[2] + bias[2]])
const onItsBack = (deg: number): Vec3<'Phone'> => [0, Math.sin(radFromDeg(deg)), Math.cos(radFromDeg(deg))]
const angleDeg = (r: Reversal): number => {
  if (r.kind !== 'reversed') throw new Error(`refused: ${r.kind}`)
  return degFromRad(r.angle)
}

/**
 * 20 mg on y and z, -15 mg on x; tilt of the y edge 0, 10, 30, 45, 60°. The errors were computed by the project's own
 * survey of platforms (no published table); the raw and the end-swap row are checked here too, so that it is the same phone.
 */
const BIAS: Vec3<'Phone'> = [-0.015, 0.02, 0.02]
const TABLE = [
  { tilt: 0, raw: 1.12, endSwap: 0, reversed: -0.02 },
  { tilt: 10, raw: 0.91, endSwap: -0.2, reversed: -0.02 },
  { tilt: 30, raw: 0.41, endSwap: -0.58, reversed: -0.02 },
  { tilt: 45, raw: -0.01, endSwap: -0.82, reversed: -0.01 },
  { tilt: 60, raw: -0.42, endSwap: -1.0, reversed: 0 },
]
const elevation = (u: Vec3<'Phone'>): number => degFromRad(Math.asin(u[1]))

describe('reversalOfUpVectors', () => {
  for (const { tilt, raw, endSwap, reversed } of TABLE) {
    const up = onItsBack(tilt)
    const first = seen(up, BIAS)

    it(`leaves ${reversed}° of a 20 mg phone's ${raw}° at ${tilt}°`, () => {
      // Half of the table's last digit; at 30° it stands at 0.4047.
      expect(Math.abs(elevation(first) - tilt - raw)).toBeLessThan(0.006)
      const r = reversalOfUpVectors(first, seen(halfTurnAboutX(up), BIAS), Y, X)
      // Half of the table's last digit, and 0.006° of the sideways component that it counts into the angle.
      expect(Math.abs(angleDeg(r) - tilt - reversed)).toBeLessThan(0.012)
    })

    it(`${tilt > 5 ? 'refuses' : 'lets pass'} a turn end for end on the same face at ${tilt}°, which would be ${endSwap}° off`, () => {
      const second = seen(halfTurnAboutZ(up), BIAS)
      expect((elevation(first) - elevation(second)) / 2 - tilt).toBeCloseTo(endSwap, 2)
      const r = reversalOfUpVectors(first, second, Y, X)
      if (tilt > 5) expect(r.kind).toBe('plain-end-swap')
      else expect(Math.abs(angleDeg(r) - tilt - endSwap)).toBeLessThan(0.01)
    })
  }

  it('leaves 0.01° at most when all four positions are read: no turn, about each of the three axes', () => {
    for (const [tilt, left] of [
      [0, 0],
      [10, 0],
      [30, 0],
      [45, -0.01],
      [60, -0.01],
    ] as const) {
      const up = onItsBack(tilt)
      const mean =
        (elevation(seen(up, BIAS)) +
          elevation(seen(halfTurnAboutY(up), BIAS)) -
          elevation(seen(halfTurnAboutX(up), BIAS)) -
          elevation(seen(halfTurnAboutZ(up), BIAS))) /
        4
      expect(Math.abs(mean - tilt - left)).toBeLessThan(0.0075)
    }
  })

  it('works on edge, where the right turn is upside down about the screen', () => {
    // Standing on the long edge x = 0 with the y edge 20° up: gravity in the x-y plane.
    const up: Vec3<'Phone'> = [-Math.cos(radFromDeg(20)), Math.sin(radFromDeg(20)), 0]
    const r = reversalOfUpVectors(seen(up, BIAS), seen(halfTurnAboutZ(up), BIAS), Y, Z)
    expect(angleDeg(r)).toBeCloseTo(20, 1)
    expect(r).toMatchObject({ proof: 'half-turn' })
  })

  it('gives the elevation of the line and not its angle in a plane that leans 30° sideways', () => {
    const s = Math.sin(radFromDeg(30))
    const up = unit([s, 0.25, 0.8]) as Vec3<'Phone'>
    const r = reversalOfUpVectors(up, halfTurnAboutX(up), Y, X)
    expect(angleDeg(r)).toBeCloseTo(degFromRad(Math.asin(up[1])), 9)
  })

  it('names a turn about the long edge (face swapped, ends not) and no turn at all', () => {
    const up = onItsBack(30)
    expect(reversalOfUpVectors(up, halfTurnAboutY(up), Y, X).kind).toBe('face-only')
    expect(reversalOfUpVectors(up, up, Y, X).kind).toBe('not-turned')
  })

  it('refuses a turn axis that is not square to the line', () => {
    expect(() => reversalOfUpVectors(Z, Z, Y, Y)).toThrow(RangeError)
  })

  it('of 2,000 phones with 20 mg on each axis: no right turn refused, no wrong one above 12° let pass', () => {
    const luck = chance(3)
    for (let k = 0; k < 1000; k++) {
      const bias: Vec3<'Phone'> = [luck.normal(0.02, 3), luck.normal(0.02, 3), luck.normal(0.02, 3)]
      const up = onItsBack(luck.between(-75, 75))
      const first = seen(up, bias)
      const right = reversalOfUpVectors(first, seen(halfTurnAboutX(up), bias), Y, X)
      // Second order in 60 mg: 0.06² rad = 0.2°.
      expect(Math.abs(angleDeg(right) - degFromRad(Math.asin(up[1])))).toBeLessThan(0.25)
      if (Math.abs(elevation(up)) > 12)
        expect(reversalOfUpVectors(first, seen(halfTurnAboutZ(up), bias), Y, X).kind).toBe('plain-end-swap')
    }
  })
})

describe('reversalOnCircle', () => {
  const circle = (first: number, second: number) => reversalOnCircle(radFromDeg(first), radFromDeg(second))

  it('makes 10.4° with 0.3° too much of 10.7 and -169.9, or of 10.7 and 190.1', () => {
    for (const second of [-169.9, 190.1]) {
      const r = circle(10.7, second)
      expect(angleDeg(r)).toBeCloseTo(10.4, 9)
      expect(r).toMatchObject({ kind: 'reversed', proof: 'half-turn' })
      if (r.kind === 'reversed') expect(degFromRad(r.bias)).toBeCloseTo(0.3, 9)
    }
  })
  it('refuses by name 30.4 and -29.8: ends swapped on the same face', () => {
    expect(circle(30.4, -29.8)).toMatchObject({ kind: 'plain-end-swap' })
    expect(circle(30.4, 330.2)).toMatchObject({ kind: 'plain-end-swap' })
  })
  it('lets 1.6 and -0.8 pass, 1.2° with 0.4° too much, since 20 mg leave 0.02° there', () => {
    const r = circle(1.6, -0.8)
    expect(angleDeg(r)).toBeCloseTo(1.2, 9)
    if (r.kind !== 'reversed') throw new Error(r.kind)
    expect(degFromRad(r.bias)).toBeCloseTo(0.4, 9)
    expect(degFromRad(r.left)).toBeCloseTo(Math.hypot(0.08, 0.02 * (180 / Math.PI) * Math.sin(radFromDeg(1.2))), 6)
  })
  it('names what was not turned, what was turned about its long edge, and what no turn explains', () => {
    expect(circle(30, 30.2)).toMatchObject({ kind: 'not-turned' })
    expect(circle(30, 150.1)).toMatchObject({ kind: 'face-only' })
    expect(circle(30, 80)).toMatchObject({ kind: 'no-reversal' })
  })
  it('says that near plumb the numbers prove nothing', () => {
    expect(circle(89, -91)).toMatchObject({ kind: 'reversed', proof: 'nearly-plumb' })
  })
})

describe('reversalOfElevations', () => {
  const pair = (first: number, second: number) => reversalOfElevations(radFromDeg(first), radFromDeg(second))

  it('takes the mean as the angle and half the difference as the error: 12.9 and 12.1 are 12.5 with 0.4 too much', () => {
    const r = pair(12.9, 12.1)
    expect(angleDeg(r)).toBeCloseTo(12.5, 9)
    if (r.kind !== 'reversed') throw new Error(r.kind)
    expect(degFromRad(r.bias)).toBeCloseTo(0.4, 9)
    expect(r.proof).toBe('none')
  })
  it('keeps in σ what an unproven turn may leave: 0.58° at 30°', () => {
    const r = pair(30.2, 29.8)
    if (r.kind !== 'reversed') throw new Error(r.kind)
    // 20 mg · sin 30° = 0.573°, with the 0.08° of any reversal.
    expect(degFromRad(reversalSigma(r.left, { noise: 0, step: 0 }))).toBeCloseTo(Math.hypot(0.573, 0.08), 3)
  })
  it('refuses +12 and -12: the signs are the instrument’s and not the end’s', () => {
    expect(pair(12, -12)).toMatchObject({ kind: 'opposite-sides' })
  })
  it('refuses 5 and 17, 12° apart', () => {
    expect(pair(5, 17)).toMatchObject({ kind: 'no-reversal' })
  })
})

describe('reversalSigma', () => {
  it('halves the square of the noise and neither rounding nor what is left: 0.1, 0.5 and 0.08° make 0.181°', () => {
    const sigma = reversalSigma(radFromDeg(0.08), { noise: radFromDeg(0.1), step: radFromDeg(0.5) })
    expect(degFromRad(sigma)).toBeCloseTo(Math.sqrt(0.005 + 0.25 / 12 + 0.0064), 9)
  })
})
