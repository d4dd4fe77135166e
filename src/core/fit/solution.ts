/**
 * The whole solution of a station at an instant: fit, what it is worth over the Moon's sky, what it suspects, what to
 * give a tracking program, what to sight next. Radians inside; `solutionJson` turns it into degrees and millimetres.
 */

import { chiSquare99 } from '../chance.ts'
import { echoLossDb } from '../dish/optics.ts'
import { entryOf, FEED_PARAMETERS, labelOf, type ParameterId, unitOf } from '../mount/parameters.ts'
import { AXIS_SLOTS } from '../mount/readings.ts'
import { type Built, SLOTS } from '../mount/slots.ts'
import { dismissedAt, isDismissed } from '../records/dismissed.ts'
import { feedOf } from '../records/feeds.ts'
import { msFromUtc, utcFromMs } from '../records/instant.ts'
import type { ParameterState, Solution, SolvedSighting, Suspect } from '../records/solution.ts'
import { type Feed, type Station, withUpperReversed } from '../records/station.ts'
import { moonPath } from '../sky/moonpath.ts'
import type { MoonPoint } from '../sky/place.ts'
import { degFromRad, type Rad, type UtcMs } from '../units.ts'
import {
  type BuiltPole,
  builtPole,
  type SlopeOffsetFit,
  type StraightLine,
  slopeAndOffset,
  type VirtualSite,
  virtualSite,
} from './controller.ts'
import { overGuessedArms } from './guessedarms.ts'
import { problemOf, scalarObjective } from './map.ts'
import { nextBest, type Proposal } from './nextbest.ts'
import { mayCount, observationsOf } from './observations.ts'
import { type Parameter, parametersOf } from './parameters.ts'
import { cost, fitRobustly } from './reject.ts'
import { builtAt, sightingMiss } from './residuals.ts'
import type { Sighting } from './sighting.ts'
import {
  type ErrorOverSky,
  type ErrorWithConfidence,
  meanSquareForm,
  type SkyError,
  skyError,
  slotCovariance,
} from './skyerror.ts'
import type { Solved } from './solved.ts'
import { type Suspected, suspected } from './suspects/compare.ts'
import { contextOf, isGood } from './suspects/context.ts'
import { sensesOf } from './suspects/gross.ts'
import { consistentReferences } from './suspects/marks.ts'
import { verdictOf } from './verdict.ts'

/** How much cheaper the other sense of an x-y mount's Y must make the fit before it is believed. */
const SENSE_EVIDENCE = 50

/** On an x-y mount reversing X equals reversing Y and turning the heading by half a turn: only the heading prefers one. */
const SENSE_MARGIN = 0.7
const SENSE_MARGIN_RIVAL = 9.2

/**
 * Fits a station, all its sightings together.
 *
 * Y of an x-y mount is counted forward by some and backward by others, and a degrees readout cannot say which. Where the
 * sightings leave no doubt it is taken to count backward, and reported as a suspect, unless the person dismissed that.
 */
export function solveStation(station: Station): Solved {
  const asGiven = fitStation(station)
  const { fit, problem } = asGiven
  const isAtOdds = asGiven.sigmaScale > 1 || fit.kept.includes(0)
  if (station.model.kind !== 'x-y' || problem.sightings.length < 4 || !isAtOdds) return asGiven
  const reversed = fitStation(withUpperReversed(station))
  const deltaChi2 = cost(fit) - cost(reversed.fit)
  if (deltaChi2 < SENSE_EVIDENCE || !isGood(reversed.problem, reversed.fit)) return asGiven
  const [xReversed, eastWest] = sensesOf(contextOf(station, asGiven.whole, problem, fit), 'lower')
  if (xReversed!.gain > deltaChi2 + SENSE_MARGIN) return asGiven
  const sense: Suspect = {
    kind: 'reading-sense',
    text: 'The Y axis counts the other way round: by the sightings, a larger reading tips the dish backward, and it is computed so.',
    deltaChi2,
    settle: 'Drive Y a few degrees up by its reading and see which way the dish tips.',
    axis: 'upper',
    rivals: [xReversed!, eastWest!]
      .filter(e => e.gain > deltaChi2 - SENSE_MARGIN_RIVAL)
      .map(e => ({ kind: e.kind, text: e.suspect.text, deltaChi2: e.gain, axis: 'lower' as const })),
  }
  if (isDismissed(sense, dismissedAt(station.record))) return asGiven
  return { ...reversed, foreseen: [...reversed.foreseen, sense] }
}

