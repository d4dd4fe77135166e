import { describe, expect, it } from 'vitest'
import type { Level, Reference } from '../../../src/core/fit/observations.ts'
import {
  levelRows,
  offsetGradients,
  offsetInPose,
  offsetPartials,
  referenceRow,
} from '../../../src/core/fit/residuals.ts'
import { axesAt, poseAt } from '../../../src/core/mount/asbuilt.ts'
import { trueAngle } from '../../../src/core/mount/readings.ts'
import { type Built, onPaper, SLOT, SLOTS } from '../../../src/core/mount/slots.ts'
import type { LevelRecord } from '../../../src/core/records/fieldbook.ts'
import { angleBetween, azElFromEnu, dot, type Vec3 } from '../../../src/core/vectors.ts'
import { DEG } from '../../helpers/degrees.ts'
import { seeded } from '../../helpers/random.ts'
import {
  between,
  directionOf,
  JACK,
  KINDS,
  LINES,
  mountOf,
  moved,
  READOUTS,
  randomBuilt,
  randomMount,
  SLOT_NAMES,
  slope,
  withoutJackScale,
} from '../mount/sample.ts'

const SIDES = [0, 1, -1] as const
const readingFor = (random: () => number, readout: (typeof READOUTS)[number]) =>
  readout.type === 'degrees'
    ? between(random, -180, 180)
    : readout.type === 'jack'
      ? between(random, 30, 970)
      : between(random, -4000, 9000)
const stepOf = (name: string) => (/feed|Arm/.test(name) ? 0.2 : 1e-3)

describe('offsetPartials', () => {
  for (const kind of KINDS) {
    it(`agree with central differences to 1e-6 for ${kind}, all 24 slots, all lines, all readouts, 150 states`, () => {
      const random = seeded(301 + KINDS.indexOf(kind))
      const out = new Float64Array(2 * SLOTS)
      let worst = 0
      const largest = new Map<string, number>()
      for (let k = 0; k < 150; k++) {
        const [lowerReadout, upperReadout] = [READOUTS[k % 4]!, READOUTS[(k >> 2) % 4]!]
        const model = randomMount(random, kind, lowerReadout, upperReadout)
        const built = withoutJackScale(model, randomBuilt(random))
        const line = LINES[Math.floor(random() * 4)]!
        const [lower, upper] = [readingFor(random, lowerReadout), readingFor(random, upperReadout)]
        const [lowerSide, upperSide] = [SIDES[k % 3]!, SIDES[(k >> 1) % 3]!]
        const poseOf = (b: Built) => {
          const T = trueAngle(model, b, 'lower', lower, lowerSide)
          const S = trueAngle(model, b, 'upper', upper, upperSide)
          if (T.kind !== 'angle' || S.kind !== 'angle') throw new Error('no triangle')
          return poseAt(model, b, T.angle, S.angle, line)
        }
        const pose = poseOf(built)
        // Offsets from a hair to 90°: the arc's own split has no derivative at the antipode.
        const size = k % 5 === 0 ? between(random, 0, 1e-4) : between(random, 0, 90 * DEG)
        const aside = directionOf(random)
        const e = [0, 1, 2].map(i => aside[i]! - dot(aside, pose.b) * pose.b[i]!)
        const n = Math.hypot(...e)
        const t = [0, 1, 2].map(i => pose.b[i]! * Math.cos(size) + (e[i]! / n) * Math.sin(size)) as unknown as Vec3
        const offset = offsetPartials(model, built, line, t, lower, upper, lowerSide, upperSide, out)!
        expect(Math.hypot(...offset)).toBeCloseTo(angleBetween(pose.b, t), 12)
        for (const name of SLOT_NAMES) {
          const slot = SLOT[name]
          if (/Scale/.test(name) && model[name.startsWith('lower') ? 'lower' : 'upper'].readout.type === 'jack')
            continue
          const difference = slope(by => offsetInPose(poseOf(moved(built, slot, by)), t), stepOf(name))
          for (let row = 0; row < 2; row++) {
            const partial = out[row * SLOTS + slot]!
            worst = Math.max(worst, Math.abs(partial - difference[row]!))
            largest.set(name, Math.max(largest.get(name) ?? 0, Math.abs(partial)))
          }
        }
      }
      expect(worst).toBeLessThan(1e-6)
      // None of them was compared with zero throughout; arms and feed are per millimetre, shifts per reading.
      for (const name of SLOT_NAMES)
        expect(largest.get(name)!, name).toBeGreaterThan(
          stepOf(name) === 0.2 ? 5e-4 : name.endsWith('Shift') ? 0.01 : 0.3,
        )
      console.info(`offsetPartials ${kind}: worst ${worst.toExponential(1)} over 150 states`)
    })
  }

  it('are null where a triangle does not close', () => {
    const model = mountOf({ kind: 'az-over-el', upper: JACK })
    const out = new Float64Array(2 * SLOTS)
    expect(offsetPartials(model, onPaper(), 'beam', [0, 0, 1], 10, 5000, 0, 0, out)).toBeNull()
  })
})

