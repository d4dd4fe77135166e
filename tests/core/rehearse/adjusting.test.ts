/**
 * Adjusters of the rehearsal's dish: what the book advises is turned on the real dish, noted as a change, and the sightings after it
 * bear out what the book then expects. The lever is against the triangle by hand: 10 mm at an arm of 573 mm is 1°.
 */
import { describe, expect, it } from 'vitest'
import { changeOfBolts } from '../../../src/core/export/boltchange.ts'
import { bolts, solve } from '../../../src/core/questions.ts'
import type { AdjusterRecord } from '../../../src/core/records/adjusters.ts'
import type { ChangeRecord, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { instantMs } from '../../../src/core/records/instant.ts'
import { adjustersHere, alteredBy, amountUnit } from '../../../src/core/rehearse/adjusting.ts'
import { type Chance, chance } from '../../../src/core/rehearse/seed.ts'
import type { RehearsalSetup } from '../../../src/core/rehearse/setup.ts'
import { worldOf } from '../../../src/core/rehearse/world.ts'
import { answered } from '../../helpers/answered.ts'
import { observed } from '../../helpers/practised.ts'
import { shareOf } from '../../helpers/share.ts'
import { utcOf } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'
import { bookOf } from '../../helpers/stations.ts'

const START_MS = Date.UTC(2026, 4, 1, 6)
const DAY = 86_400_000
const steady: Chance = { ...chance(1), normal: () => 0 }
const adjuster = (more: Partial<AdjusterRecord>): AdjusterRecord =>
  ({ id: 'a1', name: 'West screw', turns: 'level', by: 'screw', armMm: 573, ...more }) as AdjusterRecord

describe('an adjuster', () => {
  it('alters its parameter by its thread and its arm', () => {
    expect(alteredBy(adjuster({ pitchMm: 2 }), 5, steady)).toBeCloseTo(1, 3)
    expect(alteredBy(adjuster({}), -10, steady)).toBeCloseTo(-1, 3)
    expect(alteredBy(adjuster({ by: 'shim' }), 573, steady)).toBeCloseTo(45, 9)
    expect(alteredBy(adjuster({ by: 'flange', turns: 'heading' }), 10, steady)).toBeCloseTo(1, 3)
    expect(alteredBy(adjuster({ turns: 'lowerBaseArm' }), 10, steady)).toBe(10)
    expect(alteredBy(null, -1.5, steady)).toBe(-1.5)
    expect([adjuster({ pitchMm: 2 }), adjuster({}), null].map(amountUnit)).toEqual(['turns', 'mm', 'deg'])
  })

  it('is set as well as a hand sets it: not exactly, and within a tenth of a degree', () => {
    const set = Array.from({ length: 50 }, (_, k) => alteredBy(adjuster({ pitchMm: 2 }), 5, chance(k)))
    expect(new Set(set).size).toBeGreaterThan(40)
    for (const deg of someOf(set)) expect(Math.abs(deg - 1)).toBeLessThan(0.1)
  })

  it('is there only where the dish has what it sets', () => {
    const { paper } = worldOf({ seed: 3, difficulty: 'beginner', kind: 'x-y', startUtc: utcOf(START_MS) })
    const here = adjustersHere(paper, [
      adjuster({}),
      adjuster({ turns: 'leanEast' }),
      adjuster({ turns: 'lowerScale' }),
    ])
    expect(here.map(a => a.turns)).toEqual(['level'])
  })
})

describe('bolts, change, next sighting', () => {
  const TURNED: Readonly<Record<string, readonly string[]>> = {
    'az-over-el': ['heading', 'level'],
    'x-y': ['heading', 'level'],
    'ha-dec': ['poleEast', 'poleUp'],
    'el-over-az': ['leanNorth', 'leanEast'],
  }
  it.each(shareOf(['az-over-el', 'x-y', 'ha-dec', 'el-over-az'] as const, 2))(
    'on %s: what is advised brings the axis true, and the next sightings say so',
    kind => {
      const setup: RehearsalSetup = { seed: 5, difficulty: 'ordinary', kind, startUtc: utcOf(START_MS) }
      const before = worldOf(setup)
      const adjusters = TURNED[kind]!.map((turns, k) =>
        adjuster({
          id: `a${k}`,
          turns: turns as AdjusterRecord['turns'],
          armMm: 400,
          ...(k === 1 && { pitchMm: 1.5 }),
        }),
      )
      const first = observed(before, 4)
      const station: StationRecord = { ...before.paper, id: 's', name: 'Rehearsal', sightings: first, adjusters }
      const nowMs = START_MS + 4 * DAY
      const told = answered(bolts(bookOf(station), { now: utcOf(nowMs) }))
      expect(told.turn.length).toBeGreaterThan(0)
      const deeds = told.turn.map(({ adjuster, does }, k) => {
        if (does.kind !== 'turn') throw new Error(does.kind)
        const size = does.turns ? does.turns.whole + does.turns.twelfths / 12 : does.mm
        const by = alteredBy(adjuster, does.larger ? size : -size, chance(k))
        return { utc: utcOf(nowMs), id: adjuster.turns, by }
      })
      const after = worldOf({ ...setup, deeds })
      const truth = (world: typeof after, ms: number, id: string) => world.mountAt(ms).truth[id] ?? 0
      for (const { id } of someOf(deeds)) {
        expect(truth(after, nowMs - 1000, id)).toBe(truth(before, nowMs, id))
        expect(Math.abs(truth(after, nowMs, id))).toBeLessThan(Math.abs(truth(before, nowMs, id)) / 2)
      }
      // The days before are as they were.
      const later = observed(after, 6)
      expect(later.filter(s => instantMs(s.utc) < nowMs)).toEqual(first)
      const next = later.filter(s => instantMs(s.utc) > nowMs).slice(0, 3)
      const change = { id: 'c', utc: utcOf(nowMs), ...changeOfBolts(told.turn, 'a') } as ChangeRecord
      const now = utcOf(nowMs + 2 * DAY)
      const solved = (changes: ChangeRecord[]) => {
        return answered(solve(bookOf({ ...station, sightings: [...first, ...next], changes }), { now }))
      }
      const noted = solved([change])
      expect(noted.sightings.map(s => s.status)).toEqual([...first, ...next].map(() => 'used'))
      expect(noted.suspects).toEqual([])
      for (const { id } of someOf(deeds)) {
        const p = noted.parameters.find(one => one.id === id)!
        expect(Math.abs(p.value - truth(after, nowMs, id))).toBeLessThan(3.5 * p.sigma)
      }
      // Unnoted, the sightings do not fit together: some are set aside, or all fit worse.
      const unnoted = solved([])
      expect(unnoted.fit.outliers > 0 || unnoted.fit.misfit > 1.5 * noted.fit.misfit, JSON.stringify(unnoted.fit)).toBe(
        true,
      )
    },
  )
})
