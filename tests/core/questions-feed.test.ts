import { describe, expect, it } from 'vitest'
import * as questions from '../../src/core/questions.ts'
import type { FieldBook, SightingRecord, StationRecord } from '../../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../../src/core/records/intake.ts'
import type { CrossScanRecord, DriftScanRecord } from '../../src/core/records/scans.ts'
import type { Solution } from '../../src/core/records/solution.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { apparentPlace } from '../../src/core/sky/targets.ts'
import { answerTo } from '../../src/worker/route.ts'
import { answered } from '../helpers/answered.ts'
import { bookOf, drawScene, mountAt, type Scene, START_MS, sight, utcOf } from '../helpers/simulate.ts'
import { offsetDeg } from '../helpers/truemount.ts'

const DAY = 86_400_000
const SUN = { type: 'sun' } as const

/** A two-jack station, twenty sightings by signal and shadow, and the instant at which the Sun can next be reached. */
function made(): { scene: Scene; book: FieldBook; record: StationRecord; sunMs: number; now: string } {
  const scene = drawScene(21, { kind: 'az-over-el', latDeg: 47, feeds: 2, frequencyMHz: 1296, wild: false })
  const { record } = scene
  record.dish.feedDiameterMm = 200
  for (let k = 0; record.sightings.length < 20 && k < 600; k++) {
    const s = sight(
      scene,
      {
        ms: START_MS + k * 41 * 60_000,
        target: SUN,
        method: k % 2 ? 'shadow' : 'signal-peak',
        feed: record.feeds[0]!.id,
        sigmaDeg: 0.1,
      },
      `s${k}`,
    )
    if (s !== null) record.sightings.push(s)
  }
  const from = START_MS + 30 * DAY
  for (let h = 0; h < 24; h++) {
    const ms = from + h * 3_600_000
    if (sight(scene, { ms, target: SUN, method: 'signal-peak', lowestDeg: 30 }, 'x') !== null)
      return { scene, book: bookOf(record), record, sunMs: ms, now: utcOf(ms - 1_800_000) }
  }
  throw new Error('the Sun is never reached')
}

/** Plain JSON: nothing is lost on the way through the worker. */
const plain = <T>(x: T): T => {
  expect(JSON.parse(JSON.stringify(x))).toEqual(x)
  return x
}
const heard = (scene: Scene, ms: number, at: { lower: number; upper: number }): number => {
  const station = stationFromRecord(scene.record)
  const pose = mountAt(scene, ms).pose(at.lower, at.upper, 'beam', scene.record.feeds[0]!.id)
  const [x, y] = offsetDeg(pose, apparentPlace(SUN, ms, station.site, 'radio').direction)
  const w = (station.feeds[0]!.hpbw * 180) / Math.PI
  return 10 * Math.log10(4 * Math.exp((-4 * Math.LN2 * (x * x + y * y)) / (w * w)) + 1) + scene.chance.normal(0.05)
}

describe('a solution is that of one feed', () => {
  const { book, record, now } = made()
  const [ring, other] = record.feeds.map(f => f.id) as [string, string]

  it('names it, the first where none is named, and judges the same mount by its own beam and its own place', () => {
    const [first, a, b] = [undefined, ring, other].map(feed =>
      answered(questions.solve(book, { now, ...(feed && { feed }) })),
    ) as [Solution, Solution, Solution]
    expect(first).toEqual(a)
    expect([a.feed, b.feed]).toEqual([ring, other])
    expect(b.parameters.map(p => p.value)).toEqual(a.parameters.map(p => p.value))
    // No sighting was taken through the other: its place is not known, and that costs.
    expect(b.sky.after.p95Deg).toBeGreaterThan(a.sky.after.p95Deg)
    expect(b.controller.slopeOffset).not.toEqual(a.controller.slopeOffset)
  })

  it('and so are software page and landscape', () => {
    const wish = { aiming: 'paper', law: 'line', unit: 'degrees', way: 'command', step: 2 } as const
    const told = answered(questions.carryChoices(book, { now, feed: other, wish }))
    const { sky } = answered(questions.solve(book, { now, feed: other }))
    expect(told.feed).toBe(other)
    expect(told.wholeP95Deg).toBeCloseTo(sky.after.p95Deg, 9)
    const { made: parts } = answered(questions.landscape(book, { now, feed: other }))
    expect(Math.hypot(parts.openDeg, parts.floorDeg)).toBeCloseTo(sky.after.rmsDeg, 8)
  })

  it('a narrower beam has a smaller tolerance', () => {
    const two = structuredClone(book)
    two.stations[0]!.feeds[1]!.frequencyMHz = 5760
    const a = answered(questions.solve(two, { now, feed: ring })).sky
    const b = answered(questions.solve(two, { now, feed: other })).sky
    expect(b.toleranceDeg / a.toleranceDeg).toBeCloseTo(1296 / 5760, 6)
  })

  it('an unknown one is refused by one sentence that lists those that there are, whatever is asked', () => {
    const faults = [{ path: 'feeds', rule: `there is no feed "zz"; there is: "${ring}", "${other}"` }]
    const o = { now, feed: 'zz' }
    for (const answer of [
      questions.solve(book, o),
      questions.carryBudget(book, o),
      questions.landscape(book, o),
      questions.dial(book, { ...o, stepS: 10, count: 2 }),
      questions.noonCheck(book, o),
      questions.stormCheck(book, { ...o, since: now }),
      questions.targets(book, { ...o, target: SUN, fromUtc: now, hours: 1, stepS: 600 }),
    ])
      expect(answer).toEqual({ ok: false, faults })
  })
})