describe('offsetGradients', () => {
  it('do not jump where the target stands right on the line', () => {
    const pose = poseAt(mountOf({ kind: 'el-over-az' }), onPaper(), 1, 0.6, 'beam')
    const on = offsetGradients(pose, pose.b)
    const tiny = 1e-9
    const t: Vec3 = [0, 1, 2].map(i => pose.b[i]! + tiny * pose.r[i]!) as unknown as Vec3
    const beside = offsetGradients(pose, t)
    expect(Math.hypot(on.right, on.up)).toBeLessThan(1e-15)
    expect(beside.right).toBeCloseTo(tiny, 15)
    for (let i = 0; i < 3; i++) {
      expect(beside.gx[i]).toBeCloseTo(on.gx[i]!, 8)
      expect(beside.gy[i]).toBeCloseTo(on.gy[i]!, 8)
    }
  })

  it('move a target to the left when the dish turns to the right', () => {
    const model = mountOf({ kind: 'el-over-az' })
    const pose = poseAt(model, onPaper(), 1, 0, 'beam')
    const { gx } = offsetGradients(pose, pose.b)
    expect(dot(gx, [0, 0, -1])).toBeCloseTo(-1, 14) // a turn clockwise seen from above, dish on the horizon
  })
})

describe('levelRows', () => {
  const SIGMA = 0.2 * DEG
  const level = (record: LevelRecord, clamping = -1): Level => ({
    record,
    slots: new Int16Array(SLOTS),
    clamping,
    sigma: SIGMA,
  })
  const stamp = { id: 'l', utc: '2026-04-27T10:00:00Z', sigmaDeg: 0.2 }

  for (const what of ['lower-axis-elevation', 'upper-axis-elevation', 'dish-elevation'] as const) {
    for (const kind of KINDS) {
      if (what === 'lower-axis-elevation' && kind === 'el-over-az') continue // no such level: a mast's lean instead
      it(`${what} on ${kind}, north and south: partials agree with central differences to 1e-6, 200 states`, () => {
        const random = seeded(321 + KINDS.indexOf(kind))
        let worst = 0
        let south = 0
        let moving = 0
        for (let k = 0; k < 200; k++) {
          const [lowerReadout, upperReadout] = [READOUTS[k % 4]!, READOUTS[(k >> 2) % 4]!]
          const model = randomMount(random, kind, lowerReadout, upperReadout)
          if (model.latitude < 0) south++
          const built = withoutJackScale(model, randomBuilt(random))
          const readings = { lower: readingFor(random, lowerReadout), upper: readingFor(random, upperReadout) }
          const record = { ...stamp, what, valueDeg: 12, ...readings } as LevelRecord
          const at = (b: Built) => levelRows(model, level(record), b)!.map(r => r.residual * SIGMA)
          // asin has no derivative at the zenith: leave the last half degree out.
          const el = at(built)[0]! + 12 * DEG
          if (Math.abs(el) > 89.5 * DEG) continue
          // "The end that points up" changes ends as the upper axis passes through the level.
          if (what === 'upper-axis-elevation' && el < 0.5 * DEG) continue
          const [row] = levelRows(model, level(record), built)!
          for (const name of SLOT_NAMES) {
            if (/Scale/.test(name) && model[name.startsWith('lower') ? 'lower' : 'upper'].readout.type === 'jack')
              continue
            const partial = row!.bySlot[SLOT[name]]! * SIGMA
            if (Math.abs(partial) > 1e-3) moving++
            // Near the zenith the curvature grows as 1/cos³: a smaller step there.
            const h = stepOf(name) * Math.min(1, 3 * Math.cos(el))
            worst = Math.max(worst, Math.abs(partial - slope(by => at(moved(built, SLOT[name], by)), h)[0]!))
          }
        }
        expect(worst).toBeLessThan(1e-6)
        expect(south).toBeGreaterThan(50)
        expect(moving).toBeGreaterThan(150)
      })
    }
  }

  it('tell the elevation of the end that points up: a southern polar axis at latitude -35° is 35° high, poleUp lowers it', () => {
    const model = mountOf({ kind: 'ha-dec', latitude: -35 })
    const record: LevelRecord = { ...stamp, what: 'lower-axis-elevation', valueDeg: 35 }
    const [row] = levelRows(model, level(record), onPaper())!
    expect(row!.residual).toBeCloseTo(0, 12)
    // In the south P points into the ground; toward Q it rises, so its upper end sinks.
    expect(row!.bySlot[SLOT.axisB]! * SIGMA).toBeCloseTo(-1, 12)
    const north = levelRows(mountOf({ kind: 'ha-dec', latitude: 35 }), level(record), onPaper())![0]!
    expect(north.residual).toBeCloseTo(0, 12)
    expect(north.bySlot[SLOT.axisB]! * SIGMA).toBeCloseTo(1, 12)
  })

  it('tell the right-hand end of az-over-el and the forward end of x-y: the parameter level itself', () => {
    for (const kind of ['az-over-el', 'x-y'] as const) {
      const built = onPaper()
      built[SLOT.axisA] = 1
      built[SLOT.axisB] = 2 * DEG
      const record: LevelRecord = { ...stamp, what: 'lower-axis-elevation', valueDeg: 0.4 }
      const [row] = levelRows(mountOf({ kind, heading: 200 }), level(record), built)!
      expect(row!.residual).toBeCloseTo((2 - 0.4) / 0.2, 9)
      expect(row!.bySlot[SLOT.axisB]! * SIGMA).toBeCloseTo(1, 12)
      expect(row!.bySlot[SLOT.axisA]).toBeCloseTo(0, 12)
    }
  })

  it('tell the elevation of the boresight with its sag, and of the upper axis at a lower reading, as vectors do', () => {
    const random = seeded(331)
    for (const kind of KINDS) {
      for (let k = 0; k < 100; k++) {
        const model = randomMount(random, kind)
        const built = randomBuilt(random)
        const readings = { lower: between(random, -180, 180), upper: between(random, -180, 180) }
        const T = trueAngle(model, built, 'lower', readings.lower)
        const S = trueAngle(model, built, 'upper', readings.upper)
        if (T.kind !== 'angle' || S.kind !== 'angle') throw new Error('degrees always have an angle')
        const { b } = poseAt(model, built, T.angle, S.angle, 'boresight')
        const dish = levelRows(model, level({ ...stamp, what: 'dish-elevation', valueDeg: 7, ...readings }), built)![0]!
        expect(dish.residual * SIGMA).toBeCloseTo(azElFromEnu(b).el - 7 * DEG, 9)
        const { upper } = axesAt(model, built, T.angle)
        const axis = levelRows(
          model,
          level({ ...stamp, what: 'upper-axis-elevation', valueDeg: 7, ...readings }),
          built,
        )![0]!
        expect(axis.residual * SIGMA).toBeCloseTo(Math.abs(azElFromEnu(upper).el) - 7 * DEG, 9)
      }
    }
  })

  it('take a mast’s lean as two rows: north and east of the azimuth axis', () => {
    const built = onPaper()
    built[SLOT.axisA] = 1 * DEG
    built[SLOT.axisB] = -2 * DEG
    const record: LevelRecord = { ...stamp, what: 'mast-lean', northDeg: 0.6, eastDeg: -1.8 }
    const rows = levelRows(mountOf({ kind: 'el-over-az' }), level(record), built)!
    expect(rows).toHaveLength(2)
    const [north, east] = rows
    expect(north!.residual).toBeCloseTo(0.4 / 0.2, 9)
    expect(east!.residual).toBeCloseTo(-0.2 / 0.2, 9)
    for (const [row, slot] of [
      [north!, SLOT.axisA],
      [east!, SLOT.axisB],
    ] as const)
      row.bySlot.forEach((d, k) => {
        expect(d).toBe(k === slot ? 1 / SIGMA : 0)
      })
  })

  it('share the constant of a clamping, one in σ, and have none without one', () => {
    const record: LevelRecord = { ...stamp, what: 'lower-axis-elevation', valueDeg: 0 }
    const model = mountOf({ kind: 'x-y' })
    const [alone] = levelRows(model, level(record), onPaper())!
    expect([alone!.shared, alone!.perShared]).toEqual([-1, 0])
    const [clamped] = levelRows(model, level(record, 9), onPaper())!
    expect([clamped!.shared, clamped!.perShared * SIGMA]).toEqual([9, 1])
  })

  it('are null where a triangle does not close', () => {
    const model = mountOf({ kind: 'az-over-el', lower: JACK })
    const readings = { lower: 5000, upper: 0 }
    for (const what of ['upper-axis-elevation', 'dish-elevation'] as const) {
      const record = { ...stamp, what, valueDeg: 0, ...readings } as LevelRecord
      expect(levelRows(model, level(record), onPaper())).toBeNull()
    }
  })
})