function fitStation(station: Station): Solved {
  const parameters = parametersOf(station)
  const observed = observationsOf(station, parameters)
  const whole = problemOf(station.model, parameters, {
    ...observed,
    sightings: observed.sightings.filter(mayCount),
  })
  const { agreed } = consistentReferences(station, whole)
  const problem = { ...whole, references: agreed }
  const fit = overGuessedArms(station, problem, fitRobustly(problem))
  // Sightings close in time count as fewer than they are.
  const used = fit.kept.reduce((a, kept, k) => a + kept / problem.sightings[k]!.crowd, 0)
  const rows = 2 * used + scalarObjective(problem, fit.values).rows
  const misfit = rows === 0 ? 0 : fit.objective / rows
  const sigmaScale = rows > 0 && misfit * rows > chiSquare99(rows) ? Math.sqrt(misfit) : 1
  return { station, parameters, problem, whole, sightings: observed.sightings, fit, misfit, sigmaScale, foreseen: [] }
}

/** The mount as built for the setup at an instant, with a feed, and the covariance of its slots. */
export function builtFor(
  solved: Solved,
  utcMs: UtcMs,
  feed: Feed,
): { built: Built; covariance: Float64Array; slots: Int16Array } {
  const slots = solved.parameters.slotsAt(utcMs, feed.id)
  const { covariance, values } = solved.fit
  const scaled = Float64Array.from(solved.problem.priorSigma, s => s * solved.sigmaScale)
  return { built: builtAt(values, slots), covariance: slotCovariance(covariance.a, covariance.n, scaled, slots), slots }
}

/** σ of one parameter, scaled by the misfit where that is called for. */
export function parameterSigma(solved: Solved, p: Parameter): number {
  const { covariance } = solved.fit
  return (
    solved.problem.priorSigma[p.index]! *
    solved.sigmaScale *
    Math.sqrt(Math.max(0, covariance.a[p.index * covariance.n + p.index]!))
  )
}

/** rms over the path of how far one unit of the parameter moves the beam (for a tube, the tube). */
function rmsPartial(p: Parameter, M: Float64Array): number {
  const { family, axis } = entryOf(p.id!)
  if (family === 'tube') return 1
  // A play shows as half of itself on either side: its axis's zero tells how that looks on the sky.
  const slot = family === 'play' ? AXIS_SLOTS[axis!].zero : p.slot
  return (family === 'play' ? 0.5 : 1) * Math.sqrt(M[slot * SLOTS + slot]!)
}

/** A parameter is known well enough when its own share of the sky error is below this much of the tolerance. */
const ENOUGH = 0.5

function stateOf(solved: Solved, p: Parameter, M: Float64Array, tolerance: Rad, isUsable: boolean): ParameterState {
  const sigma = parameterSigma(solved, p)
  const value = solved.fit.values[p.index]!
  const isSharper = sigma < 0.8 * p.prior.sigma
  if (!isUsable) return isSharper && solved.problem.levels.length > 0 ? 'as measured' : 'open'
  if (sigma * rmsPartial(p, M) < ENOUGH * tolerance) return 'settled'
  const isMoved = Math.abs(value - p.prior.value) > 0.5 * p.prior.sigma
  return p.prior.measured && !isMoved && !isSharper ? 'as measured' : 'open'
}

/** What is suspected of a fit; once for each, since the screens ask several things of it. */
const suspectedBySolved = new WeakMap<Solved, Suspected>()

function suspectedFor(solved: Solved): Suspected {
  const known = suspectedBySolved.get(solved) ?? suspected(solved)
  suspectedBySolved.set(solved, known)
  return known
}

/** What is suspected; where two halves do not fit together, with the error that each leaves by itself. */
function suspectsFor(solved: Solved, now: UtcMs, feed: Feed, path: MoonPoint[]): Suspect[] {
  const { suspects, halves } = suspectedFor(solved)
  if (halves.length === 0) return suspects
  const p95Deg = halves.map(({ fit, problem }) => {
    const { built, covariance } = builtFor({ ...solved, fit, problem }, now, feed)
    return degFromRad(skyError(solved.station, feed, built, covariance, path).after.p95)
  })
  return suspects.map(s =>
    s.halves === undefined ? s : { ...s, halves: s.halves.map((h, k) => ({ ...h, p95Deg: p95Deg[k]! })) },
  )
}

