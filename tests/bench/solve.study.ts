/**
 * How long the core takes, warm, in milliseconds: the least and the median of many runs (the least, because whatever else
 * the machine does only ever adds). Goals: the fit of 13 sightings 5; the whole answer of 26 with two jacks 25, of 300 120, of 10 000
 * under 5 000, growing at most with n^1.1; the Moon's path 1.3 × the raw almanac calls; the next best sighting over three days 100.
 */
import { levenbergMarquardt as libraryFit } from 'ml-levenberg-marquardt'
import { candidatesOf } from '../../src/core/fit/candidates.ts'
import { slopeAndOffset, virtualSite } from '../../src/core/fit/controller.ts'
import { levenbergMarquardt, objective, type Problem, priorObjective } from '../../src/core/fit/map.ts'
import { nextBest } from '../../src/core/fit/nextbest.ts'
import { builtAt, whitenedMiss } from '../../src/core/fit/residuals.ts'
import { meanSquareForm, skyError } from '../../src/core/fit/skyerror.ts'
import { builtFor, solveStation } from '../../src/core/fit/solution.ts'
import { solve } from '../../src/core/questions.ts'
import type { StationRecord } from '../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { bodyAirless, instantAt } from '../../src/core/sky/almanac.ts'
import { siteFrame } from '../../src/core/sky/earthfixed.ts'
import { MOON_PATH_POINTS, moonPath } from '../../src/core/sky/moonpath.ts'
import { stationWith } from '../helpers/many.ts'
import { bookOf, START_MS, utcOf } from '../helpers/simulate.ts'
import { suspectsOf } from '../helpers/suspects.ts'

const NOW = START_MS + 22 * 86_400_000

interface Times {
  leastMs: number
  medianMs: number
  runs: number
}

/** Warm times of a function, over about `budgetMs` of runs. */
function timed(what: () => unknown, budgetMs = 3000): Times {
  for (let began = performance.now(), k = 0; performance.now() - began < budgetMs / 4 || k < 3; k++) what()
  const times: number[] = []
  for (const began = performance.now(); performance.now() - began < budgetMs || times.length < 5; ) {
    const t = performance.now()
    what()
    times.push(performance.now() - t)
  }
  times.sort((a, b) => a - b)
  return {
    leastMs: Number(times[0]!.toFixed(2)),
    medianMs: Number(times[Math.floor(times.length / 2)]!.toFixed(2)),
    runs: times.length,
  }
}

/** Residuals of all sightings and of the priors, as one list: what both solvers are given. */
function residualsOf(problem: Problem, values: Float64Array): number[] {
  const out: number[] = []
  for (const s of problem.sightings) {
    const r = whitenedMiss(problem.model, s, builtAt(values, s.slots))
    out.push(...(r ?? [1000, 1000]))
  }
  values.forEach((v, i) => {
    out.push((v - problem.priorValue[i]!) / problem.priorSigma[i]!)
  })
  return out
}

/** The same residuals through ml-levenberg-marquardt, from the same start; it takes differences for derivatives. */
function throughLibrary(problem: Problem, start: Float64Array) {
  const rows = 2 * problem.sightings.length + start.length
  const x = Array.from({ length: rows }, (_, i) => i)
  // It asks for one row at a time: the whole list is worked out once for each set of parameters.
  const parameterized = (q: number[]) => {
    const values = Float64Array.from(q, (v, i) => problem.priorValue[i]! + v * problem.priorSigma[i]!)
    const residuals = residualsOf(problem, values)
    return (i: number) => residuals[i]!
  }
  const q0 = Array.from(start, (v, i) => (v - problem.priorValue[i]!) / problem.priorSigma[i]!)
  const fit = libraryFit({ x, y: x.map(() => 0) }, parameterized, {
    initialValues: q0,
    damping: 1e-3,
    gradientDifference: 1e-6,
    maxIterations: 100,
    errorTolerance: 0,
    improvementThreshold: 1e-9,
  })
  return Float64Array.from(fit.parameterValues, (v, i) => problem.priorValue[i]! + v * problem.priorSigma[i]!)
}

