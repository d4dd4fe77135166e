/**
 * Obeying the advice must undo the error. The advised move is made here as a person would make it (hold the left end,
 * raise it), as a rotation in the compass's own frame, with no help from advice.ts; the mount as built is asbuilt.ts's.
 */
import { describe, expect, it } from 'vitest'
import { type Advice, adviceFor, changeOf, type MovedPart, type Toward } from '../../../src/core/export/advice.ts'
import { type Line, type MountModel, poseAt } from '../../../src/core/mount/asbuilt.ts'
import { PARAMETER_IDS } from '../../../src/core/mount/parameters.ts'
import { type Built, onPaper, SLOT, slotOf } from '../../../src/core/mount/slots.ts'
import type { MountKind, ParameterId } from '../../../src/core/records/fieldbook.ts'
import { apply, rotation } from '../../../src/core/rotations.ts'
import { angleBetween, cross, dot, scale, sub, unit, type Vec3 } from '../../../src/core/vectors.ts'
import { DEG } from '../../helpers/degrees.ts'
import { seeded } from '../../helpers/random.ts'
import { between, KINDS, mountOf } from '../mount/sample.ts'

const U: Vec3 = [0, 0, 1]
const COMPASS: Partial<Record<Toward, Vec3>> = {
  north: [0, 1, 0],
  south: [0, -1, 0],
  east: [1, 0, 0],
  west: [-1, 0, 0],
}
const minus = (v: Vec3): Vec3 => scale(v, -1)

/** Turns what points along `from` toward `to`, by an angle, about the axis square to both. */
const swing = (from: Vec3, to: Vec3, by: number) => rotation(unit(cross(from, to)), by)

interface Standing {
  model: MountModel
  T: number
  /** The dish as it stands: out, right, toward the UP mark. */
  b: Vec3
  r: Vec3
  u: Vec3
}

/** The rotation of the dish that the move makes, the mount's axes being where paper has them, but for small angles. */
function made(part: MovedPart, toward: Toward, by: number, { model, T, b, r, u }: Standing) {
  const h = model.heading
  const forward: Vec3 = [Math.sin(h), Math.cos(h), 0]
  const right: Vec3 = [Math.cos(h), -Math.sin(h), 0]
  const lat = model.latitude
  const pole: Vec3 = [0, Math.cos(lat), Math.sin(lat)]
  const polarUpperEnd = lat >= 0 ? pole : minus(pole)
  const square = (v: Vec3, to: Vec3): Vec3 => unit(sub(v, scale(to, dot(v, to))))
  switch (part) {
    case 'mount':
      return rotation(U, toward === 'anticlockwise' ? by : -by)
    case 'left-end':
      return swing(minus(right), U, by)
    case 'right-end':
      return swing(right, U, by)
    case 'forward-end':
      return swing(forward, U, by)
    case 'rear-end':
      return swing(minus(forward), U, by)
    case 'mast':
      return swing(U, COMPASS[toward]!, by)
    case 'polar-axis': {
      const side = toward === 'up' ? U : toward === 'down' ? minus(U) : COMPASS[toward]!
      return swing(polarUpperEnd, square(side, polarUpperEnd), by)
    }
    case 'upper-axis-left-end':
    case 'upper-axis-right-end': {
      // el-over-az: level, to the left or right of where the dish looks; x-y: square to the X axis, X = 0 at the zenith.
      const end = model.kind === 'x-y' ? apply(rotation(forward, T), right) : ([Math.cos(T), -Math.sin(T), 0] as Vec3)
      const to = toward === 'up' ? U : toward === 'forward' ? forward : minus(forward)
      return swing(part === 'upper-axis-left-end' ? minus(end) : end, to, by)
    }
    case 'upper-axis-top': {
      // The swing axis is upright at tilt 0 and leans back as the dish looks up.
      const top: Vec3 = sub(scale(U, Math.cos(T)), scale(forward, Math.sin(T)))
      return swing(top, toward === 'left' ? minus(right) : right, by)
    }
    case 'upper-axis-west-end':
      return swing([-1, 0, 0], toward === 'south' ? minus(pole) : pole, by) // at the meridian
    case 'dish': {
      if (toward === 'east' || toward === 'west') return swing(b, square(COMPASS[toward]!, b), by) // at the meridian
      const to = { left: minus(r), right: r, up: u, down: minus(u) }[toward as 'left' | 'right' | 'up' | 'down']
      return swing(b, to, by)
    }
    case 'tube': {
      const to = { left: minus(r), right: r, 'up-mark': u, 'from-up-mark': minus(u) }[
        toward as 'left' | 'right' | 'up-mark' | 'from-up-mark'
      ]
      return swing(b, to, by)
    }
    case 'feed':
      throw new Error('a feed is moved, not turned')
  }
}