export interface Answered {
  solved: Solved
  feed: Feed
  built: Built
  covariance: Float64Array
  sky: SkyError
  meanSquare: Float64Array
  slopeOffset: SlopeOffsetFit
  /** Null for an hour-angle mount: its program has no azimuth to turn. */
  virtual: { place: VirtualSite; fit: SlopeOffsetFit } | null
  /** Of an hour-angle mount alone. */
  pole: { pole: BuiltPole; fit: SlopeOffsetFit } | null
  next: Proposal[]
  suspects: Suspect[]
}

/** Everything that the solution reports, still in radians. @param feedId whose sky it is; the first where none is named */
export function answerFor(asGiven: Station, now: UtcMs, given?: Solved, feedId?: string): Answered {
  const solved = given ?? solveStation(asGiven)
  // Not the station as given: a reading may have turned out to count the other way.
  const { station } = solved
  const feed = feedOf(station, feedId)
  const { built, covariance } = builtFor(solved, now, feed)
  const path = moonPath(station.site, now)
  const sky = skyError(station, feed, built, covariance, path)
  const meanSquare = meanSquareForm(sky.points)
  const isHourAngle = station.model.kind === 'ha-dec'
  // Not every question asks for these, and they are a third of the work.
  const slopeOffset = once(() =>
    slopeAndOffset(
      station,
      built,
      sky.points,
      sky.points.map(p => p.moon.direction),
    ),
  )
  const virtual = once(() => (isHourAngle ? null : virtualSite(station, built, sky.points)))
  const pole = once(() => (isHourAngle ? builtPole(station, built, sky.points) : null))
  const next = once(() => nextBest(solved, feed, built, covariance, meanSquare, sky.floor, sky.after.p95, now))
  return {
    solved,
    feed,
    built,
    covariance,
    sky,
    meanSquare,
    get slopeOffset() {
      return slopeOffset()
    },
    get virtual() {
      return virtual()
    },
    get pole() {
      return pole()
    },
    get next() {
      return next()
    },
    suspects: suspectsFor(solved, now, feed, path),
  }
}

/** Calls `make` at the first call only. */
function once<T>(make: () => T): () => T {
  let made: { value: T } | null = null
  return () => {
    made ??= { value: make() }
    return made.value
  }
}

/** The ids of a station's setup: the last change at or before an instant, null before any. */
export function setupFrom(station: Station, now: UtcMs): string | null {
  const before = (station.record.changes ?? [])
    .filter(c => msFromUtc(c.utc) <= now)
    .sort((a, b) => msFromUtc(a.utc) - msFromUtc(b.utc))
  return before[before.length - 1]?.utc ?? null
}

/** 1 σ below which each parameter of the setup at `now` is known well enough, in its own unit: degrees, millimetres, ratio. */
export function sigmasEnough(
  { solved, meanSquare, sky }: Answered,
  now: UtcMs,
): { id: ParameterId; feed: string | null; sigma: number }[] {
  return solved.parameters.list.flatMap(p => {
    if (p.id === null || now < p.from || now >= p.to) return []
    const perUnit = rmsPartial(p, meanSquare)
    if (!(perUnit > 0)) return []
    const feed = FEED_PARAMETERS.has(p.id) ? p.feed : null
    return [{ id: p.id, feed, sigma: outOf(p, (ENOUGH * sky.tolerance) / perUnit) }]
  })
}

const outOf = (p: { unit: Parameter['unit'] }, x: number): number => (p.unit === 'deg' ? degFromRad(x) : x)
const degrees = (e: ErrorWithConfidence) => ({
  rmsDeg: degFromRad(e.rms),
  p95Deg: degFromRad(e.p95),
  p95TypicalDeg: degFromRad(e.p95Typical),
  worstDeg: degFromRad(e.worst),
})
const remaining = (e: ErrorOverSky) => ({ rmsDeg: degFromRad(e.rms), p95Deg: degFromRad(e.p95) })
const straightLineJson = (l: StraightLine) => ({ slope: l.slope, offsetDeg: degFromRad(l.offset) })
const lines = (f: SlopeOffsetFit) => ({
  lower: straightLineJson(f.lower),
  upper: straightLineJson(f.upper),
  remaining: remaining(f.remaining),
})

