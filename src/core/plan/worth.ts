/**
 * What is worth doing next: of all that can be measured at this station, levels, marks, shadows, a drift, the clock, sightings, what takes
 * most off the loss over the Moon's path for a minute outside. Each candidate's rows are added to the fit's normal matrix and the mount's
 * uncertainty is followed over the Moon's month as for the headline, so the gain is stated in the figure that the person reads. Nothing is
 * offered whose gain rounds to nothing. Radians, UTC ms.
 */
import { skyTurn } from '../clock/cost.ts'
import { echoLossDb, isBeamOffTarget } from '../dish/optics.ts'
import { usualSigma } from '../fit/methods.ts'
import { isFound, type WayToSight, waysToSight } from '../fit/nextbest.ts'
import type { SkyPoint } from '../fit/skypoint.ts'
import type { Solved } from '../fit/solved.ts'
import { checkAt } from '../records/clockchecks.ts'
import type { Feed } from '../records/station.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { lineOffsetAt } from '../scan/dishtrack.ts'
import { apparentPlace } from '../sky/targets.ts'
import { HOUR_MS, MINUTE_MS, type Rad, type UtcMs } from '../units.ts'
import {
  type Candidate,
  levelsToTake,
  type MeasurementStep,
  marksToRead,
  type SightingWay,
  sightingsToCome,
} from './measurements.ts'
import { outlookOf } from './outlook.ts'

export type WorthStep = MeasurementStep | { kind: 'clock' }

/** One thing worth doing. */
export interface Worth {
  step: WorthStep
  /** Minutes outside. */
  minutes: number
  /** p95 over the Moon's path once it is done; nine chances in ten. For the clock: the present figure, once the clock is known. */
  p95After: Rad
  /** The present figure: the headline; for the clock with its unchecked error, which the headline leaves out. */
  p95Before: Rad
}

export interface WorthDoing {
  /** p95 over the Moon's path as it stands. */
  p95: Rad
  /** Best first; empty where nothing is left that would show. */
  steps: Worth[]
}

const SPAN_MS = 72 * HOUR_MS
const SLOT_MS = HOUR_MS / 2
const MOST = 5
/** Losses are shown to a tenth of a dB. */
const LEAST_DB = 0.1
/** Where the beam misses before and after, the error has to shrink by this share. */
const LEAST_SHARE = 0.1
/** An earlier sighting is as good if it brings this share of the best. */
const AS_GOOD = 0.9

/** Minutes outside, the way to the dish not counted: common practice, no source. */
const MINUTES = { level: 5, mark: 3, clock: 2, 'signal-peak': 5, shadow: 12, optical: 5 } as const
/** Four shadows read one after the other. */
const SHADOWS = 4
/** 1 σ along the drift by equal levels; across it only that the Sun was in the beam; shares of the beamwidth. */
const DRIFT_ALONG = 0.03
const DRIFT_ACROSS = 0.35
/** What a phone's clock is off by that nothing was compared with, 1 σ, seconds: common practice, no source. */
const CLOCK_S = 10

/** @param now  from when on things can be done */
export function worthDoing(solved: Solved, feed: Feed, now: UtcMs): WorthDoing {
  const outlook = outlookOf(solved, feed, now)
  if (outlook === null) return { p95: 0, steps: [] }
  const { built, points, begin, p95, withOne, openOf, p95Of } = outlook
  const before = openOf(begin)
  const candidates = [
    ...sightingsToCome(solved, feed, built, waysOf(solved, feed, built, p95), timesFrom(now)),
    ...levelsToTake(solved, feed, now, posesOf(solved)),
    ...marksToRead(solved, now),
  ]
  const steps = bestOfEach(candidates, k => before - openOf(withOne(begin, k))).map(
    (k): Worth => ({
      step: k.step,
      minutes: minutesOf(k.step, feed),
      p95Before: p95,
      p95After: p95Of(withOne(begin, k)),
    }),
  )
  const clock = clockCheck(solved, now, points, p95, more => p95Of(begin, more))
  const worth = [...steps, ...(clock === null ? [] : [clock])].filter(w => isSeen(w, feed.hpbw))
  const rate = (w: Worth) => Math.log(w.p95Before / w.p95After) / w.minutes
  return { p95, steps: worth.sort((a, b) => rate(b) - rate(a)).slice(0, MOST) }
}

/** Whether the person would see the difference: a tenth of a dB, or the beam that misses coming closer. */
export function isSeen({ p95Before, p95After }: Pick<Worth, 'p95Before' | 'p95After'>, hpbw: Rad): boolean {
  const [before, left] = [echoLossDb(p95Before, hpbw), echoLossDb(p95After, hpbw)]
  if (!isBeamOffTarget(before)) return before - left >= LEAST_DB
  return !isBeamOffTarget(left) || p95After < (1 - LEAST_SHARE) * p95Before
}

