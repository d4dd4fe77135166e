import { describe, expect, it } from 'vitest'
import { arcNeeded, type Swing, type SwingPosition, type Swung, swingAxis } from '../../../src/core/level/swing.ts'
import { bookElevation, levelOfSwing, swingSense } from '../../../src/core/level/swungaxis.ts'
import { paperOf } from '../../../src/core/mount/kinds.ts'
import { MOUNT_KINDS } from '../../../src/core/mount/names.ts'
import { apply, compose, type Rotation, rotation, transpose } from '../../../src/core/rotations.ts'
import { angleBetween, dot, scale, type Vec3 } from '../../../src/core/vectors.ts'
import { authority } from '../../helpers/authorities.ts'
import { DEG } from '../../helpers/degrees.ts'
import { chance } from '../../helpers/random.ts'
import { someOf } from '../../helpers/some.ts'
import { randomRotation, STEP } from '../../helpers/swingphone.ts'
import { swingTrials } from '../../helpers/swingtrials.ts'
import { heldSwingTrials } from '../../helpers/swungphones.ts'

const EXACT = { noise: 1e-5, step: 0, bias: 0 }

const swung = (s: Swing): Swung => {
  if (s.kind !== 'swung') throw new Error(`expected swung, got ${JSON.stringify(s)}`)
  return s
}

/** Up in a phone that was fastened anyhow to what turns about `axis` (Enu), at the given turns. */
const upsOf = (axis: Vec3, sense: 1 | -1, turns: readonly number[], fastened: Rotation): SwingPosition[] =>
  turns.map(turn => {
    const phoneFromEnu = transpose(compose(rotation(axis, sense * turn), fastened))
    return { turn, up: apply(phoneFromEnu, [0, 0, 1]) as unknown as Vec3<'Phone'> }
  })

