/**
 * A phone fastened to the rehearsal's dish, typed into the forms of "Sweep an axis" and "Degrees per count" as its edges show it:
 * what the core makes of that is the axis's real elevation and the readout's real angles.
 */
import { describe, expect, it } from 'vitest'
import { angleFromReading } from '../../../src/core/readout/readout.ts'
import type { Axis, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { still } from '../../../src/core/rehearse/drives.ts'
import { trueLevelAt } from '../../../src/core/rehearse/mount.ts'
import type { Difficulty, RehearsalSetup } from '../../../src/core/rehearse/setup.ts'
import { type Hands, type World, worldOf } from '../../../src/core/rehearse/world.ts'
import { degFromRad, radFromDeg } from '../../../src/core/units.ts'
import { rehearsalStation } from '../../../src/state/rehearse.ts'
import { countsCalibration, emptyCounts } from '../../../src/ui/swing/countsform.ts'
import { emptySwing, levelFromSwing, type SwingForm, swingOf, withPlace } from '../../../src/ui/swing/form.ts'
import { someOf } from '../../helpers/some.ts'

const START_MS = Date.UTC(2026, 4, 1, 8)
const setup = (kind: RehearsalSetup['kind'], difficulty: Difficulty, seed: number): RehearsalSetup => ({
  seed,
  difficulty,
  kind,
  startUtc: '2026-05-01T08:00:00Z',
})

/** Halts along the middle of the travel, always from below, with the other axis in the middle of its own. */
function halts(world: World, axis: Axis, count: number): Hands[] {
  const at = (a: Axis, f: number) => still(world.drives[a].low + f * (world.drives[a].high - world.drives[a].low), 1)
  return Array.from({ length: count }, (_, k) => ({
    lower: at('lower', 0.5),
    upper: at('upper', 0.5),
    [axis]: at(axis, 0.1 + (0.8 * k) / (count - 1)),
  }))
}

const shown = (deg: number): string => deg.toFixed(1)

/** The form filled from the sheet. @param ways  how often it is fastened */
function swept(world: World, station: StationRecord, axis: Axis, ways: 1 | 2): SwingForm {
  let form: SwingForm = { ...emptySwing(axis, START_MS), by: 'hand' }
  let ms = START_MS
  for (let way = 0; way < ways; way++) {
    if (way > 0) form = { ...form, clampings: [...form.clampings, []] }
    for (const hands of halts(world, axis, 5)) {
      ms += 60_000
      const reading = world.readings(hands, ms)
      const { topDeg, rightDeg, face } = world.fastened(hands, ms, axis, way === 1)
      form = {
        ...form,
        lower: String(reading.lower),
        next: { reading: String(reading[axis]), top: shown(topDeg), right: shown(rightDeg), face },
      }
      form = withPlace(form, station, null)!
    }
  }
  return form
}

const KINDS = ['az-over-el', 'x-y', 'ha-dec'] as const
const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8]

describe('a phone fastened to what an axis moves', () => {
  it.each(KINDS)('gives the elevation of the lower axis of %s within its σ', kind => {
    const pulls: number[] = []
    for (const difficulty of ['beginner', 'ordinary', 'hard'] as const)
      for (const seed of SEEDS) {
        const world = worldOf(setup(kind, difficulty, seed))
        const station = rehearsalStation('Rehearsal', world.setup, 'r')
        for (const ways of [1, 2] as const) {
          const form = swept(world, station, 'lower', ways)
          const swing = swingOf(form, station)
          const made = levelFromSwing(form, station, swing, null, 'l')
          if (made.kind !== 'ready') throw new Error(`${kind} ${difficulty} ${seed}: ${JSON.stringify(swing)}`)
          const truth = trueLevelAt(world.mountAt(START_MS), 'lower-axis-elevation', 0, 0)
          if (made.record.what !== 'lower-axis-elevation') throw new Error(made.record.what)
          pulls.push((made.record.valueDeg - truth) / made.record.sigmaDeg)
        }
      }
    const within = (sigmas: number) => pulls.filter(p => Math.abs(p) <= sigmas).length / pulls.length
    expect(within(1)).toBeGreaterThan(0.68)
    expect(within(3)).toBe(1)
  })

  it('fastened again end for end, a biased phone comes within a third of a degree', () => {
    for (const seed of SEEDS) {
      const world = worldOf(setup('az-over-el', 'ordinary', seed))
      const station = rehearsalStation('Rehearsal', world.setup, 'r')
      const swing = swingOf(swept(world, station, 'lower', 2), station)
      if (swing.kind !== 'swung') throw new Error(swing.kind)
      const truth = trueLevelAt(world.mountAt(START_MS), 'lower-axis-elevation', 0, 0)
      expect(Math.abs(swing.elevation - radFromDeg(truth))).toBeLessThan(radFromDeg(0.33))
    }
  })

  it('shows the same when it is looked at twice in one second, and trembles from one to the next', () => {
    const world = worldOf(setup('az-over-el', 'ordinary', 3))
    const look = (ms: number) => world.fastened(world.first, ms, 'lower', false)
    expect(look(START_MS)).toEqual(look(START_MS))
    expect(look(START_MS)).not.toEqual(look(START_MS + 1000))
  })
})

describe('an inclinometer fastened across the axis', () => {
  it('turns with it the way it counts: a readout calibrated by it has the real angles, within 0.5°', () => {
    let jacks = 0
    for (const kind of ['az-over-el', 'x-y'] as const)
      for (const seed of SEEDS) {
        const world = worldOf(setup(kind, 'ordinary', seed))
        const station = rehearsalStation('Rehearsal', world.setup, 'r')
        if (world.paper.mount.lower.readout.type === 'degrees') continue
        jacks++
        const at = halts(world, 'lower', 7)
        const rows = at.map((hands, k) => ({
          reading: String(world.readings(hands, START_MS).lower),
          angle: shown(world.turnsWith(hands, START_MS + 60_000 * k, 'lower')!),
          from: '' as const,
        }))
        const found = countsCalibration({ ...emptyCounts('lower'), what: 'beside', rows }, station)
        if (found?.kind !== 'calibrated') throw new Error(JSON.stringify(found))
        const mount = world.mountAt(START_MS)
        const foundAt = (reading: number): number => {
          const angle = angleFromReading(found.readout, reading)
          if (angle.kind !== 'angle') throw new Error(angle.kind)
          return degFromRad(angle.angle)
        }
        // Only differences count.
        const off = at.map(h => foundAt(h.lower.at) - mount.angleDeg('lower', h.lower.at))
        for (const o of someOf(off)) expect(Math.abs(o - off[3]!)).toBeLessThan(0.5)
      }
    expect(jacks).toBeGreaterThan(3)
  })

  it('is no use on an axis that stands upright', () => {
    const world = worldOf(setup('el-over-az', 'ordinary', 3))
    expect(world.turnsWith(world.first, START_MS, 'lower')).toBeNull()
    expect(world.turnsWith(world.first, START_MS, 'upper')).not.toBeNull()
  })
})
