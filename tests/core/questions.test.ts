/** The one door: few or strange measurements get an answer, never a crash, and never a confident wrong one. */
import { describe, expect, it } from 'vitest'
import { solve, targets } from '../../src/core/questions.ts'
import type { FieldBook, SightingRecord, StationRecord } from '../../src/core/records/fieldbook.ts'
import { readFieldBook } from '../../src/core/records/intake.ts'
import type { Solution } from '../../src/core/records/solution.ts'
import { answered } from '../helpers/answered.ts'
import { shareOf } from '../helpers/share.ts'
import { bookOf, drawScene, KINDS, type Scene, START_MS, sight, sightMany, utcOf } from '../helpers/simulate.ts'
import { someOf } from '../helpers/some.ts'
import { trueLevelDeg } from '../helpers/truelevels.ts'

const NOW = utcOf(START_MS + 22 * 86_400_000)

function solved(record: StationRecord): Solution {
  const book = bookOf(record)
  // Everything here is a legal book.
  answered(readFieldBook(JSON.stringify(book)))
  const answer = answered(solve(book, { now: NOW }))
  expect(everyNumberIsFinite(answer)).toBe(true)
  return answer
}

function everyNumberIsFinite(x: unknown): boolean {
  if (typeof x === 'number') return Number.isFinite(x)
  if (x !== null && typeof x === 'object') return Object.values(x).every(everyNumberIsFinite)
  return true
}
const valueIn = (s: Solution, id: string): number => s.parameters.find(p => p.id === id)!.value