describe('swingAxis', () => {
  it('finds either axis of all four mounts, north and south, fastened anyhow, to 1e-9', () => {
    const c = chance(7)
    for (const kind of MOUNT_KINDS)
      for (const axis of ['lower', 'upper'] as const)
        for (const lat of [47, -33]) {
          const paper = paperOf({ kind, heading: 170 * DEG, latitude: lat * DEG, offset: 0 })
          const lowerAngle = 25 * DEG
          const a = axis === 'lower' ? paper.a1 : apply(rotation(paper.a1, paper.s1 * lowerAngle), paper.a2)
          const tilted = apply(rotation([0.6, 0.8, 0], 1.3 * DEG), a)
          const sense = swingSense(paper, axis)
          const positions = upsOf(
            tilted,
            sense,
            [-20, 5, 31, 60].map(d => d * DEG),
            randomRotation(c),
          )
          const s = swung(swingAxis([positions], sense, EXACT))
          expect(Math.abs(s.elevation - Math.asin(tilted[2])), `${kind} ${axis} ${lat}`).toBeLessThan(1e-9)
          const turned = s.clampings[0]!.turned
          expect(s.nearVertical).toBe(
            (kind === 'el-over-az' && axis === 'lower') || Math.abs(tilted[2]) > Math.sin(80 * DEG),
          )
          for (const [k, t] of (turned ?? []).entries())
            expect(t).toBeCloseTo(positions[k]!.turn - positions[0]!.turn, 8)
          expect(turned === null).toBe(s.nearVertical)
          const book = bookElevation(kind, lat * DEG, axis, s)
          if (kind === 'ha-dec' && axis === 'lower') expect(book).toBeGreaterThan(0)
          if (axis === 'upper') expect(book).toBeCloseTo(Math.abs(Math.asin(tilted[2])), 9)
        }
  })

  it('keeps as a level what the book has a kind for', () => {
    expect(levelOfSwing('el-over-az', 'lower')).toBeNull()
    expect(levelOfSwing('az-over-el', 'lower')).toBe('lower-axis-elevation')
    for (const kind of MOUNT_KINDS) expect(levelOfSwing(kind, 'upper')).toBe('upper-axis-elevation')
  })

  it('lets the readings decide which end is which: read backward, the other end is named', () => {
    const axis: Vec3 = [0.9, 0, Math.sqrt(1 - 0.81)]
    const positions = upsOf(axis, 1, [0, 0.4, 0.9, 1.3], randomRotation(chance(2)))
    const forward = swung(swingAxis([positions], 1, EXACT))
    const backward = swung(swingAxis([positions.map(p => ({ ...p, turn: -p.turn }))], 1, EXACT))
    expect(forward.elevation).toBeCloseTo(Math.asin(axis[2]), 9)
    expect(backward.elevation).toBeCloseTo(-Math.asin(axis[2]), 9)
  })

  it('shifts by 1.15° · cos el with 20 mg along the axis, not with 20 mg across it, and a turned second clamping takes it out', () => {
    for (const el of [0, 30, 60]) {
      const axis: Vec3 = [Math.cos(el * DEG), 0, Math.sin(el * DEG)]
      const turns = [0, 0.5, 1, 1.5]
      const along = (fastened: Rotation, bias: Vec3) =>
        upsOf(axis, 1, turns, fastened).map(p => ({
          turn: p.turn,
          up: [p.up[0] + bias[0], p.up[1] + bias[1], p.up[2] + bias[2]] as Vec3<'Phone'>,
        }))
      const fastened = randomRotation(chance(el))
      const n = apply(transpose(fastened), axis)
      const across: Vec3 = scale([n[1], -n[0], 0], 0.02 / Math.hypot(n[0], n[1]))
      const spread = { noise: 1e-4, step: 0, bias: 0.02 }
      const off = swung(swingAxis([along(fastened, scale(n, 0.02))], 1, spread)).elevation / DEG - el
      expect(off).toBeCloseTo(1.146 * Math.cos(el * DEG), 1)
      expect(Math.abs(swung(swingAxis([along(fastened, across)], 1, spread)).elevation / DEG - el)).toBeLessThan(0.03)
      // Turned half about something square to the axis: n points the other way in the phone.
      const turnedAbout = compose(rotation([-Math.sin(el * DEG), 0, Math.cos(el * DEG)], Math.PI), fastened)
      const both = swung(swingAxis([along(fastened, scale(n, 0.02)), along(turnedAbout, scale(n, 0.02))], 1, spread))
      expect(Math.abs(both.elevation / DEG - el)).toBeLessThan(0.03)
      expect(both.bias).toBeLessThan(0.01 * DEG)
      // The same clamping twice takes nothing out.
      const twice = swung(swingAxis([along(fastened, [0, 0, 0]), along(fastened, [0, 0, 0])], 1, spread))
      expect(twice.bias).toBeCloseTo(0.02 * Math.cos(el * DEG), 6)
    }
  })

  it('says how the angles between positions move with the bias: by the derivatives it hands out', () => {
    const el = 35 * DEG
    const axis: Vec3 = [Math.cos(el), 0, Math.sin(el)]
    const turns = [0, 0.3, 0.8, 1.4, 2]
    const fastened = randomRotation(chance(11))
    const plain = upsOf(axis, -1, turns, fastened)
    const at = (bias: Vec3) =>
      swung(
        swingAxis(
          [plain.map(p => ({ ...p, up: [p.up[0] + bias[0], p.up[1] + bias[1], p.up[2] + bias[2]] as Vec3<'Phone'> }))],
          -1,
          EXACT,
        ),
      ).clampings[0]!
    const c = at([0, 0, 0])
    const eps = 1e-5
    for (const j of [0, 1, 2]) {
      const bias = [0, 0, 0].map((_, k) => (k === j ? eps : 0)) as unknown as Vec3
      at(bias).turned!.forEach((t, k) => {
        const slope = (t - c.turned![k]!) / eps
        expect(slope).toBeCloseTo(c.perBias[k]![j]! - c.perBias[0]![j]!, 3)
      })
    }
  })

  it('says that the arc is too small and how much is needed; with that much it is enough', () => {
    const axis: Vec3 = [1, 0, 0]
    const fastened = randomRotation(chance(3))
    const spread = { noise: 0.05 * DEG, step: 0.1 * DEG, bias: 0.02 }
    const small = swingAxis([upsOf(axis, 1, [0, 10 * DEG, 20 * DEG], fastened)], 1, spread)
    expect(small.kind).toBe('too-small-arc')
    if (small.kind !== 'too-small-arc') return
    expect(small.arc / DEG).toBeCloseTo(20, 6)
    expect(small.sigma).toBeGreaterThan(0.5 * DEG)
    const needed = small.needed!
    expect(needed).toBeGreaterThan(small.arc)
    expect(swingAxis([upsOf(axis, 1, [0, needed / 2, needed], fastened)], 1, spread).kind).toBe('swung')
    // Worked by hand for three positions at -h, 0, h: growth = (1/2 + cos² h)/(1 - cos h)².
    const growth = (h: number) => Math.sqrt(0.5 + Math.cos(h) ** 2) / (1 - Math.cos(h))
    const one = Math.hypot(0.05, 0.1 / Math.sqrt(12))
    expect(growth(needed / 2) * one).toBeLessThanOrEqual(0.5)
    expect(growth(needed / 2 - 2.5 * DEG) * one).toBeGreaterThan(0.5)
    expect(arcNeeded(3, 5 * DEG)).toBeNull()
  })

  it('asks for three positions that differ in their reading', () => {
    const ups = upsOf([1, 0, 0], 1, [0, 0, 0.5], randomRotation(chance(1)))
    expect(swingAxis([ups], 1, EXACT)).toEqual({ kind: 'too-few', clamping: 0, have: 2, need: 3 })
  })

  it('names the position whose tilt went back where the reading went on', () => {
    const turns = [0, 0.4, 0.8, 1.2]
    const ups = upsOf([1, 0, 0], 1, turns, randomRotation(chance(1)))
    const mixed = [ups[0]!, { turn: turns[1]!, up: ups[2]!.up }, { turn: turns[2]!, up: ups[1]!.up }, ups[3]!]
    expect(swingAxis([mixed], 1, { noise: 0.1 * DEG, step: 0, bias: 0 })).toEqual({
      kind: 'out-of-order',
      clamping: 0,
      position: 2,
    })
  })

  it('believes a misfit beyond chance, and never makes rounding smaller by more positions', () => {
    const turns = Array.from({ length: 40 }, (_, k) => k * 0.1)
    const ups = upsOf([1, 0, 0], 1, turns, randomRotation(chance(4)))
    const spread = { noise: 1e-6, step: 0.1 * DEG, bias: 0 }
    expect(swung(swingAxis([ups], 1, spread)).sigma).toBeGreaterThanOrEqual((0.1 * DEG) / Math.sqrt(12))
    const shaken = ups.map((p, k) => ({
      ...p,
      up: [p.up[0] + (k % 2 ? 0.01 : -0.01), p.up[1], p.up[2]] as Vec3<'Phone'>,
    }))
    const s = swung(swingAxis([shaken], 1, spread))
    expect(s.misfits).toBe(true)
    expect(s.sigma).toBeGreaterThan(0.05 * DEG)
  })
})