/** A book that the program has not seen: it remembers the last station by its text. */
let books = 0
const fresh = (record: StationRecord) => bookOf({ ...record, notes: `${++books}` })

/** The power of n with which a time grows. */
const growth = (few: Times, nFew: number, many: Times, nMany: number): number =>
  Number((Math.log(many.leastMs / few.leastMs) / Math.log(nMany / nFew)).toFixed(3))

const MANY = 10_000

export default async () => {
  const record = stationWith(26, 3)
  const station = stationFromRecord(record)
  const solved = solveStation(station)
  const feed = station.feeds[0]!
  const { built, covariance } = builtFor(solved, NOW, feed)
  const path = moonPath(station.site, NOW)
  const sky = skyError(station, feed, built, covariance, path)
  const M = meanSquareForm(sky.points)

  const many = stationFromRecord(stationWith(300, 20))
  const manySolved = solveStation(many)

  const frame = siteFrame(station.site)
  const raw = () => {
    for (let k = 0; k < MOON_PATH_POINTS; k++) bodyAirless('moon', instantAt(NOW + k * 1_800_000), frame)
  }
  const rawTimes = timed(raw)
  const pathTimes = timed(() => moonPath(station.site, NOW))

  // The fit alone, all sightings good, from one start.
  const clean = solveStation(stationFromRecord(stationWith(26, 0))).problem
  const start = candidatesOf(clean)[0]!.values
  const all = new Float64Array(clean.sightings.length).fill(1)
  const ours = levenbergMarquardt(clean, start, all)
  const theirs = throughLibrary(clean, start)

  const stationWith13 = stationWith(13, 0)
  const stationWith300 = stationWith(300, 20)
  const thirteen = stationFromRecord(stationWith13)
  const directions = sky.points.map(p => p.moon.direction)
  const great = stationWith(MANY, 600)
  const greatStation = stationFromRecord(great)
  const solve300 = timed(() => solveStation(many), 5000)
  const solve10000 = timed(() => solveStation(greatStation), 8000)
  const answer300 = timed(() => solve(fresh(stationWith300), { now: utcOf(NOW) }), 5000)
  const answer10000 = timed(() => solve(fresh(great), { now: utcOf(NOW) }), 8000)

  return {
    solve13: timed(() => solveStation(thirteen)),
    solve26: timed(() => solveStation(stationFromRecord(record))),
    solve26Kept: solved.fit.kept.reduce((a, k) => a + k, 0),
    suspects26: timed(() => suspectsOf(solved)),
    solve300,
    solve10000,
    fitGrowth300To10000: growth(solve300, 300, solve10000, MANY),
    solve300Kept: manySolved.fit.kept.reduce((a, k) => a + k, 0),
    suspects300: timed(() => suspectsOf(manySolved), 5000),
    moonPath: pathTimes,
    moonPathRawCalls: rawTimes,
    moonPathOverRaw: Number((pathTimes.leastMs / rawTimes.leastMs).toFixed(3)),
    skyError: timed(() => skyError(station, feed, built, covariance, path)),
    nextBest: timed(() => nextBest(solved, feed, built, covariance, M, sky.floor, sky.after.p95, NOW)),
    slopeAndOffset: timed(() => slopeAndOffset(station, built, sky.points, directions)),
    virtualSite: timed(() => virtualSite(station, built, sky.points)),
    wholeAnswer13: timed(() => solve(fresh(stationWith13), { now: utcOf(NOW) })),
    wholeAnswer26: timed(() => solve(fresh(record), { now: utcOf(NOW) })),
    wholeAnswer300: answer300,
    wholeAnswer10000: answer10000,
    wholeGrowth300To10000: growth(answer300, 300, answer10000, MANY),
    oneFit: timed(() => levenbergMarquardt(clean, start, all), 1500),
    oneFitObjective: objective(clean, ours.values, all),
    oneFitThroughLibrary: timed(() => throughLibrary(clean, start), 3000),
    oneFitThroughLibraryObjective: objective(clean, theirs, all),
    priorPart: priorObjective(clean, ours.values),
  }
}