/** What a settled find of this size would advise. */
const advised = (id: ParameterId, value: number, kind: MountKind, latDeg: number): Advice =>
  adviceFor(
    { id, value, sigma: Math.abs(value) / 10, unit: id.startsWith('feed') ? 'mm' : 'deg', state: 'settled' },
    { kind, latDeg },
  )

const TURNED = ['leanNorth', 'leanEast', 'poleEast', 'poleUp', 'heading', 'level', 'squareness', 'collimation'] as const
const TUBE = ['tubeRight', 'tubeUp'] as const

/** How far a line is from where it should be, before and after the move; radians. */
function beforeAndAfter(
  id: ParameterId,
  valueDeg: number,
  kind: MountKind,
  latDeg: number,
  others: Built,
  seed: number,
) {
  const random = seeded(seed)
  // Squareness is tried without offset: tipping the swing axis under a dish that looks 12° above its plane moves the swing's
  // zero too (e sin 12°), which changeOf says.
  const offset = kind === 'az-over-el' && id !== 'squareness' ? 12 : 0
  const model = mountOf({ kind, latitude: latDeg, heading: between(random, 0, 360), offset })
  const line: Line = id.startsWith('tube') ? 'tube' : 'boresight'
  const advice = advised(id, valueDeg, kind, latDeg)
  if (advice.kind !== 'move') throw new Error(`${id} on ${kind}: ${advice.kind}`)
  const built = Float64Array.from(others)
  built[slotOf(id, kind)!] = valueDeg * DEG
  const wanted = Float64Array.from(others)
  wanted[slotOf(id, kind)!] = 0
  const atMeridian = kind === 'ha-dec' && (id === 'squareness' || id === 'collimation')
  const T = atMeridian ? 0 : between(random, 0.2, 1.2)
  const S = kind === 'ha-dec' ? between(random, -0.4, 0.4) : between(random, 0.3, 0.9)
  const dish = poseAt(model, built, T, S, 'boresight')
  const turn = made(advice.part, advice.toward, advice.size * DEG, { model, T, ...dish })
  const is = poseAt(model, built, T, S, line).b
  const should = poseAt(model, wanted, T, S, line).b
  return { before: angleBetween(is, should), after: angleBetween(apply(turn, is), should) }
}

