import { describe, expect, it } from 'vitest'
import {
  angleApart,
  angleInPlane,
  EDGES,
  elevationOf,
  endsOf,
  GRAVITY,
  lineOfEnd,
  signLyingFaceUp,
  signOfGravity,
  turnAxisFor,
  upFromAngles,
  upFromGravity,
} from '../../../src/core/level/upvector.ts'
import { apply, type Rotation } from '../../../src/core/rotations.ts'
import { degFromRad, radFromDeg } from '../../../src/core/units.ts'
import { azElFromEnu, norm, scale, type Vec3 } from '../../../src/core/vectors.ts'
import { authority } from '../../helpers/authorities.ts'
import { chance } from '../../helpers/random.ts'

// W3C Device Orientation and Motion, appendix A: tests/authorities/level/README.md.
const w3c = authority('level/w3c-orientation.json') as { entries: { expected: { rows?: unknown[][] } }[] }
type Row = [number, number, number, number[][], number[], number | null, number, number | null]
const ROWS = w3c.entries[0]!.expected.rows as Row[]

/** Enu from Phone: columns are the phone's x, y and z in Enu; the third row is up as the phone sees it. */
function enuFromPhone(alpha: number, beta: number, gamma: number): Rotation<'Enu', 'Phone'> {
  const [cA, sA, cB, sB] = [Math.cos(alpha), Math.sin(alpha), Math.cos(beta), Math.sin(beta)]
  const [cG, sG] = [Math.cos(gamma), Math.sin(gamma)]
  return [
    cA * cG - sA * sB * sG,
    -cB * sA,
    cG * sA * sB + cA * sG,
    cG * sA + cA * sB * sG,
    cA * cB,
    sA * sG - cA * cG * sB,
    -cB * sG,
    sB,
    cB * cG,
  ]
}

const matrix = (alpha: number, beta: number, gamma: number) =>
  enuFromPhone(radFromDeg(alpha), radFromDeg(beta), radFromDeg(gamma))
const up = (beta: number, gamma: number) => upFromAngles(radFromDeg(beta), radFromDeg(gamma))
const turn = (deg: number): number => ((deg % 360) + 360) % 360

describe('enuFromPhone', () => {
  it('is the specification’s matrix at its twelve attitudes, beta = 90° among them', () => {
    expect(ROWS).toHaveLength(12)
    for (const [alpha, beta, gamma, rows] of ROWS) {
      const m = matrix(alpha, beta, gamma)
      for (const [i, x] of rows.flat().entries()) expect(Math.abs(m[i]! - x)).toBeLessThan(1e-8)
    }
  })
  it('gives the heading and elevation of the back of the screen, and the heading of the top edge', () => {
    for (const [alpha, beta, gamma, , , heading, elevation, top] of ROWS) {
      const m = matrix(alpha, beta, gamma)
      const back = azElFromEnu(apply(m, [0, 0, -1]))
      expect(degFromRad(back.el)).toBeCloseTo(elevation, 4)
      if (heading !== null) expect(turn(degFromRad(back.az) - heading + 180)).toBeCloseTo(180, 4)
      if (top !== null) expect(turn(degFromRad(azElFromEnu(apply(m, [0, 1, 0])).az) - top + 180)).toBeCloseTo(180, 4)
    }
  })
  it('keeps the statements: top to the west is alpha 90; a heading of the top is 360 - alpha; on its right side alpha = 270 - H', () => {
    const west = apply(matrix(90, 0, 0), [0, 1, 0])
    expect(west[0]).toBeCloseTo(-1, 12)
    for (const alpha of [0, 10, 200, 359])
      expect(turn(degFromRad(azElFromEnu(apply(matrix(alpha, 0, 0), [0, 1, 0])).az) + alpha)).toBeCloseTo(0, 9)
    // The user faces H, the screen is vertical and faces the user, the top is to the right: the back of it looks toward H.
    for (const H of [0, 77, 300]) {
      const m = matrix(270 - H, 0, 90)
      expect(turn(degFromRad(azElFromEnu(apply(m, [0, 0, -1])).az) - H + 180)).toBeCloseTo(180, 9)
      expect(turn(degFromRad(azElFromEnu(apply(m, [0, 1, 0])).az) - H - 90 + 180)).toBeCloseTo(180, 9)
    }
  })
  it('keeps the statements on the back of the screen: -(alpha + gamma) at beta 90, -alpha at gamma 0', () => {
    for (const [alpha, gamma] of [
      [30, 0],
      [77, 33],
      [200, -50],
    ] as const) {
      const at90 = azElFromEnu(apply(matrix(alpha, 90, gamma), [0, 0, -1]))
      expect(turn(degFromRad(at90.az) + alpha + gamma + 180)).toBeCloseTo(180, 9)
      const flat = azElFromEnu(apply(matrix(alpha, 45, 0), [0, 0, -1]))
      expect(turn(degFromRad(flat.az) + alpha + 180)).toBeCloseTo(180, 9)
    }
  })
})

