/** Has it moved: from which visit on and what, that it holds, and that nobody can tell; rates are in the study. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { visitsOf } from '../../../src/core/plan/hasmoved.ts'
import { hasMoved } from '../../../src/core/questions.ts'
import { answered } from '../../helpers/answered.ts'
import { isNamed, movedTrial, STORM_MS } from '../../helpers/movedtrials.ts'
import { bookOf, drawScene, START_MS, sightMany, utcOf } from '../../helpers/simulate.ts'

const HOUR_MS = 3_600_000

describe('hasMoved', () => {
  it('names what moved, and the span in which it did', () => {
    const trial = movedTrial(53_500, 'ha-dec', false)!
    expect(trial.storm.size).toBeGreaterThan(1)
    expect(trial.found.verdict).toBe('moved')
    expect(trial.found.since!.beforeMs).toBeLessThan(STORM_MS)
    expect(trial.found.since!.firstMs).toBeGreaterThanOrEqual(STORM_MS)
    expect(isNamed(trial)).not.toBe('no')
  })

  it('says nothing of a mount that stood still, or that it holds', () => {
    const { found } = movedTrial(52_001, 'el-over-az', true)!
    expect(found.verdict).not.toBe('moved')
    expect(found.visits).toBeGreaterThan(5)
  })

  it('cannot tell with one visit, or too few sightings before the last', () => {
    const scene = drawScene(77, { kind: 'el-over-az' })
    const one = sightMany(scene, 4, { methods: ['signal-peak'], days: 0.2 })
    const said = (sightings: typeof one) =>
      answered(hasMoved(bookOf({ ...scene.record, sightings }), { now: utcOf(START_MS + 40 * 24 * HOUR_MS) }))
    expect(said(one)).toMatchObject({ verdict: 'cannot-tell', visits: 1, check: null, since: null })
    const two = [
      ...one.slice(0, 2),
      ...sightMany(scene, 2, { methods: ['signal-peak'], fromMs: START_MS + 240 * HOUR_MS }, 'n'),
    ]
    expect(said(two)).toMatchObject({ verdict: 'cannot-tell', check: null })
  })
})

describe('visitsOf', () => {
  it('parts where more than eight hours lie between, and nowhere else', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 400 }), { maxLength: 40 }), hours => {
        const times = hours.map(h => h * HOUR_MS).sort((a, b) => a - b)
        const visits = visitsOf(times)
        for (const { beforeMs, firstMs } of visits) {
          expect(firstMs - beforeMs).toBeGreaterThan(8 * HOUR_MS)
          expect(times.filter(t => t > beforeMs && t < firstMs)).toEqual([])
        }
        const gaps = times.filter((t, k) => k > 0 && t - times[k - 1]! > 8 * HOUR_MS).length
        expect(visits.length).toBe(gaps)
      }),
    )
  })
})