/** Source and what was taken: tests/authorities/level/README.md. */
const real = authority('level/axis-swings.json') as {
  swings: { at: string; halfAngleDeg: number; axis: number[]; rows: number[][] }[]
}

describe('swings of a real sensor', () => {
  for (const { at, halfAngleDeg, axis, rows } of someOf(real.swings)) {
    const level = halfAngleDeg > 45
    it(`${at}: half angle ${halfAngleDeg}° within ${level ? 0.5 : 1.2}°, axis within ${level ? 1 : 2}°`, () => {
      const positions = rows.map(([turnDeg, x, y, z]) => ({ turn: turnDeg! * DEG, up: [x!, y!, z!] as Vec3<'Phone'> }))
      // By hand and in motion, which adds to gravity.
      const s = swung(swingAxis([positions], 1, { noise: 1.5 * DEG, step: 0, bias: 0.02 }))
      const ours = s.clampings[0]!.axis as unknown as Vec3
      const theirs = axis as unknown as Vec3
      // The reference names the end with the right-handed turn; near vertical ours names the end that is up.
      const off = angleBetween(ours, scale(theirs, dot(ours, theirs) < 0 ? -1 : 1)) / DEG
      const half = 90 - Math.abs(s.elevation) / DEG
      console.info(`${at}: half angle ${half.toFixed(2)}° (${halfAngleDeg}°), axis ${off.toFixed(2)}° off`)
      expect(Math.abs(half - (90 - Math.abs(90 - halfAngleDeg)))).toBeLessThan(level ? 0.5 : 1.2)
      expect(off).toBeLessThan(level ? 1 : 2)
      expect(s.nearVertical).toBe(!level)
      if (level) expect(dot(ours, theirs)).toBeGreaterThan(0.9)
      else expect(s.clampings[0]!.turned).toBeNull()
    })
  }
})

describe('simulated phones (the long run is tests/studies/swing.study.ts)', () => {
  for (const method of ['angles', 'accelerations'] as const)
    for (const clampings of [1, 2] as const)
      it(`${method}, ${clampings} clamping${clampings > 1 ? 's' : ''}: 2 σ covers, and σ is not padded`, () => {
        const t = swingTrials(250, { delivery: method, clampings }, 4000)
        // 250 trials: 95.4 % ± 1.3 %, so the bounds of the long run widened by 2 σ.
        expect(t.covered).toBeGreaterThan(0.905)
        expect(t.covered).toBeLessThan(0.995)
        expect(t.medianSigmaOverRms).toBeLessThan(1.4)
        expect(STEP[method]).toBeGreaterThan(0)
      })

  it('held for three seconds each, σ made from what the phone did', () => {
    const t = heldSwingTrials(60, { source: 'orientation', clampings: 2 }, 700)
    // 60 trials: 95.4 % ± 2.7 %, three of them down.
    expect(t.covered).toBeGreaterThan(0.87)
    expect(t.medianSigmaOverRms).toBeLessThan(1.5)
    expect(t.refused).toBeLessThan(5)
  })
})