describe('upFromAngles', () => {
  it('is the third row of the matrix, whatever the heading', () => {
    const luck = chance(1)
    for (let k = 0; k < 500; k++) {
      const [a, b, g] = [luck.between(0, 360), luck.between(-180, 180), luck.between(-90, 90)]
      const row = matrix(a, b, g).slice(6)
      for (const [i, x] of up(b, g).entries()) expect(x).toBeCloseTo(row[i]!, 14)
    }
  })
  it('points out of the screen when the phone lies on its back, and to the top when it stands upright', () => {
    expect(up(0, 0)).toEqual([-0, 0, 1])
    expect(up(90, 0)[1]).toBe(1)
    expect(up(-90, 0)[1]).toBe(-1)
    expect(up(0, 90)[0]).toBe(-1)
    expect(up(180, 0)[2]).toBe(-1)
  })
  it('does not care about alpha and gamma at beta = ±90°, where they lose their meaning', () => {
    for (const beta of [90, -90])
      for (const gamma of [-89, 0, 45]) expect(Math.abs(up(beta, gamma)[1])).toBeCloseTo(1, 15)
    // (10, 89.9, 5) and (15, 89.9, 0) are nearly one attitude; the up vectors differ by far less than the angles.
    expect(degFromRad(angleApart(up(89.9, 5), up(89.9, 0)))).toBeLessThan(0.009)
  })
  it('comes back from any attitude: the matrix brings it to Enu’s up', () => {
    const luck = chance(2)
    for (let k = 0; k < 500; k++) {
      const [a, b, g] = [luck.between(0, 360), luck.between(-180, 180), luck.between(-90, 90)]
      const v = apply(matrix(a, b, g), up(b, g))
      expect(v[2]).toBeCloseTo(1, 14)
      expect(Math.hypot(v[0], v[1])).toBeLessThan(1e-14)
    }
  })
})

describe('signOfGravity', () => {
  const lying = up(12, -7)
  it('finds + where lying on its back shows +9.8 on z (the specification), - where it shows -9.8', () => {
    expect(signOfGravity(scale(lying, GRAVITY), lying)).toMatchObject({ kind: 'sign', sign: 1 })
    expect(signOfGravity(scale(lying, -GRAVITY), lying)).toMatchObject({ kind: 'sign', sign: -1 })
  })
  it('bears 20 mg on each axis and rounding to 0.1 m/s², in any attitude', () => {
    const luck = chance(3)
    for (let k = 0; k < 2000; k++) {
      const u = up(luck.between(-180, 180), luck.between(-90, 90))
      const s = luck.sign()
      const seen = u.map(x => Math.round(10 * s * GRAVITY * (x + luck.normal(0.02, 2.5))) / 10) as [
        number,
        number,
        number,
      ]
      expect(signOfGravity(seen, u)).toMatchObject({ kind: 'sign', sign: s })
    }
  })
  it('refuses two sources 6° apart, and an acceleration of 1.2 g', () => {
    const other = up(18, -7)
    const found = signOfGravity(scale(other, GRAVITY), lying)
    expect(found.kind).toBe('disagree')
    if (found.kind === 'disagree') expect(degFromRad(found.apart)).toBeCloseTo(6, 1)
    expect(signOfGravity(scale(lying, 1.2 * GRAVITY), lying)).toEqual({ kind: 'not-still' })
    expect(signOfGravity([0, 0, 0], lying)).toEqual({ kind: 'not-still' })
  })
  it('can be told by laying the phone on its back, and by nothing else', () => {
    expect(signLyingFaceUp([0.3, -0.2, 9.8])).toBe(1)
    expect(signLyingFaceUp([0.3, -0.2, -9.8])).toBe(-1)
    expect(signLyingFaceUp([0, 9.8, 0])).toBeNull()
    expect(signLyingFaceUp([0, 0, 20])).toBeNull()
  })
})

describe('upFromGravity', () => {
  it('is a unit vector, and none while the phone is shaken', () => {
    const u = upFromGravity([0, -6.9, -6.9], -1)!
    expect(norm(u)).toBeCloseTo(1, 12)
    expect(degFromRad(elevationOf(lineOfEnd('top'), u))).toBeCloseTo(45, 9)
    expect(upFromGravity([0, 0, 15], 1)).toBeNull()
  })
})

describe('edges', () => {
  it('rise by beta along the long edge up to 90°, and by less than gamma along the short one', () => {
    expect(degFromRad(elevationOf(lineOfEnd('top'), up(33, 20)))).toBeCloseTo(33, 9)
    // asin(cos 33° sin 20°) = 16.67°, and gamma + means that the right edge goes down.
    expect(degFromRad(elevationOf(lineOfEnd('right'), up(33, 20)))).toBeCloseTo(-16.667, 2)
  })
  it('have two ends that rise and fall by as much', () => {
    for (const edge of EDGES) {
      const [a, b] = endsOf(edge).map(end => elevationOf(lineOfEnd(end), up(40, 25)))
      expect(a! + b!).toBeCloseTo(0, 14)
    }
  })
})

describe('turnAxisFor', () => {
  it('is the short axis on its back, the screen’s normal on its side', () => {
    expect(turnAxisFor('top', up(10, 2))).toBe('x')
    expect(turnAxisFor('bottom', up(-10, -178))).toBe('x')
    expect(turnAxisFor('top', up(10, 85))).toBe('z')
    expect(turnAxisFor('right', up(2, 10))).toBe('y')
    expect(turnAxisFor('left', up(85, 10))).toBe('z')
    expect(turnAxisFor('screen', up(60, 3))).toBe('x')
    expect(turnAxisFor('screen', up(3, 60))).toBe('y')
  })
  it('is square to its line, and half a turn about it negates what lies in the plane', () => {
    const luck = chance(4)
    for (let k = 0; k < 300; k++) {
      const u = up(luck.between(-180, 180), luck.between(-90, 90))
      for (const edge of EDGES) {
        const end = endsOf(edge)[0]
        const axis = turnAxisFor(end, u)
        const at = 'xyz'.indexOf(axis)
        expect(lineOfEnd(end)[at]).toBe(0)
        const turned = u.map((x, i) => (i === at ? x : -x)) as unknown as Vec3<'Phone'>
        const apart = angleInPlane(end, axis, turned) - angleInPlane(end, axis, u)
        expect(Math.abs(Math.sin(apart))).toBeLessThan(1e-9)
        expect(Math.cos(apart)).toBeCloseTo(-1, 9)
      }
    }
  })
})
