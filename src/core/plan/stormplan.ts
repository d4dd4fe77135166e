/**
 * What would tell whether a storm moved anything: the smallest set found, from what can be done in the coming day and a half, that lets a move of
 * any kind as large as the tolerance stand out. Greedy on what is missing, then what turns out superfluous is dropped again; each
 * measurement's worth is the one that the check gives it later. Where two explanations compete: the one measurement that separates them best.
 */
import { usualSigma } from '../fit/methods.ts'
import { waysToSight } from '../fit/nextbest.ts'
import type { Method } from '../records/fieldbook.ts'
import { HOUR_MS, type Rad, type UtcMs } from '../units.ts'
import { type Candidate, levelsToTake, type MeasurementStep, marksToRead, sightingsToCome } from './measurements.ts'
import type { StormCase } from './stormcase.ts'
import { WAY_COUNT } from './stormmoves.ts'
import { copyOf, innovation, type Pass, take, type WhitenedRow } from './stormrows.ts'
import { information, standsOut } from './stormsky.ts'

export interface StormPlan {
  /** In order of time; levels and marks first. */
  steps: MeasurementStep[]
  /** At how many σ a move as large as the tolerance stands out with all of them. */
  standsOut: number
  /** True when that is enough for an answer. */
  isEnough: boolean
}

const SLOT_MS = HOUR_MS
const HOURS = 36
export const MOST_STEPS = 12
/**
 * "Nothing moved" is said where 99 % of what may hide is below the tolerance: at 3 σ of visibility few stations reach that, at this
 * nine in ten (measured by the study).
 */
export const ENOUGH = 4.5
/** By equal levels on both sides of the peak, in beamwidths; a peak by ear is 0.1. */
export const EQUAL_LEVELS = 0.03

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
  const time = (s: MeasurementStep) => (s.kind === 'sighting' ? s.utcMs : 0)
  return {
    steps: chosen.map(k => k.step).sort((a, b) => time(a) - time(b)),
    standsOut: at,
    isEnough: missing(c, end) === 0,
  }
}

/** The one measurement that best separates the first explanation from the next. */
export function settling(c: StormCase, now: UtcMs, first: Float64Array, second: Float64Array): MeasurementStep | null {
  let best: MeasurementStep | null = null
  let most = 4
  for (const { step, rows } of candidatesOf(c, now, false)) {
    let sum = 0
    for (const row of rows) {
      const { h, v } = innovation(c.solved, c.pass, row)
      let d = 0
      for (let k = 0; k < WAY_COUNT; k++) d += h[k]! * (first[k]! - second[k]!)
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

const withRows = (c: StormCase, p: Pass, rows: readonly WhitenedRow[]): { F: Float64Array } => {
  // Only the information is wanted: the two rows of a sighting are correlated by the mount's uncertainty.
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
    for (let k = 0; k < WAY_COUNT; k++) {
      const hk = own[k]! / variance
      if (hk !== 0) for (let l = 0; l < WAY_COUNT; l++) next.F[k * WAY_COUNT + l]! += hk * own[l]!
    }
  })
  return next
}

/** bᵀ C b' of two rows, from C b of the first. */
function crossOf(c: StormCase, row: WhitenedRow, Cb: Float64Array): number {
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
  const usual = (method: Method): Rad =>
    sharpen && method === 'signal-peak' ? EQUAL_LEVELS * feed.hpbw : usualSigma(method, station, feed)
  // By the tube the Sun alone, once: it says nothing of the feed.
  const ways = waysToSight(station, feed, true)
    .filter(({ target, method }) => target === 'sun' || method !== 'optical')
    .map(w => ({ ...w, sigma: usual(w.method), times: w.method === 'optical' ? 1 : w.target === 'sun' ? 3 : 2 }))
  const start = Math.ceil(now / SLOT_MS) * SLOT_MS
  const times = Array.from({ length: HOURS }, (_, k) => start + k * SLOT_MS)
  return [
    ...sightingsToCome(solved, feed, built, ways, times),
    ...levelsToTake(solved, feed, now, [parkedAt(c)]),
    ...marksToRead(solved, now),
  ]
}

/** Where the dish was left: the last pose since the storm, else half-way. */
function parkedAt(c: StormCase): { lower: number; upper: number } {
  const last = c.measured.filter(m => m.kind === 'sighting').pop()
  if (last?.kind === 'sighting') return { lower: last.sighting.record.lower, upper: last.sighting.record.upper }
  const { lower, upper } = c.solved.station.model
  return { lower: (lower.minReading + lower.maxReading) / 2, upper: (upper.minReading + upper.maxReading) / 2 }
}
