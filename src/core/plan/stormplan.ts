/**
 * What would tell whether a storm moved anything: the smallest set found, from what can be done in the coming day and a half, that lets a move of
 * any kind as large as the tolerance stand out. Greedy on what is missing, then what turned out superfluous is dropped again; each
 * measurement's worth is the one that the check gives it later. Where two explanations compete: the one measurement that parts them best.
 */
import { lineOf, methodSigma, usualSigma } from '../fit/methods.ts'
import { canHearMoon } from '../fit/nextbest.ts'
import { referenceFromRecord, sightingFromRecord } from '../fit/observations.ts'
import { aim, midRange } from '../mount/aim.ts'
import { countsSteps } from '../readout/readout.ts'
import type { Axis, LevelRecord, Method, ReferenceRecord, SightingRecord } from '../records/fieldbook.ts'
import { isOffsetFed } from '../records/guesses.ts'
import { isHighEnough } from '../records/station.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { apparentPlace } from '../sky/targets.ts'
import { degFromRad, type Rad, radFromDeg, type UtcMs } from '../units.ts'
import type { StormCase } from './stormcase.ts'
import { WAYS } from './stormmoves.ts'
import { copyOf, innovation, type Measured, type Pass, type Row, rowsOf, take } from './stormrows.ts'
import { information, standsOut } from './stormsky.ts'

/** One thing to do. */
export type Step = { sigma: Rad } & (
  | {
      kind: 'sighting'
      target: 'sun' | 'moon'
      method: Method
      utcMs: UtcMs
      az: Rad
      el: Rad
      lower: number
      upper: number
    }
  | { kind: 'level'; what: LevelRecord['what']; lower: number; upper: number }
  | { kind: 'mark'; axis: Axis; mark: string; reading: number }
)

export interface StormPlan {
  /** In order of time; levels and marks first. */
  steps: Step[]
  /** With all of them a move as large as the tolerance stands out at so many σ. */
  standsOut: number
  /** True when that is enough for an answer. */
  isEnough: boolean
}

const SLOT_MS = 3_600_000
const HOURS = 36
export const MOST_STEPS = 12
/**
 * Nothing moved is said where 99 % of what may hide is below the tolerance: at 3 σ of visibility that comes out for few, at this for
 * nine in ten (the study).
 */
export const ENOUGH = 4.5
/** By equal levels on both sides of the peak, in beamwidths; a peak by ear is 0.1. */
export const EQUAL_LEVELS = 0.03
const LEVEL_SIGMA: Rad = radFromDeg(0.2)

interface Candidate {
  step: Step
  rows: Row[]
  left: number
}

/** @param now  from when on things can be done @param sharpen  peaks by equal levels */
export function stormPlan(c: StormCase, now: UtcMs, sharpen = false): StormPlan {
  const candidates = candidatesOf(c, now, sharpen)
  const state = copyOf(c.pass)
  const chosen: Candidate[] = []
  while (chosen.length < MOST_STEPS && missing(c, state) > 0) {
    let best: Candidate | null = null
    let least = missing(c, state)
    for (const k of candidates) {
      if (k.left === 0) continue
      const after = missing(c, withRows(c, state, k.rows))
      if (after < least - 1e-6) {
        least = after
        best = k
      }
    }
    if (best === null) break
    best.left--
    chosen.push(best)
    for (const row of best.rows) take(c.solved, state, row)
  }
  if (missing(c, state) === 0) drop(c, chosen)
  const end = c.pass.n === state.n ? state : withAll(c, chosen)
  const at = Math.min(...c.single.map(s => standsOut(s, information(s.cause, end), c.tolerance)))
  const time = (s: Step) => (s.kind === 'sighting' ? s.utcMs : 0)
  return {
    steps: chosen.map(k => k.step).sort((a, b) => time(a) - time(b)),
    standsOut: at,
    isEnough: missing(c, end) === 0,
  }
}