describe('the questions of the feed', () => {
  const { scene, book, record, sunMs, now } = made()
  const feed = record.feeds[0]!.id
  const withSighting = (draft: Omit<SightingRecord, 'id'>, scans: unknown[] = []): FieldBook =>
    bookOf({ ...record, scans, sightings: [...record.sightings, { id: 'new', ...draft }] })

  it('plan a drift, fit it, and give a sighting that the book and the solution take', () => {
    const plan = plain(answered(questions.driftPlan(book, { now, feed, target: SUN, passUtc: utcOf(sunMs) })))!
    const from = Date.parse(plan.fromUtc)
    const seconds = (Date.parse(plan.toUtc) - from) / 1000
    const sample = (s: number) => ({ s, level: heard(scene, from + 1000 * s, plan) })
    const all = Array.from({ length: 100 }, (_, k) => sample(Math.round((seconds * k) / 100)))
    const scan: DriftScanRecord = {
      id: 'scan-1',
      what: 'drift',
      // A clock 40 s fast: its times are taken off before the sky is asked.
      utc: utcOf(from + 40_000),
      clockOffsetS: 40,
      target: SUN,
      feed,
      scale: 'dB',
      lower: plan.lower,
      upper: plan.upper,
      samples: all.slice(0, 60),
    }
    const part = { id: 'part-1', what: 'part', scan: 'scan-1', samples: all.slice(60) }
    const holding = bookOf({ ...record, scans: [scan, part] })
    expect(checkFieldBook(holding)).toEqual([])
    const fit = plain(answered(questions.driftFit(holding, { now, scan })))
    if (fit.kind !== 'peak') throw new Error(fit.kind)
    expect(Math.abs(Date.parse(fit.peakUtc) - Date.parse(plan.peakUtc)) / 1000).toBeLessThan(plan.widthS / 2)
    expect(Date.parse(fit.sighting.utc) - Date.parse(fit.peakUtc)).toBe(40_000)
    expect(fit.curve.length).toBe(81)
    expect(Math.max(...fit.curve.map(c => c.level))).toBeGreaterThan(5)
    expect(fit.isWidthOdd).toBe(false)
    // A scan that names no feed is of the first; of two feeds here.
    const { feed: _, ...unnamed } = scan
    expect(checkFieldBook(bookOf({ ...record, scans: [unnamed, part] }))).toEqual([])
    expect(answered(questions.driftFit(bookOf({ ...record, scans: [unnamed, part] }), { now, scan: unnamed }))).toEqual(
      fit,
    )
    // A sample that the person left out is kept and not fitted; indices stay those of all samples.
    const wild = all.map((x, k) => (k === 10 || k === 90 ? { ...x, level: 40 } : x))
    const out = wild.map((x, k) => (k === 10 ? { ...x, out: true as const } : x))
    const whole = answered(questions.driftFit(book, { now, scan: { ...scan, samples: wild } }))
    const less = answered(questions.driftFit(book, { now, scan: { ...scan, samples: out } }))
    if (whole.kind !== 'peak' || less.kind !== 'peak') throw new Error('no peak')
    expect(whole.spikes).toEqual(expect.arrayContaining([10, 90]))
    expect(less.spikes).toContain(90)
    expect(less.spikes).not.toContain(10)
    const taken = withSighting(fit.sighting, [scan, part])
    expect(checkFieldBook(taken)).toEqual([])
    const solution = answered(questions.solve(taken, { now }))
    expect(solution.sightings.find(s => s.id === 'new')!.status).toBe('used')
  })

  it('plan a cross scan, fit it, and give a sighting that the book and the solution take', () => {
    const plan = plain(
      answered(questions.crossPlan(book, { now, feed, target: SUN, fromUtc: utcOf(sunMs), points: 5 })),
    )!
    expect(plan.points.length).toBe(10)
    const scan: CrossScanRecord = {
      id: 'scan-2',
      what: 'cross',
      utc: utcOf(sunMs),
      target: SUN,
      feed,
      scale: 'dB',
      samples: plan.points.map(p => ({
        s: (Date.parse(p.utc) - sunMs) / 1000,
        axis: p.axis,
        lower: p.lower,
        upper: p.upper,
        level: heard(scene, Date.parse(p.utc), p),
        from: plan.from,
      })),
    }
    const fit = plain(answered(questions.crossFit(book, { now, scan })))
    if (fit.kind !== 'peak') throw new Error(fit.kind)
    expect(fit.sighting).toMatchObject({ arrivedFrom: { lower: '+', upper: '+' }, feed })
    const { feed: _, ...unnamed } = scan
    expect(answered(questions.crossFit(book, { now, scan: unnamed }))).toEqual(fit)
    expect(fit.sigmaRightDeg).toBeLessThan(0.5)
    expect(fit.arms.map(a => a.samples.length)).toEqual([5, 5])
    const taken = withSighting(fit.sighting, [scan])
    expect(checkFieldBook(taken)).toEqual([])
    expect(answered(questions.solve(taken, { now })).sightings.find(s => s.id === 'new')!.status).toBe('used')
  })

  it('check the feeds, and write down a move', () => {
    const checks = plain(answered(questions.feedCheck(book, { now })))
    expect(checks.map(c => c.feed)).toEqual(record.feeds.map(f => f.id))
    const truth = scene.truths[0]!.truth
    expect(Math.abs(checks[0]!.rightMm - truth[`feedRight:${feed}`]!)).toBeLessThan(4 * checks[0]!.sigmaRightMm)
    expect(checks[1]!.verdict).toBe('not-yet')
    const moved = answered(questions.feedCheck(book, { now, moved: { feed, rightMm: 5, upMm: -3 } }))[0]!
    expect(moved.change.expect[0]).toMatchObject({ id: 'feedRight', feed, value: moved.rightMm + 5 })
    const after = bookOf({ ...record, changes: [{ id: 'c', utc: now, ...moved.change }] })
    expect(checkFieldBook(after)).toEqual([])
    expect(answered(questions.feedCheck(after, { now }))[0]!.rightMm).toBeCloseTo(moved.rightMm + 5, 6)
  })

  it('check the Sun at noon or any time, and turn shadows into a sighting', () => {
    const day = plain(answered(questions.noonCheck(book, { now, feed })))
    expect(day.feedDiameterMm).toBe(200)
    const at = plain(answered(questions.noonCheck(book, { now, feed, at: utcOf(sunMs) })))
    const pose = at.pose!
    expect(pose.inside).toBe(true)
    const [lower, upper] = [pose.lower, pose.upper]
    const readings = [0, 600, 1200].map(s => {
      const then = answered(
        questions.noonCheck(book, { now, feed, at: utcOf(sunMs + 1000 * s), readings: { lower, upper } }),
      )
      return { utc: utcOf(sunMs + 1000 * s), lower, upper, ...then.pose!.shadow!.centre }
    })
    const together = plain(answered(questions.shadows(book, { now, feed, readings, clockOffsetS: 7 })))!
    // What the mount as solved expects is read: no miss, the Sun's pace.
    expect(Math.hypot(together.miss.rightDeg, together.miss.upDeg)).toBeLessThan(1e-6)
    expect(together.pace!.ratio).toBeCloseTo(1, 6)
    const taken = withSighting(together.sighting)
    expect(checkFieldBook(taken)).toEqual([])
    expect(answered(questions.solve(taken, { now })).sightings.find(s => s.id === 'new')!.status).toBe('used')
  })

  it('check after a storm against the mount as it was, whatever was sighted since', () => {
    const peak = sight(scene, { ms: sunMs, target: SUN, method: 'signal-peak', feed, sigmaDeg: 0.05 }, 'p')!
    const slipped = withSighting({ ...peak, lower: peak.lower + 40 })
    const wish = { now, feed, since: peak.utc }
    const check = plain(answered(questions.stormCheck(slipped, wish)))!
    expect(['cannot-tell', 'moved']).toContain(check.verdict)
    expect(check.found).toHaveLength(1)
    // What was sighted later is part of it; what was known before is not touched by it.
    const two = plain(answered(questions.stormCheck(slipped, { ...wish, since: utcOf(Date.parse(peak.utc) + 1000) })))!
    expect(two.found).toHaveLength(0)
    expect(two.verdict).toBe('cannot-tell')
    expect(['unseen', 'loose-before']).toContain(two.why)
    expect(two.next.length).toBeGreaterThan(0)
  })

  it('are asked through the worker by name, and name a station that is not there', () => {
    const reply = answerTo(questions as never, { id: 4, question: 'noonCheck', args: [book, { now, feed }] })
    expect(reply).toMatchObject({ id: 4, answer: { ok: true } })
    expect(questions.crossPlan(book, { now, station: 'Nowhere', target: SUN, fromUtc: now }).ok).toBe(false)
    expect(questions.stormCheck(book, { now, station: 'Nowhere', since: now }).ok).toBe(false)
  })
})
