/** Priors at the ends of what may be written: held fast, or knowing nothing. And a leap second. */
import { describe, expect, it } from 'vitest'
import { solve } from '../../../src/core/questions.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { answered } from '../../helpers/answered.ts'
import { isWhole } from '../../helpers/share.ts'
import { bookOf, drawScene, idsOfTruth, sight, sightMany, utcOf } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'

const NOW = '2026-05-22T00:00:00Z'
const solved = (record: StationRecord) => {
  const book = bookOf(record)
  expect(checkFieldBook(book)).toEqual([])
  return answered(solve(book, { now: NOW }))
}

const scene = drawScene(31, { kind: 'x-y', lower: 'jack', upper: 'linear-counts' })
const record = { ...scene.record, sightings: sightMany(scene, 9) }
const ids = idsOfTruth(record).filter(id => !id.startsWith('tube') && !id.endsWith('Play'))

describe('a prior', () => {
  it.each([1e-9, 1e-300])('of σ %d holds its parameter fast, all finite', sigma => {
    for (const key of someOf(ids.filter((_, k) => k % ((sigma === 1e-9 ? 3 : 8) * (isWhole ? 1 : 2)) === 0))) {
      const value = 0.25
      const solution = solved({ ...record, priors: [{ id: key, value, sigma }] })
      const [id, feed] = key.split(':')
      const held = solution.parameters.find(p => p.id === id && p.feed === feed)!
      expect([key, Math.abs(held.value - value) < 1e-5, held.sigma < 1e-5]).toEqual([key, true, true])
      // A number that is not finite would be null; a mount without a polar axis says so by null.
      const { pole, ...controller } = solution.controller
      expect(pole).toBeNull()
      expect(JSON.stringify({ ...solution, setupFromUtc: 0, controller })).not.toContain('null')
    }
  })

  it('of σ 1e-9 on all parameters at once, far from where the sightings want them, is kept to', () => {
    const priors = ids.map(id => ({ id, value: 1, sigma: 1e-9 })).filter(p => !p.id.endsWith('Scale'))
    const solution = solved({ ...record, priors })
    for (const p of someOf(solution.parameters.filter(x => x.unit !== 'ratio'))) expect(p.value).toBeCloseTo(1, 5)
  })

  it('of σ 1e9 knows nothing, and the rest is as it was to 0.01°', () => {
    const solution = solved({ ...record, priors: [{ id: 'heading', value: 0, sigma: 1e9 }] })
    const before = solved(record)
    const heading = (s: typeof before) => s.parameters.find(p => p.id === 'heading')!.value
    expect(Math.abs(heading(solution) - heading(before))).toBeLessThan(0.01)
  })
})

describe('a sighting in a leap second', () => {
  it('is solved like one in the second that follows', () => {
    // 2016-12-31T23:59:60Z was one (IERS Bulletin C 52).
    const next = Date.UTC(2017, 0, 1)
    let found = null
    for (let seed = 1; found === null; seed++) {
      const there = drawScene(seed, { kind: 'el-over-az' })
      const s = sight(there, { ms: next, target: { type: 'sun' }, method: 'signal-peak' }, 'leap')
      if (s !== null) found = { there, s }
    }
    const { there, s } = found
    const of = (utc: string) => solved({ ...there.record, sightings: [{ ...s, utc }] })
    expect(of('2016-12-31T23:59:60Z')).toEqual(of(utcOf(next)))
  })
})