describe('solve', () => {
  it.each(KINDS)('with no sighting on %s gives the priors, everything open, within false', kind => {
    const scene = drawScene(880, { kind })
    const s = solved(scene.record)
    expect(s.sky.within).toBe(false)
    expect(s.fit).toMatchObject({ used: 0, outliers: 0, rmsDeg: 0 })
    for (const p of someOf(s.parameters)) {
      expect(p.state).toBe('open')
      expect(p.value).toBe(p.prior.value)
      expect(p.sigma).toBeCloseTo(p.prior.sigma, 9)
    }
    expect(s.setupFromUtc).toBeNull()
    expect(s.suspects).toEqual([])
  })

  const FEW = KINDS.flatMap(kind => [1, 2, 3].map(n => [n, kind] as const))
  it.each(shareOf(FEW, 6))('with %i sightings on %s rejects nothing, however wrong one is', (n, kind) => {
    const scene = drawScene(881, { kind, lower: 'degrees', upper: 'degrees' })
    const sightings = sightMany(scene, n)
    sightings[0]!.upper += 9
    const s = solved({ ...scene.record, sightings })
    expect(s.fit.used).toBe(n)
    expect(s.sightings.map(x => x.status)).toEqual(new Array(n).fill('used'))
  })

  it('finds a blunder among five, but not among three', () => {
    const scene = drawScene(882, { kind: 'az-over-el', lower: 'degrees', upper: 'degrees', wild: false })
    const sightings = sightMany(scene, 8, { sigmaDeg: 0.2 })
    sightings[4]!.upper += 15
    expect(
      solved({ ...scene.record, sightings })
        .sightings.filter(x => x.status === 'outlier')
        .map(x => x.id),
    ).toEqual([sightings[4]!.id])
    expect(solved({ ...scene.record, sightings: sightings.slice(3, 6) }).fit.outliers).toBe(0)
  })

  it('keeps "always" and leaves out "never", whatever they say', () => {
    const scene = drawScene(883, { kind: 'az-over-el', lower: 'degrees', upper: 'degrees', wild: false })
    const sightings = sightMany(scene, 10, { sigmaDeg: 0.2 })
    sightings[4]!.upper += 15
    const withUse = (use: SightingRecord['use']) =>
      solved({ ...scene.record, sightings: sightings.map((s, k) => (k === 4 ? { ...s, use: use! } : s)) })
    expect(withUse('auto').sightings[4]!.status).toBe('outlier')
    expect(withUse('always').sightings[4]!.status).toBe('used')
    const never = withUse('never')
    expect(never.sightings[4]!.status).toBe('excluded')
    expect(never.fit.used).toBe(9)
    const without = solved({ ...scene.record, sightings: sightings.filter((_, k) => k !== 4) })
    expect(never.parameters).toEqual(without.parameters)
    expect(withUse('auto').parameters.map(p => p.value)).toEqual(never.parameters.map(p => expect.closeTo(p.value, 6)))
    // With every sighting "never" there is nothing usable.
    const none = solved({ ...scene.record, sightings: sightings.map(s => ({ ...s, use: 'never' as const })) })
    expect(none.sky.within).toBe(false)
    expect(none.parameters.every(p => p.state === 'open')).toBe(true)
  })

  it.each(KINDS)('with eight sightings all at one instant on %s leaves open what they cannot tell', kind => {
    const scene = drawScene(884, { kind, lower: 'degrees', upper: 'degrees' })
    const [one] = sightMany(scene, 1, { sigmaDeg: 0.2, methods: ['signal-peak'] })
    const sightings = Array.from({ length: 8 }, (_, k) => ({ ...one!, id: `s${k}` }))
    const s = solved({ ...scene.record, sightings })
    expect(s.fit.outliers).toBe(0)
    expect(s.sky.within).toBe(false)
    expect(s.parameters.filter(p => p.state === 'open').length).toBeGreaterThan(3)
  })

  it('takes a sighting below the horizon: it is solved with and nothing breaks', () => {
    const scene = drawScene(885, { kind: 'el-over-az', lower: 'degrees', upper: 'degrees', wild: false })
    scene.record.mount.upper.minReading = -20
    const sightings = sightMany(scene, 8)
    let low: SightingRecord | null = null
    for (let h = 0; low === null && h < 240; h++)
      low = sight(
        scene,
        { ms: START_MS + h * 600_000, target: { type: 'sun' }, method: 'optical', lowestDeg: -4 },
        'low',
      )
    for (let h = 0; h < 240; h++) {
      const made = sight(
        scene,
        { ms: START_MS + h * 300_000, target: { type: 'sun' }, method: 'optical', lowestDeg: -4 },
        'low',
      )
      if (made !== null && isBelow(scene, made)) low = made
    }
    expect(low).not.toBeNull()
    const s = solved({ ...scene.record, sightings: [...sightings, low!] })
    expect(s.sightings.find(x => x.id === 'low')!.status).toBe('used')
  })
  const isBelow = (_: Scene, s: SightingRecord): boolean => s.upper < -1

  it('knows no seam at north: a paper heading of 359° and a mount turned by +3°', () => {
    const scene = drawScene(886, { kind: 'az-over-el', latDeg: -34, lower: 'degrees', upper: 'degrees', wild: false })
    scene.record.mount.headingDeg = 359
    scene.truths[0]!.truth.heading = 3
    delete scene.cache
    const sightings = sightMany(scene, 14, { sigmaDeg: 0.05 })
    expect(sightings.length).toBe(14)
    const s = solved({ ...scene.record, sightings })
    expect(Math.abs(valueIn(s, 'heading') - 3)).toBeLessThan(5 * s.parameters.find(p => p.id === 'heading')!.sigma)
    const same = solved({ ...scene.record, mount: { ...scene.record.mount, headingDeg: 0 }, sightings })
    expect(valueIn(same, 'heading') + 1).toBeCloseTo(valueIn(s, 'heading'), 1)
  })

  it.each([
    ['el-over-az', 90],
    ['el-over-az', -90],
    ['ha-dec', 90],
    ['az-over-el', -90],
    ['x-y', 90],
  ] as const)('solves %s at latitude %i°, where azimuth is along the given longitude’s meridian', (kind, latDeg) => {
    const scene = drawScene(887, { kind, lower: 'degrees', upper: 'degrees', wild: false })
    scene.record.site = { ...scene.record.site, latDeg, heightM: 2800 }
    scene.record.mount.lower = { readout: { type: 'degrees' }, minReading: -190, maxReading: 370 }
    scene.record.mount.upper = { readout: { type: 'degrees' }, minReading: -90, maxReading: 95 }
    delete scene.cache
    const sightings = sightMany(scene, 10, { sigmaDeg: 0.2, methods: ['signal-peak'], days: 27 })
    expect(sightings.length).toBe(10)
    const s = solved({ ...scene.record, sightings })
    expect(s.fit.outliers).toBe(0)
    expect(s.fit.misfit).toBeLessThan(2.5)
  })

  it('outlives a jack whose rejected sighting lies where the fitted arms no longer close', () => {
    const scene = drawScene(888, { kind: 'az-over-el', lower: 'degrees', upper: 'jack', wild: false })
    const { upper } = scene.record.mount
    if (upper.readout.type !== 'jack') throw new Error('no jack')
    const { baseArmMm, rodArmMm, lengthAtReadingZeroMm, countsPerMm } = upper.readout
    const sightings = sightMany(scene, 12)
    // True arms shorter than on paper: the longest reading that paper allows closes no longer.
    const longest = Math.floor((baseArmMm + rodArmMm - lengthAtReadingZeroMm) * countsPerMm) - 1
    // "always" cannot help it: nothing can be computed with such a reading.
    for (const use of ['auto', 'always'] as const) {
      const s = solved({
        ...scene.record,
        priors: [
          { id: 'upperBaseArm', value: -6, sigma: 0.5 },
          { id: 'upperRodArm', value: -6, sigma: 0.5 },
        ],
        sightings: [...sightings, { ...sightings[3]!, id: 'end', upper: longest, use }],
      })
      expect(s.sightings.find(x => x.id === 'end')!.status).toBe('outlier')
      expect(s.fit.misfit).toBeLessThan(3)
    }
  })

  it('gives several feeds positions of their own', () => {
    const scene = drawScene(889, {
      kind: 'az-over-el',
      feeds: 2,
      lower: 'degrees',
      upper: 'degrees',
      wild: false,
      frequencyMHz: 5760,
    })
    Object.assign(scene.truths[0]!.truth, { 'feedRight:a': 0, 'feedRight:b': 15 })
    delete scene.cache
    const s = solved({
      ...scene.record,
      sightings: sightMany(scene, 24, { sigmaDeg: 0.05, methods: ['signal-peak', 'shadow'] }),
    })
    const of = (feed: string) => s.parameters.find(p => p.id === 'feedRight' && p.feed === feed)!
    const gap = of('b').value - of('a').value
    expect(Math.abs(gap - 15)).toBeLessThan(6)
  })

  it('names the change that began the setup, and gives the parameters valid now', () => {
    const scene = drawScene(890, { kind: 'az-over-el', lower: 'degrees', upper: 'degrees' })
    const [first, later] = [START_MS + 5 * 86_400_000, START_MS + 60 * 86_400_000]
    const s = solved({
      ...scene.record,
      sightings: sightMany(scene, 8),
      changes: [
        { id: 'c1', utc: utcOf(later), what: ['all'] },
        { id: 'c2', utc: utcOf(first), what: ['dish'] },
      ],
    })
    expect(s.setupFromUtc).toBe(utcOf(first))
    expect(new Set(s.parameters.map(p => p.id)).size).toBe(s.parameters.length)
  })

  it('gives the same bytes for the same book and the same now', () => {
    const scene = drawScene(891, { kind: 'x-y' })
    const record = { ...scene.record, sightings: sightMany(scene, 14) }
    const text = JSON.stringify(solved(record))
    expect(JSON.stringify(solved(JSON.parse(JSON.stringify(record)) as StationRecord))).toBe(text)
  })

  it('takes levels of every kind beside no sighting at all', () => {
    const scene = drawScene(892, { kind: 'az-over-el', lower: 'degrees', upper: 'degrees' })
    const s = solved({
      ...scene.record,
      levels: [
        {
          id: 'l',
          utc: utcOf(START_MS),
          what: 'lower-axis-elevation',
          valueDeg: trueLevelDeg(scene, START_MS, 'lower-axis-elevation'),
          sigmaDeg: 0.1,
        },
      ],
    })
    expect(s.sky.within).toBe(false)
    expect(valueIn(s, 'level')).toBeCloseTo(scene.truths[0]!.truth.level!, 1)
  })
})

describe('the station meant', () => {
  const a = drawScene(893, { kind: 'ha-dec' }).record
  const b: StationRecord = { ...drawScene(894, { kind: 'x-y' }).record, id: 't', name: 'The other one' }
  const refusal = (book: FieldBook, station?: string): string => {
    const answer = solve(book, { now: NOW, ...(station === undefined ? {} : { station }) })
    return answer.ok ? 'accepted' : answer.faults.map(f => f.rule).join()
  }
  it('must be named when there are several, and those are listed', () => {
    expect(refusal(bookOf(a, b))).toContain('"The other one"')
    expect(refusal(bookOf(a, b))).toContain(a.name)
    expect(refusal(bookOf(a, b), 'The other one')).toBe('accepted')
    expect(refusal(bookOf(a, b), 'nobody')).toContain('nobody')
    expect(refusal(bookOf(a))).toBe('accepted')
    expect(refusal(bookOf())).toContain('no station')
  })
  it('is meant by targets in the same way', () => {
    const answer = targets(bookOf(a, b), { now: NOW, target: { type: 'moon' }, fromUtc: NOW, hours: 1, stepS: 60 })
    expect(answer.ok).toBe(false)
  })
})
