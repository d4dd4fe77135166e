/** The rehearsal's time signal, tapped on: the app's own clock check finds what the clock is really off by, and its sightings are right again. */
import { describe, expect, it } from 'vitest'
import { checkAt, offsetOf, sightingsBackward, trueMsAt } from '../../../src/core/records/clockchecks.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { namingOf } from '../../../src/core/rehearse/named.ts'
import { outcomeOf } from '../../../src/core/rehearse/outcome.ts'
import { pipAt } from '../../../src/core/rehearse/signal.ts'
import { clockCompared, hardTrial, hardWorld, NOW_MS } from '../../helpers/hardcases.ts'
import { START_MS } from '../../helpers/practised.ts'

describe('the time signal', () => {
  it('has a pip of a tenth of a second at each full second of the true time, a long one at the full minute', () => {
    const t = Date.UTC(2026, 4, 1, 6, 0, 7)
    expect([0, 99, 100, 999, 1000].map(ms => pipAt(t + ms))).toEqual(['short', 'short', null, null, 'short'])
    expect([-1, 0, 499, 500, 1000].map(ms => pipAt(t + 53_000 + ms))).toEqual([null, 'long', 'long', null, 'short'])
  })

  it.each(['second', 'minute'] as const)(
    'tapped on at every %s by a hand that shakes: the clock check has what the clock is off by, the announced time compared',
    pips => {
      for (let seed = 1; seed <= 10; seed++) {
        const world = hardWorld(seed, 'clock')
        const { clockErrorS } = world.faults
        expect(Math.abs(clockErrorS)).toBeGreaterThan(119)
        const check = clockCompared(world, START_MS, pips)
        // The display shows whole seconds: by eye it is compared to one.
        expect(Math.abs(check.offsetS - clockErrorS)).toBeLessThan(1.5)
        expect(Math.abs(clockCompared(hardWorld(seed, null), START_MS, pips).offsetS)).toBeLessThan(0.6)
      }
    },
  )
})

describe('a clock off by minutes', () => {
  const { world, said } = hardTrial(3, 'clock', { checksClock: true })
  const at = { seconds: world.faults.clockErrorS }
  const judged = (station: StationRecord) =>
    outcomeOf(world, station, said.solution, [], NOW_MS).hidden.find(h => h.kind === 'clock')!.naming

  it('is named by the check, and every sighting that follows it has its true time', () => {
    expect(namingOf('clock', said, at)).toBe('named')
    for (const s of said.station.sightings) {
      const ms = Date.parse(s.utc)
      expect(Math.abs(ms - 1000 * s.clockOffsetS! - world.trueMs(ms))).toBeLessThan(1500)
    }
    expect(outcomeOf(world, said.station, said.solution, [], NOW_MS).wrong.filter(w => w.byClock)).toEqual([])
    expect(judged(said.station)).toBe('noted')
  })

  it('is not named by a check of the wrong sign; by an old one it is, though nothing was made of it', () => {
    const bare: StationRecord = {
      ...said.station,
      sightings: said.station.sightings.map(({ clockOffsetS: _, ...s }) => s),
      clockChecks: [],
    }
    const [check] = [clockCompared(world, START_MS)]
    const wrong = { ...check, offsetS: -check.offsetS }
    expect(namingOf('clock', { ...said, station: { ...bare, clockChecks: [wrong] } }, at)).not.toBe('named')
    expect(judged({ ...bare, clockChecks: [check] })).toBe('named')
    expect(judged(bare)).not.toBe('noted')
  })

  it('found in the evening, is counted for the sightings marked since the morning', () => {
    const [first] = said.station.sightings
    const { clockOffsetS: _, ...early } = { ...first!, stamp: { monotonicMs: 1 } }
    const evening = clockCompared(world, Date.parse(early.utc) + 9 * 3_600_000)
    const station = { ...said.station, sightings: [early], clockChecks: [evening] }
    expect(checkAt(station, early.utc)).toBeNull()
    const [counted] = sightingsBackward(station, evening)
    expect(counted!.clockOffsetS).toBe(offsetOf(evening))
    const later = Date.parse(evening.utc) + 3_600_000
    expect(Math.abs(trueMsAt(station, later) - world.trueMs(later))).toBeLessThan(1500)
  })
})