function sightingRow(solved: Solved, s: Sighting, k: number): SolvedSighting {
  const miss = sightingMiss(solved.station.model, s, builtAt(solved.fit.values, s.slots))
  return {
    id: s.record.id,
    // A jack's triangle that no longer closes with the solved arms: as wrong as possible.
    rightDeg: miss === null ? 180 : degFromRad(miss[0]),
    upDeg: miss === null ? 180 : degFromRad(miss[1]),
    sigmaDeg: degFromRad(s.sigma),
    status: !mayCount(s) ? 'excluded' : solved.fit.kept[k] === 1 ? 'used' : 'outlier',
    ...(s.repeats === null ? {} : { repeats: s.repeats }),
    ...(s.crowd === 1 ? {} : { weight: 1 / s.crowd }),
  }
}

/** The solution as it leaves the core. @param nowUtc as it was asked for, echoed */
export function solutionJson(answered: Answered, nowUtc: string): Solution {
  const { solved, sky, feed } = answered
  const { station, fit, parameters } = solved
  const now = msFromUtc(nowUtc)
  let k = 0
  const sightings = solved.sightings.map(s => sightingRow(solved, s, mayCount(s) ? k++ : -1))
  const used = sightings.filter(s => s.status === 'used')
  const isUsable = solved.problem.sightings.length > 0
  const solution: Solution = {
    format: 'moonplumb-solution',
    version: 1,
    station: station.record.name,
    feed: feed.id,
    solvedUtc: nowUtc,
    setupFromUtc: setupFrom(station, now),
    parameters: parameters.list
      .filter(p => p.id !== null && now >= p.from && now < p.to)
      .map(p => ({
        id: p.id!,
        ...(FEED_PARAMETERS.has(p.id!) ? { feed: p.feed! } : {}),
        label: labelOf(p.id!, station.model),
        value: outOf(p, fit.values[p.index]!),
        sigma: outOf(p, parameterSigma(solved, p)),
        unit: unitOf(p.id!),
        prior: { value: outOf(p, p.prior.value), sigma: outOf(p, p.prior.sigma) },
        state: stateOf(solved, p, answered.meanSquare, sky.tolerance, isUsable),
      })),
    sightings,
    fit: {
      used: used.length,
      outliers: sightings.filter(s => s.status === 'outlier').length,
      rmsDeg: Math.sqrt(used.reduce((a, s) => a + s.rightDeg ** 2 + s.upDeg ** 2, 0) / Math.max(1, used.length)),
      misfit: solved.misfit,
      iterations: fit.iterations,
    },
    suspects: answered.suspects,
    sky: {
      hours: sky.points.length / 2,
      toleranceDeg: degFromRad(sky.tolerance),
      floorDeg: degFromRad(sky.floor),
      before: degrees(sky.before),
      after: degrees(sky.after),
      echoLossP95Db: echoLossDb(sky.after.p95, feed.hpbw),
      echoLossWorstDb: echoLossDb(sky.after.worst, feed.hpbw),
      ...verdictOf(station.record, {
        p95: sky.after.p95,
        tolerance: sky.tolerance,
        hours: sky.points.length / 2,
        used: used.length,
        outliers: sightings.length - used.length - sightings.filter(x => x.status === 'excluded').length,
        suspects: answered.suspects,
      }),
    },
    controller: {
      slopeOffset: lines(answered.slopeOffset),
      virtualSite: answered.virtual && {
        latDeg: degFromRad(answered.virtual.place.lat),
        lonDeg: degFromRad(answered.virtual.place.lon),
        azimuthTurnDeg: degFromRad(answered.virtual.place.azimuthTurn),
        ...lines(answered.virtual.fit),
      },
      pole: answered.pole && {
        azDeg: degFromRad(answered.pole.pole.az),
        elDeg: degFromRad(answered.pole.pole.el),
        ...lines(answered.pole.fit),
      },
    },
    next: answered.next.map(n => ({
      target: n.target,
      method: n.method,
      utc: utcFromMs(Math.ceil(n.utcMs / 1000) * 1000),
      azDeg: degFromRad(n.az),
      elDeg: degFromRad(n.el),
      lower: n.lower,
      upper: n.upper,
      rmsAfterDeg: degFromRad(n.rmsAfter),
    })),
  }
  return rounded(solution) as Solution
}

/** Ten decimals: far below anything measured, and free of the last bit's noise. */
function rounded(x: unknown): unknown {
  if (typeof x === 'number') return Number.isInteger(x) ? x : Number(x.toFixed(10)) + 0
  if (Array.isArray(x)) return x.map(rounded)
  if (x !== null && typeof x === 'object') return Object.fromEntries(Object.entries(x).map(([k, v]) => [k, rounded(v)]))
  return x
}