/** What this station can do now: shadows read several at once, and a drift where the beam is sure to find the Sun. */
export function waysOf(solved: Solved, feed: Feed, built: Float64Array, p95: Rad): SightingWay[] {
  const { station } = solved
  const isSure = isFound(p95, feed)
  const way = ({ target, method }: WayToSight): SightingWay => {
    const share = method === 'shadow' ? 1 / Math.sqrt(SHADOWS) : 1
    return { target, method, sigma: usualSigma(method, station, feed, share), times: 1 }
  }
  return [
    ...waysToSight(station, feed, isSure).map(way),
    ...(isSure ? [{ ...way({ target: 'sun', method: 'drift-scan' }), cov: driftOf(solved, feed, built) }] : []),
  ]
}

/** The covariance of a Sun that drifts through the parked beam: sharp along its way, hardly known across. */
function driftOf(solved: Solved, feed: Feed, built: Float64Array): NonNullable<SightingWay['cov']> {
  const { station } = solved
  const [along, across] = [(DRIFT_ALONG * feed.hpbw) ** 2, (DRIFT_ACROSS * feed.hpbw) ** 2]
  const sun = targetFromRecord({ type: 'sun' })
  const at = (readings: { lower: number; upper: number }, utcMs: UtcMs) =>
    lineOffsetAt(station.model, built, 'beam', readings, apparentPlace(sun, utcMs, station.site, 'radio').direction)
  return (readings, utcMs) => {
    const [a, b] = [at(readings, utcMs - MINUTE_MS), at(readings, utcMs + MINUTE_MS)]
    if (a === null || b === null) return null
    const way = Math.hypot(b.right - a.right, b.up - a.up)
    if (way === 0) return null
    const [x, y] = [(b.right - a.right) / way, (b.up - a.up) / way]
    return {
      rr: along * x * x + across * y * y,
      ru: (along - across) * x * y,
      uu: along * y * y + across * x * x,
    }
  }
}

/** Now, then every half hour for three days. */
const timesFrom = (now: UtcMs): UtcMs[] => Array.from({ length: SPAN_MS / SLOT_MS }, (_, k) => now + k * SLOT_MS)

/** Where levels may be taken: as the dish was left, and at a quarter, half and three quarters of its ways. */
function posesOf({ station }: Solved): { lower: number; upper: number }[] {
  const { model, record } = station
  const share = (axis: 'lower' | 'upper', s: number) =>
    Math.round(model[axis].minReading + s * (model[axis].maxReading - model[axis].minReading))
  const last = record.sightings.at(-1)
  const middle = { lower: share('lower', 0.5), upper: share('upper', 0.5) }
  return [
    last ? { lower: last.lower, upper: last.upper } : middle,
    middle,
    { ...middle, lower: share('lower', 0.25) },
    { ...middle, lower: share('lower', 0.75) },
  ]
}

const keyOf = (s: MeasurementStep): string =>
  s.kind === 'sighting'
    ? `${s.target} ${s.method}`
    : s.kind === 'level'
      ? `level ${s.what}`
      : `mark ${s.axis} ${s.mark}`

/** Of each kind the one that brings most; of sightings the earliest that brings nearly as much. */
function bestOfEach(candidates: readonly Candidate[], gainOf: (k: Candidate) => number): Candidate[] {
  const kinds = new Map<string, { k: Candidate; gain: number }[]>()
  for (const k of candidates) {
    const key = keyOf(k.step)
    const list = kinds.get(key) ?? []
    list.push({ k, gain: gainOf(k) })
    kinds.set(key, list)
  }
  // In the order of time, since the candidates are.
  return [...kinds.values()].map(list => {
    const most = Math.max(...list.map(x => x.gain))
    return list.find(x => x.gain >= AS_GOOD * most)!.k
  })
}

function minutesOf(step: MeasurementStep, feed: Feed): number {
  if (step.kind !== 'sighting') return MINUTES[step.kind]
  // Twice the beam's width from well before to well after, at the Sun's pace.
  if (step.method === 'drift-scan') return 5 + (2 * feed.hpbw) / skyTurn(60)
  return MINUTES[step.method === 'cross-scan' ? 'shadow' : step.method]
}

/**
 * A clock that was never compared turns the sky by its error. The headline takes the clock as right; the loss that it may add is what the
 * check is worth. Null where the sightings' clock was compared, or the phone timed none of them.
 */
function clockCheck(
  { station: { record } }: Solved,
  now: UtcMs,
  points: readonly SkyPoint[],
  p95: Rad,
  withMore: (more: Rad) => Rad,
): Worth | null {
  const stamped = record.sightings.filter(s => s.stamp !== undefined)
  const isCompared = (s: (typeof stamped)[number]) => s.clockOffsetS !== undefined || checkAt(record, s.utc) !== null
  if (stamped.length === 0 || stamped.some(isCompared)) return null
  if (checkAt(record, new Date(now).toISOString()) !== null) return null
  const mean = points.reduce((a, p) => a + Math.cos(p.moon.declination) ** 2, 0) / points.length
  const more = skyTurn(CLOCK_S) * Math.sqrt(mean)
  return { step: { kind: 'clock' }, minutes: MINUTES.clock, p95Before: withMore(more), p95After: p95 }
}
