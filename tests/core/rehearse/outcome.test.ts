/** The end of a rehearsal: an honest observer's sightings of a drawn dish are solved, and the truth judges the answer. */
import { describe, expect, it } from 'vitest'
import { solve } from '../../../src/core/questions.ts'
import type { SightingRecord, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { still } from '../../../src/core/rehearse/drives.ts'
import { readoutAngleDeg } from '../../../src/core/rehearse/mount.ts'
import { outcomeOf, truthOnPaper } from '../../../src/core/rehearse/outcome.ts'
import type { Difficulty } from '../../../src/core/rehearse/setup.ts'
import { type World, worldOf } from '../../../src/core/rehearse/world.ts'
import { answered } from '../../helpers/answered.ts'
import { ended, everyFourHours, offBy, START_MS } from '../../helpers/practised.ts'
import { drawn, shareOf } from '../../helpers/share.ts'
import { KINDS, utcOf } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'
import { bookOf } from '../../helpers/stations.ts'

/** Sun and Moon peaked every four hours of some days, by somebody who turns to the real dish and reads what it shows. */
const observed = (world: World, days: number, sigmaDeg: number): SightingRecord[] =>
  everyFourHours(world, days, 12, (_, __, there, c) => {
    const at = offBy(world, there, sigmaDeg, c)
    return { at: { lower: still(at.lower, 0), upper: still(at.upper, 0) }, sigmaDeg: sigmaDeg * 1.4 }
  })

function rehearsed(
  seed: number,
  difficulty: Difficulty,
  kind: StationRecord['mount']['kind'],
  days = 8,
  spoil?: (s: SightingRecord[]) => void,
) {
  const world = worldOf({ seed, difficulty, kind, startUtc: utcOf(START_MS) })
  const sightings = observed(world, days, 0.15)
  spoil?.(sightings)
  return ended(world, sightings, days)
}

describe('the end of a rehearsal', () => {
  it.each(shareOf(KINDS, 2))(
    'of a beginner on %s: the loss left is what was claimed, the three faults are found',
    kind => {
      const { outcome } = rehearsed(3, 'beginner', kind)
      expect(outcome.holds).toBe(true)
      expect(outcome.claimed.within).toBe(true)
      expect(outcome.pointing!.points).toBeGreaterThan(50)
      expect(outcome.wrong).toEqual([])
      // Within what was stated, of every parameter.
      for (const { offSigmas } of someOf(outcome.rows)) expect(Math.abs(offSigmas!)).toBeLessThan(3.5)
      expect(outcome.rows.filter(r => r.truth !== 0)).toHaveLength(3)
    },
  )

  it('names a reading that was written down wrong, whether it was caught or not', () => {
    const { outcome } = rehearsed(3, 'beginner', 'az-over-el', 8, s => {
      s[5]!.upper += 12
    })
    expect(outcome.wrong.map(w => [w.id, w.isCaught, w.byClock])).toEqual([['s5', true, false]])
    const kept = rehearsed(3, 'beginner', 'az-over-el', 8, s => {
      s[5] = { ...s[5]!, upper: s[5]!.upper + 12, use: 'always' }
    })
    expect(kept.outcome.wrong.map(w => [w.id, w.isCaught])).toEqual([['s5', false]])
    expect(kept.outcome.holds).toBe(false)
  })

  it('tells a wrong time from a wrong reading', () => {
    const { outcome } = rehearsed(3, 'beginner', 'az-over-el', 8, s => {
      s[5] = { ...s[5]!, clockOffsetS: 3600 }
    })
    expect(outcome.wrong.map(w => [w.id, w.byClock])).toEqual([['s5', true]])
  })

  drawn('counts in a hard case what happened and is not in the book, and what is', () => {
    const { world, station, outcome } = rehearsed(2, 'hard', 'az-over-el')
    expect(outcome.hidden.map(h => h.kind)).toEqual(['clock', 'slip', 'feed', 'storm', 'stop', 'backlash'])
    expect(outcome.hidden.map(h => h.naming)).not.toContain('noted')
    expect(outcome.hidden.find(h => h.kind === 'stop')!.naming).toBe('not')
    const { slip, stormMs, wrongStop, clockErrorS } = world.faults
    const told: StationRecord = {
      ...station,
      changes: [
        { id: 'c1', utc: utcOf(Math.round(slip!.fromMs / 1000) * 1000), what: [`${slip!.axis}-zero`], slipped: true },
        { id: 'c2', utc: utcOf(Math.round(stormMs! / 1000) * 1000), what: ['lower-axis'] },
      ],
      sightings: station.sightings.map(s => ({ ...s, clockOffsetS: clockErrorS })),
      mount: {
        ...station.mount,
        [wrongStop!.axis]: {
          ...station.mount[wrongStop!.axis],
          [wrongStop!.end === 'low' ? 'minReading' : 'maxReading']: Math.round(wrongStop!.reading),
        },
      },
    }
    const now = utcOf(START_MS + 8 * 24 * 3_600_000)
    const solved = answered(solve(bookOf(told), { now }))
    const again = outcomeOf(world, told, solved, [], START_MS + 8 * 24 * 3_600_000)
    const naming = Object.fromEntries(again.hidden.map(h => [h.kind, h.naming]))
    expect(naming).toMatchObject({ clock: 'noted', slip: 'noted', storm: 'noted', stop: 'noted' })
    expect(again.pointing).toBeNull()
    expect(outcome.wrong.length).toBeGreaterThan(5) // the clock: all of them
    expect(again.wrong).toEqual([])
  })
})

describe('the truth on another paper', () => {
  it('turns the dish to the same angles whatever the paper says', () => {
    const { paper, faults } = worldOf({ seed: 4, difficulty: 'ordinary', kind: 'x-y', startUtc: utcOf(START_MS) })
    const { truth } = faults.truths[0]!
    const { lower } = paper.mount
    if (lower.readout.type !== 'linear-counts') throw new Error('counts expected')
    const other = {
      ...paper,
      mount: {
        ...paper.mount,
        headingDeg: paper.mount.headingDeg! + 20,
        lower: {
          ...lower,
          readout: {
            ...lower.readout,
            zeroCounts: lower.readout.zeroCounts + 37,
            countsPerDeg: lower.readout.countsPerDeg * 1.03,
          },
        },
      },
    }
    const there = truthOnPaper(paper, other, truth, { lower: -12, upper: 0 })
    const angle = (of: typeof paper, t: typeof truth, reading: number) =>
      readoutAngleDeg(of, 'lower', reading, t) * (1 + t.lowerScale!) + t.lowerZero!
    // A counter that lost twelve counts reads twelve less at the same angle.
    for (const reading of [100, 900])
      expect(angle(other, there, reading - 12)).toBeCloseTo(angle(paper, truth, reading), 9)
    expect(there.heading!).toBeCloseTo(truth.heading! - 20, 9)
  })
})