/** The one measurement that parts the best explanation from the next. */
export function settling(c: StormCase, now: UtcMs, first: Float64Array, second: Float64Array): Step | null {
  let best: Step | null = null
  let most = 4
  for (const { step, rows } of candidatesOf(c, now, false)) {
    let sum = 0
    for (const row of rows) {
      const { h, v } = innovation(c.solved, c.pass, row)
      let d = 0
      for (let k = 0; k < WAYS; k++) d += h[k]! * (first[k]! - second[k]!)
      sum += (d * d) / v
    }
    if (sum > most) {
      most = sum
      best = step
    }
  }
  return best
}

/** What is still missing of an answer, over all causes: 0 when each stands out enough. */
function missing(c: StormCase, e: { F: Float64Array }): number {
  let sum = 0
  for (const s of c.single) {
    const at = standsOut(s, information(s.cause, e), c.tolerance)
    if (at < ENOUGH) sum += (1 - at / ENOUGH) ** 2
  }
  return sum
}

const withRows = (c: StormCase, p: Pass, rows: readonly Row[]): { F: Float64Array } => {
  // Only the information is wanted: the two rows of a sighting hang together by the mount's uncertainty.
  const next = { F: p.F.slice() }
  const parts = rows.map(row => innovation(c.solved, p, row))
  parts.forEach(({ h, v, Cb }, i) => {
    let [own, variance] = [h, v]
    const before = i === 0 ? null : parts[0]!
    if (before !== null && i === 1) {
      const cross = crossOf(c, rows[1]!, before.Cb)
      own = h.map((x, k) => x - (cross / before.v) * before.h[k]!)
      variance = v - (cross * cross) / before.v
    }
    void Cb
    for (let k = 0; k < WAYS; k++) {
      const hk = own[k]! / variance
      if (hk !== 0) for (let l = 0; l < WAYS; l++) next.F[k * WAYS + l]! += hk * own[l]!
    }
  })
  return next
}

/** bᵀ C b' of two rows, from C b of the first. */
function crossOf(c: StormCase, row: Row, Cb: Float64Array): number {
  const { priorSigma } = c.solved.problem
  let sum = 0
  row.slots.forEach((i, k) => {
    if (i >= 0 && row.bySlot[k] !== 0) sum += row.bySlot[k]! * priorSigma[i]! * Cb[i]!
  })
  return sum
}

function withAll(c: StormCase, list: readonly Candidate[]): Pass {
  const p = copyOf(c.pass)
  for (const k of list) for (const row of k.rows) take(c.solved, p, row)
  return p
}

/** Leaves out, one after the other, what the rest does without. */
function drop(c: StormCase, chosen: Candidate[]): void {
  for (let i = chosen.length - 1; i >= 0 && chosen.length > 1; i--) {
    const rest = chosen.filter((_, k) => k !== i)
    if (missing(c, withAll(c, rest)) === 0) chosen.splice(i, 1)
  }
}