describe('adviceFor', () => {
  const cases = KINDS.flatMap(kind =>
    [...TURNED, ...TUBE]
      .filter(id => slotOf(id, kind) !== null)
      .flatMap(id => [52, -35].flatMap(lat => [1.5, -1.5].map(value => [kind, id, lat, value] as const))),
  )

  it.each(cases)('%s %s at latitude %d found %d°: obeying takes it away', (kind, id, lat, value) => {
    for (let seed = 1; seed <= 20; seed++) {
      const { before, after } = beforeAndAfter(id, value, kind, lat, onPaper(), seed)
      // What is left is of the second order: 1.5° squared is 0.04°, 3 % of the error.
      expect(after).toBeLessThan(0.03 * 1.5 * DEG)
      expect(before).toBeLessThan(1.5001 * DEG)
      expect(after).toBeLessThanOrEqual(before + 1e-3 * DEG)
    }
  })

  it.each(cases)(
    '%s %s at latitude %d found %d°: it also helps on a mount that is off otherwise',
    (kind, id, lat, value) => {
      const random = seeded(9)
      let before = 0
      let after = 0
      for (let seed = 1; seed <= 20; seed++) {
        const others = onPaper()
        for (const slot of [SLOT.axisA, SLOT.axisB, SLOT.squareness, SLOT.collimation])
          others[slot] = between(random, -2, 2) * DEG
        const e = beforeAndAfter(id, value, kind, lat, others, seed)
        before += e.before ** 2
        after += e.after ** 2
      }
      expect(Math.sqrt(after)).toBeLessThan(0.2 * Math.sqrt(before))
    },
  )

  it.each(KINDS.flatMap(kind => [8, -8].map(value => [kind, value] as const)))(
    '%s: a feed found %d mm off is moved back onto the axis',
    (kind, value) => {
      const model = mountOf({ kind, latitude: 50, heading: 160 })
      for (const id of ['feedRight', 'feedUp'] as const) {
        const built = onPaper()
        built[SLOT[id]] = value
        const shadow = poseAt(model, built, 0.5, 0.4, 'shadow')
        const { b, r, u } = poseAt(model, built, 0.5, 0.4, 'boresight')
        const advice = advised(id, value, kind, 50)
        if (advice.kind !== 'move') throw new Error(advice.kind)
        expect(advice).toMatchObject({ part: 'feed', size: 8, unit: 'mm' })
        // Where the feed sits, seen from the vertex, in the dish's own directions.
        const f = model.focalLength
        const seen = scale(shadow.b, f / dot(shadow.b, b))
        const way = { left: minus(r), right: r, 'up-mark': u, 'from-up-mark': minus(u) }[
          advice.toward as 'left' | 'right' | 'up-mark' | 'from-up-mark'
        ]
        const moved: Vec3 = [
          seen[0] + advice.size * way[0],
          seen[1] + advice.size * way[1],
          seen[2] + advice.size * way[2],
        ]
        expect(angleBetween(seen, b) * f).toBeCloseTo(8, 2) // mm off the axis, tan against angle
        expect(angleBetween(moved, b) * f).toBeLessThan(0.01)
      }
    },
  )

  it.each([52, -35])(
    'turning the foot of a polar mount at %d° moves the axis as well, and the zero with it',
    latDeg => {
      const model = mountOf({ kind: 'ha-dec', latitude: latDeg })
      for (const value of [1, -1]) {
        const advice = advised('poleEast', value, 'ha-dec', latDeg)
        if (advice.kind !== 'move' || advice.aboutVertical === undefined) throw new Error('expected a turn of the foot')
        const { toward, sizeDeg, zeroShiftDeg } = advice.aboutVertical
        const built = onPaper()
        built[SLOT.axisA] = value * DEG
        const turn = rotation(U, (toward === 'anticlockwise' ? 1 : -1) * sizeDeg * DEG)
        for (const T of [-0.8, 0, 0.9]) {
          const is = apply(turn, poseAt(model, built, T, 0.2, 'boresight').b)
          // True angle = reading angle + zero: at the same reading the dish stands where the new zero puts it.
          const should = poseAt(model, onPaper(), T + zeroShiftDeg * DEG, 0.2, 'boresight').b
          expect(angleBetween(is, should)).toBeLessThan(0.03 * DEG) // second order: 1° × 1°
        }
      }
    },
  )

  it('near the pole no turn of the foot is offered: at 80° it would be six times the error', () => {
    expect(advised('poleEast', 1, 'ha-dec', 80)).not.toHaveProperty('aboutVertical')
  })

  it('gives zeros, scales, arms and squint to the software, on every mount and of either sign', () => {
    const numbers = PARAMETER_IDS.filter(id => /Zero$|Scale$|Arm$|^squint/.test(id))
    expect(numbers).toHaveLength(10)
    for (const kind of KINDS)
      for (const id of numbers)
        for (const value of [3, -3]) expect(advised(id, value, kind, 50)).toEqual({ kind: 'software' })
  })

  it('every parameter of every mount has an advice', () => {
    for (const kind of KINDS)
      for (const id of PARAMETER_IDS) {
        if (slotOf(id, kind) === null) continue
        expect(['move', 'software', 'stiffen', 'slack']).toContain(advised(id, 2, kind, 50).kind)
      }
  })

  const level = { id: 'level', unit: 'deg' } as const
  const tilting = { kind: 'az-over-el', latDeg: 48 } as const

  it('leaves alone what is no more than twice its uncertainty', () => {
    expect(adviceFor({ ...level, value: 0.4, sigma: 0.25, state: 'settled' }, tilting)).toEqual({ kind: 'leave' })
    expect(adviceFor({ ...level, value: 0.5, sigma: 0.2, state: 'settled' }, tilting)).toMatchObject({
      part: 'left-end',
      toward: 'up',
      size: 0.5,
      sigma: 0.2,
      firstStep: false,
    })
  })

  it('turns nothing for what is open, but for a first step where it is surely off', () => {
    expect(adviceFor({ ...level, value: 2.5, sigma: 1, state: 'open' }, tilting)).toEqual({ kind: 'not-yet' })
    expect(adviceFor({ ...level, value: 40, sigma: 1, state: 'open' }, tilting)).toMatchObject({
      kind: 'move',
      firstStep: true,
    })
  })
})

describe('changeOf', () => {
  it('names what the spanner touched, in the words of a change record', () => {
    expect(changeOf({ part: 'left-end', toward: 'up' }, undefined)).toEqual(['lower-axis'])
    expect(changeOf({ part: 'polar-axis', toward: 'west' }, undefined)).toEqual(['lower-axis', 'lower-zero'])
    expect(changeOf({ part: 'dish', toward: 'up' }, undefined)).toEqual(['dish'])
    expect(changeOf({ part: 'upper-axis-top', toward: 'left' }, undefined)).toEqual(['dish', 'upper-zero'])
    expect(changeOf({ part: 'feed', toward: 'left' }, 'a')).toEqual(['feed:a'])
  })
})
