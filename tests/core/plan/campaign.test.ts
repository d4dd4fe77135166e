/** The sightings of the coming days: each promise against the station fitted again, the best against every other, and when to come back. */
import { describe, expect, it } from 'vitest'
import { errorForEchoLoss } from '../../../src/core/dish/optics.ts'
import type { CampaignJson, SightingStepJson } from '../../../src/core/plan/campaignjson.ts'
import { campaign } from '../../../src/core/questions.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { answered } from '../../helpers/answered.ts'
import { shareOf } from '../../helpers/share.ts'
import { bookOf, drawScene, KINDS, type Scene, START_MS, sightMany, utcOf } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'
import { carriedOut, p95Of } from '../../helpers/worthtrials.ts'

const DAY_MS = 86_400_000
const NOW = START_MS + 3 * DAY_MS

const campaignOf = (record: StationRecord, ms = NOW): CampaignJson =>
  answered(campaign(bookOf(record), { now: utcOf(ms) }))

/** A station with some of one day's Sun. */
function begun(seed: number, n: number): { scene: Scene; record: StationRecord } {
  const scene = drawScene(seed, { kind: KINDS[seed % 4]!, frequencyMHz: 1296 })
  return { scene, record: { ...scene.record, sightings: sightMany(scene, n, { methods: ['signal-peak'], days: 1 }) } }
}

/** The station with steps made as they say, on the mount as it really is. */
function made(scene: Scene, record: StationRecord, steps: readonly SightingStepJson[]): StationRecord {
  return steps.reduce((sofar, step, k) => {
    const next = carriedOut(
      scene,
      sofar,
      { step, minutes: 0, beforeDeg: 0, afterDeg: 0, beforeDb: 0, afterDb: 0 },
      NOW,
    )!
    return { ...next, sightings: next.sightings.map(s => (s.id === 'planned' ? { ...s, id: `planned-${k}` } : s)) }
  }, record)
}

const median = (list: number[]): number => list.sort((a, b) => a - b)[list.length >> 1]!

describe('campaign', () => {
  it('brings with all of today’s what it says, in the middle of some stations within 5 %, in each within 25 %', () => {
    const ratios: number[] = []
    const seeds = shareOf([401, 402, 403, 404, 405, 406], 3)
    for (const seed of seeds) {
      const { scene, record } = begun(seed, 12)
      const { today } = campaignOf(record)
      if (today.length === 0) continue
      const brought = p95Of(
        made(
          scene,
          record,
          today.map(s => s.step),
        ),
        NOW,
      )
      ratios.push(brought / today.at(-1)!.afterDeg)
    }
    expect(ratios.length).toBeGreaterThan(seeds.length / 2)
    for (const r of ratios) expect(Math.abs(Math.log(r))).toBeLessThan(0.25)
    expect(Math.abs(Math.log(median(ratios)))).toBeLessThan(0.05)
  })

  it('goes on in order of time, never says more than it began with, stops where the rest would not show', () => {
    for (const seed of [421, 424]) {
      const { record } = begun(seed, 6)
      const c = campaignOf(record)
      const times = c.today.map(s => Date.parse(s.step.utc))
      expect(times).toEqual([...times].sort((a, b) => a - b))
      for (const t of times) expect(t - NOW).toBeLessThan(DAY_MS)
      const last = c.today.at(-1)
      if (last) expect(last.afterDeg).toBeLessThan(c.nowDeg)
      expect(c.isAllToday).toBe(c.today.length < 8)
      expect(c.isEnough).toBe((last?.afterDb ?? c.nowDb) <= c.allowedDb)
      if (c.isEnough) expect(c.back).toBeNull()
      if (c.back) {
        const end = c.back.steps.at(-1)!
        expect(end.afterDeg).toBeLessThan(last?.afterDeg ?? c.nowDeg)
        expect(c.back.isEnough).toBe(end.afterDb <= c.allowedDb)
        expect(Date.parse(c.back.steps[0]!.step.utc) - NOW).toBeGreaterThanOrEqual(DAY_MS)
      }
    }
  })

  it('the place on all paths that brings most is among those ranked, which stand in order of what they leave', () => {
    const { record } = begun(431, 8)
    const { ranked, paths } = campaignOf(record)
    const spots = paths.flatMap(p => p.spots.map(s => ({ ...s, target: p.target })))
    const most = spots.reduce((a, b) => (b.share > a.share ? b : a))
    for (const s of someOf(spots)) {
      expect(s.share).toBeGreaterThanOrEqual(0)
      expect(s.share).toBeLessThanOrEqual(1)
    }
    expect(ranked.some(r => r.step.utc === most.utc && r.step.target === most.target)).toBe(true)
    for (let k = 1; k < ranked.length; k++) expect(ranked[k]!.afterDeg).toBeGreaterThanOrEqual(ranked[k - 1]!.afterDeg)
  })

  it('asks a mount that has seen one declination alone to come back when the Sun stands at another', () => {
    // The dish's offset of a tilting mount hardly shows in one day's Sun.
    const { back, today } = campaignOf(begun(442, 12).record)
    expect(back!.steps.length).toBeGreaterThan(0)
    expect(back!.steps.at(-1)!.afterDeg).toBeLessThan(today.at(-1)!.afterDeg)
  })

  it('a mount known well within its tolerance is asked for nothing', () => {
    const scene = drawScene(451, { kind: 'el-over-az', frequencyMHz: 1296 })
    const record = { ...scene.record, sightings: sightMany(scene, 60, { methods: ['signal-peak'] }) }
    const c = campaignOf(record)
    expect(c.nowDeg).toBeLessThan(errorForEchoLoss(c.allowedDb, 5))
    expect(c.isEnough).toBe(true)
    expect(c.back).toBeNull()
  })
})
