import { describe, expect, it } from 'vitest'
import { crowding, repeatsOf, SHARED } from '../../../src/core/fit/repeats.ts'
import type { Sighting } from '../../../src/core/fit/sighting.ts'
import { solve } from '../../../src/core/questions.ts'
import type { SightingRecord, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { answered } from '../../helpers/answered.ts'
import { chance } from '../../helpers/random.ts'
import { bookOf, drawScene, START_MS, sight, sightMany, utcOf } from '../../helpers/simulate.ts'

const NOW = '2026-05-22T00:00:00Z'
const solutionOf = (record: StationRecord, sightings: SightingRecord[]) => {
  return answered(solve(bookOf({ ...record, sightings }), { now: NOW }))
}

const scene = drawScene(21, { kind: 'az-over-el', lower: 'degrees', upper: 'degrees' })
const sightings = sightMany(scene, 12)
const copyOf = (s: SightingRecord, id: string, laterMs = 0, change: Partial<SightingRecord> = {}): SightingRecord => ({
  ...s,
  id,
  utc: utcOf(Date.parse(s.utc) + laterMs),
  ...change,
})

/** m sightings of one target within a span, the Sun or the Moon as it can be reached. */
function burst(m: number, spanMs: number): SightingRecord[] {
  for (let ms = START_MS; ; ms += 3_600_000) {
    const made = Array.from({ length: m }, (_, k) =>
      sight(
        scene,
        { ms: ms + Math.round((k * spanMs) / Math.max(1, m - 1)), target: { type: 'sun' }, method: 'signal-peak' },
        `burst${k}`,
      ),
    )
    if (made.every(s => s !== null)) return made as SightingRecord[]
  }
}

describe('copies of a sighting', () => {
  it('count once: a book merged from two phones under other ids solves to the same, and each copy is named', () => {
    const once = solutionOf(scene.record, sightings)
    const copies = sightings.map((s, k) => copyOf(s, `other${k}`, k % 2 === 0 ? 0 : 1500))
    const twice = solutionOf(scene.record, [...sightings, ...copies])
    expect(twice.parameters).toEqual(once.parameters)
    expect(twice.sky).toEqual(once.sky)
    expect(twice.fit).toEqual(once.fit)
    const said = twice.sightings.slice(12)
    expect(said.map(s => [s.status, s.repeats])).toEqual(sightings.map(s => ['excluded', s.id]))
    expect(twice.sightings.slice(0, 12).every(s => s.repeats === undefined)).toBe(true)
  })

  it('are of the same target, method, readings and offset within 2 s', () => {
    const [s] = sightings as [SightingRecord]
    const second = (laterMs: number, change: Partial<SightingRecord> = {}) =>
      solutionOf(scene.record, [...sightings, copyOf(s, 'x', laterMs, change)]).sightings[12]!.repeats
    expect(second(0)).toBe(s.id)
    expect(second(2000, { note: 'again', sigmaDeg: 0.5 })).toBe(s.id)
    expect(second(2001)).toBeUndefined()
    expect(second(0, { lower: s.lower + 0.01 })).toBeUndefined()
    expect(second(0, { method: 'optical' })).toBeUndefined()
    expect(second(0, { offset: { rightDeg: 0.1, upDeg: 0 } })).toBeUndefined()
    expect(second(0, { use: 'never' })).toBeUndefined()
  })

  it('leave the one that is to count always', () => {
    const [s] = sightings as [SightingRecord]
    const solved = solutionOf(scene.record, [...sightings, copyOf(s, 'x', 500, { use: 'always' })]).sightings
    expect([solved[0]!.repeats, solved[12]!.repeats]).toEqual(['x', undefined])
  })
})

/** As little of a sighting as these rules look at. */
const at = (ms: number, record: Partial<SightingRecord> = {}): Sighting =>
  ({
    record: { id: `${ms}`, target: { type: 'sun' }, method: 'signal-peak', lower: ms, upper: 0, ...record },
    utcMs: ms,
    use: 'auto',
    repeats: null,
  }) as unknown as Sighting

describe('sightings less than a minute apart', () => {
  it('share what the straight line says, as a sum over all pairs has it (500 in an hour)', () => {
    const c = chance(4)
    const times = Array.from({ length: 500 }, () => Math.round(c.between(0, 3_600_000)))
    const k = crowding(times.map(t => at(t)))
    times.forEach((t, i) => {
      const sum = times.reduce((a, u, j) => a + (i === j ? 0 : SHARED * Math.max(0, 1 - Math.abs(t - u) / 60_000)), 1)
      expect(k[i]).toBeCloseTo(sum, 9)
    })
  })

  it('are left alone from a minute on, by another method, of another target', () => {
    expect([...crowding([at(0), at(60_000), at(120_000)])]).toEqual([1, 1, 1])
    expect([...crowding([at(0), at(1000, { method: 'optical' }), at(2000, { target: { type: 'moon' } })])]).toEqual([
      1, 1, 1,
    ])
  })

  it('ten in 30 s are worth between 1.5 and 2.5 of one, not ten: the mean as the correlation has it, to 2 %', () => {
    const times = Array.from({ length: 10 }, (_, k) => (30_000 * k) / 9)
    const worth = crowding(times.map(t => at(t))).reduce((a, k) => a + 1 / k, 0)
    expect(worth).toBeGreaterThan(1.5)
    expect(worth).toBeLessThan(2.5)
    // Variance of the plain mean under the same correlation.
    let variance = 0
    for (const t of times)
      for (const u of times) variance += (t === u ? 1 : SHARED * (1 - Math.abs(t - u) / 60_000)) / 100
    expect(1 / worth / variance).toBeGreaterThan(0.98)
    expect(1 / worth / variance).toBeLessThan(1.02)
  })

  it('say their weight in the solution, and do not sharpen it as ten would', () => {
    const ten = burst(10, 30_000)
    const alone = solutionOf(scene.record, [...sightings, ten[0]!]).sightings.at(-1)!
    expect(alone.weight).toBeUndefined()
    const solved = solutionOf(scene.record, [...sightings, ...ten])
    const weights = solved.sightings.slice(12).map(s => s.weight!)
    expect(weights.reduce((a, w) => a + w, 0)).toBeGreaterThan(1.5)
    expect(weights.reduce((a, w) => a + w, 0)).toBeLessThan(2.5)
  })

  it('are judged by their own σ: one of six that is 12 σ off is set aside, the others stay', () => {
    const six = burst(6, 40_000)
    const hpbwDeg = (70 * 299.792458) / scene.record.feeds[0]!.frequencyMHz / scene.record.dish.diameterM
    six[3]!.upper = Number((six[3]!.upper + 12 * 0.1 * hpbwDeg).toFixed(2))
    const solved = solutionOf(scene.record, [...sightings, ...six]).sightings
    expect(solved.filter(s => s.status === 'outlier').map(s => s.id)).toEqual(['burst3'])
  })

  it('name copies also among thousands: 3 000 sightings stored twice', () => {
    const many = Array.from({ length: 3000 }, (_, k) => at(100_000 * k))
    const copies = many.map(s => ({ ...s, record: { ...s.record, id: `c${s.record.id}` } }))
    expect(repeatsOf([...many, ...copies]).filter(x => x !== null)).toHaveLength(3000)
  })
})