function candidatesOf(c: StormCase, now: UtcMs, sharpen: boolean): Candidate[] {
  const { solved, feed, built } = c
  const { station } = solved
  const { model } = station
  const record = station.record
  const nothing = new Float64Array(WAYS)
  const out: Candidate[] = []
  const add = (step: Step, m: Measured, times: number): void => {
    const rows = rowsOf(solved, m, nothing)
    if (rows !== null) out.push({ step, rows, left: times })
  }
  const usual = (method: Method): Rad => {
    if (sharpen && method === 'signal-peak') return EQUAL_LEVELS * feed.hpbw
    return usualSigma(record.sightings, method, methodSigma(method, station, feed))
  }
  const hasTube = solved.parameters.list.some(p => p.id === 'tubeRight')
  const ways: { target: 'sun' | 'moon'; method: Method; times: number }[] = [
    { target: 'sun', method: 'signal-peak', times: 3 },
    ...(isOffsetFed(record) ? [] : [{ target: 'sun' as const, method: 'shadow' as const, times: 3 }]),
    ...(hasTube ? [{ target: 'sun' as const, method: 'optical' as const, times: 1 }] : []),
    ...(canHearMoon(station, feed) ? [{ target: 'moon' as const, method: 'signal-peak' as const, times: 2 }] : []),
  ]
  const mid = midRange(model, built)
  const start = Math.ceil(now / SLOT_MS) * SLOT_MS
  for (let utcMs = start; utcMs < start + HOURS * 3_600_000; utcMs += SLOT_MS) {
    for (const target of ['sun', 'moon'] as const) {
      const own = ways.filter(w => w.target === target)
      if (own.length === 0) continue
      const place = apparentPlace(targetFromRecord({ type: target }), utcMs, station.site, 'radio')
      if (!isHighEnough(station, feed, place.az, place.el)) continue
      const reach = aim(model, built, 'beam', place.direction, mid)
      if (reach === null || !reach.inside) continue
      const shown = (axis: Axis) => (countsSteps(model[axis].readout) ? Math.round(reach[axis]) : reach[axis])
      const at = { lower: shown('lower'), upper: shown('upper') }
      for (const { method, times } of own) {
        const sigma = usual(method)
        const made: SightingRecord = {
          id: '?',
          utc: new Date(utcMs).toISOString(),
          target: { type: target },
          ...at,
          method,
          feed: feed.id,
          ...(lineOf(method) === 'shadow' ? { shadow: { rightMm: 0, upMm: 0 } } : {}),
          sigmaDeg: degFromRad(sigma),
        }
        const sighting = sightingFromRecord(station, solved.parameters, made)
        add(
          { kind: 'sighting', target, method, utcMs, az: place.az, el: place.el, ...at, sigma },
          { kind: 'sighting', id: '?', sighting, isOwnFeed: true },
          times,
        )
      }
    }
  }
  const parked = parkedAt(c)
  const levels: LevelRecord['what'][] =
    model.kind === 'el-over-az'
      ? ['mast-lean', 'dish-elevation']
      : ['lower-axis-elevation', 'upper-axis-elevation', 'dish-elevation']
  for (const what of levels) {
    const stated = (record.levels ?? []).filter(l => l.what === what).map(l => l.sigmaDeg)
    const sigma = stated.length === 0 ? LEVEL_SIGMA : radFromDeg(stated.sort((a, b) => a - b)[stated.length >> 1]!)
    const base = { id: '?', utc: new Date(now).toISOString(), sigmaDeg: degFromRad(sigma) }
    const level = (what === 'mast-lean'
      ? { ...base, what, northDeg: 0, eastDeg: 0 }
      : { ...base, what, ...parked, valueDeg: 0 }) as unknown as LevelRecord
    const slots = solved.parameters.slotsAt(now, feed.id)
    add(
      { kind: 'level', what, ...parked, sigma },
      { kind: 'level', id: '?', level: { record: level, slots, clamping: -1, sigma }, clampingSigma: 0 },
      1,
    )
  }
  const marks = new Map<string, ReferenceRecord>()
  for (const r of record.references ?? []) marks.set(`${r.axis} ${r.mark}`, r)
  for (const r of marks.values()) {
    const reference = referenceFromRecord(station, solved.parameters, {
      ...r,
      id: '?',
      utc: new Date(now).toISOString(),
    })
    if (reference.mark < 0) continue
    add(
      { kind: 'mark', axis: r.axis, mark: r.mark, reading: r.reading, sigma: reference.sigma },
      { kind: 'mark', id: '?', reference },
      1,
    )
  }
  return out
}

/** Where the dish was left: the last pose since the storm, else half-way. */
function parkedAt(c: StormCase): { lower: number; upper: number } {
  const last = c.measured.filter(m => m.kind === 'sighting').pop()
  if (last?.kind === 'sighting') return { lower: last.sighting.record.lower, upper: last.sighting.record.upper }
  const { lower, upper } = c.solved.station.model
  return { lower: (lower.minReading + lower.maxReading) / 2, upper: (upper.minReading + upper.maxReading) / 2 }
}