describe('referenceRow', () => {
  it('agrees with central differences to 1e-6 for both axes and every readout, 200 states, and for its mark', () => {
    const random = seeded(341)
    const sigma = 0.1 * DEG
    let worst = 0
    for (let k = 0; k < 200; k++) {
      const readout = READOUTS[k % 4]!
      const model = randomMount(random, KINDS[k % 3]!, readout, readout)
      const built = withoutJackScale(model, randomBuilt(random))
      const axis = k % 2 ? ('upper' as const) : ('lower' as const)
      const ref: Reference = {
        record: { id: 'r', utc: '2026-04-27T10:00:00Z', axis, mark: 'stop', reading: readingFor(random, readout) },
        utcMs: 0,
        slots: new Int16Array(SLOTS),
        mark: 5,
        sigma,
      }
      const mark = between(random, -1, 1)
      const row = referenceRow(model, ref, built, mark)!
      for (const name of SLOT_NAMES) {
        if (/Scale/.test(name) && readout.type === 'jack') continue
        const difference = slope(
          by => [referenceRow(model, ref, moved(built, SLOT[name], by), mark)!.residual * sigma],
          stepOf(name),
        )
        worst = Math.max(worst, Math.abs(row.bySlot[SLOT[name]]! * sigma - difference[0]!))
      }
      expect(row.shared).toBe(5)
      const perMark = slope(by => [referenceRow(model, ref, built, mark + by)!.residual * sigma], 1e-3)[0]!
      expect(row.perShared * sigma).toBeCloseTo(perMark, 9)
    }
    expect(worst).toBeLessThan(1e-6)
  })
})
