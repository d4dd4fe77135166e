/**
 * What every hypothesis starts from: the station's problem and its fit, how badly they go together, and the small changes
 * from which hypotheses are made (another unknown, other slots from an instant on, fewer sightings).
 */

import { chiSquare99 } from '../../chance.ts'
import { square } from '../../matrices.ts'
import type { Suspect, SuspectKind } from '../../records/solution.ts'
import type { Station } from '../../records/station.ts'
import { type Problem, priorObjective, scalarObjective } from '../map.ts'
import { cost, type Fitted, fitRobustly, forfeitOf, rejected, rejectFrom } from '../reject.ts'
import { type Linear, linearised } from './linear.ts'
import { consistentReferences } from './marks.ts'

export interface Context {
  station: Station
  /** The references that agree with one another. */
  problem: Problem
  /** All references. */
  whole: Problem
  fit: Fitted
  /** Misfit beyond chance, three in ten rejected, or unknowns pulled far from their priors: gross faults are tried. */
  isBad: boolean
  /** Bad, and no cheap hypothesis explains it: every one is fitted from scratch. */
  isDesperate: boolean
  linear: () => Linear
}

/** A hypothesis fitted. */
export interface Explanation {
  kind: SuspectKind
  problem: Problem
  fit: Fitted
  /** By how much it lowers χ², 25 for every sighting that it takes back. */
  gain: number
  /** What the gain must pay for: the places looked at, the unknowns added, how rare the cause is. */
  penalty: number
  /** The problem with references that still contradict one another. */
  whole?: Problem
  suspect: Omit<Suspect, 'kind' | 'deltaChi2' | 'rivals'>
}

export const netGain = (e: Explanation): number => e.gain - e.penalty

/** More than this many σ of the priors together (χ²), or one alone beyond 3.5: pulled far. */
function isPulled({ problem, fit }: { problem: Problem; fit: Fitted }): boolean {
  for (let i = 0; i < fit.values.length; i++)
    if (Math.abs(fit.values[i]! - problem.priorValue[i]!) > 3.5 * problem.priorSigma[i]!) return true
  return priorObjective(problem, fit.values) > chiSquare99(16)
}

export function contextOf(station: Station, whole: Problem, problem: Problem, fit: Fitted): Context {
  let linear: Linear | null = null
  return {
    station,
    problem,
    whole,
    fit,
    isBad: !isGood(problem, fit, MOST_REJECTED),
    isDesperate: false,
    linear: () => {
      linear ??= linearised(whole, fit)
      return linear
    },
  }
}

/** The problem with more unknowns, each with its prior. @returns also the index of the first */
export function extended(
  problem: Problem,
  unknowns: readonly { value: number; sigma: number }[],
): { problem: Problem; first: number } {
  const grown = (old: Float64Array, more: number[]) => Float64Array.from([...old, ...more])
  return {
    first: problem.priorValue.length,
    problem: {
      ...problem,
      priorValue: grown(
        problem.priorValue,
        unknowns.map(u => u.value),
      ),
      priorSigma: grown(
        problem.priorSigma,
        unknowns.map(u => u.sigma),
      ),
    },
  }
}

/** Other unknowns in some slots. */
export function withSlots(slots: Int16Array, put: readonly (readonly [slot: number, index: number])[]): Int16Array {
  const out = Int16Array.from(slots)
  for (const [slot, index] of put) out[slot] = index
  return out
}

/** The start of an extended problem: the fit, and the new unknowns where they are thought to be. */
export const startAt = (fit: Fitted, more: readonly number[]): Float64Array =>
  Float64Array.from([...fit.values, ...more])

/** The cheapest of several fits. */
export function cheapest(fits: readonly Fitted[]): Fitted {
  return fits.reduce((a, b) => (cost(b) < cost(a) ? b : a))
}

/** With more than this share rejected it is no longer a few blunders; the fit is made for up to a quarter plain wrong. */
const MOST_REJECTED = 0.3
/** An explanation is a good one only where few are left to reject. */
const FEW_REJECTED = 1 / 6

/** Whether problem and fit go together: no misfit beyond chance, few rejected, nothing pulled far. */
export function isGood(problem: Problem, fit: Fitted, mostRejected = FEW_REJECTED): boolean {
  const used = fit.kept.reduce((a, k) => a + k, 0)
  const rows = 2 * used + scalarObjective(problem, fit.values).rows
  if (rows > 0 && fit.objective > chiSquare99(rows)) return false
  const out = rejected(fit)
  return !(out >= 2 && out > mostRejected * problem.sightings.length) && !isPulled({ problem, fit })
}

/** Every sighting set aside: the cost of a hypothesis under which nothing can be computed. */
function hopeless(problem: Problem): Fitted {
  const n = problem.priorValue.length
  const covariance = square(n)
  for (let i = 0; i < n; i++) covariance.a[i * n + i] = 1
  const kept = new Float64Array(problem.sightings.length)
  return {
    values: Float64Array.from(problem.priorValue),
    kept,
    covariance,
    objective: 0,
    forfeit: forfeitOf(problem, kept),
    iterations: 0,
  }
}

/**
 * A false hypothesis can lead where nothing is computed any more: a jack at its dead centre turns by any amount for a hair of
 * its length, and the normal matrix is no longer positive definite. Then it is no explanation.
 */
function orHopeless(problem: Problem, fit: () => Fitted): Fitted {
  try {
    const found = fit()
    return Number.isFinite(found.objective) ? found : hopeless(problem)
  } catch (error) {
    if (error instanceof RangeError) return hopeless(problem)
    throw error
  }
}

/** The fit of a hypothesis from scratch, and on from where another stands. */
export const fitAfresh = (problem: Problem): Fitted => orHopeless(problem, () => fitRobustly(problem))
export const fitOn = (problem: Problem, values: Float64Array, kept: Float64Array): Fitted =>
  orHopeless(problem, () => rejectFrom(problem, values, kept))

/** From where the fit stands; and from anywhere, where that leads to nothing good and the fit itself may be a false one. */
export function refit(
  problem: Problem,
  starts: readonly { values: Float64Array; kept: Float64Array }[],
  afresh: boolean,
): Fitted {
  const fits = starts.map(s => fitOn(problem, s.values, s.kept))
  if (afresh && !fits.some(fit => isGood(problem, fit))) fits.push(fitAfresh(problem))
  return cheapest(fits)
}

/** Sightings at most that a fit from scratch looks at. */
const MOST_AFRESH = 240

/** Where there are many, sightings taken evenly in time, with the fit that they had. */
export function thinnedSightings(ctx: Context): { problem: Problem; kept: Float64Array } {
  const { problem, fit } = ctx
  const n = problem.sightings.length
  if (n <= MOST_AFRESH) return { problem, kept: fit.kept }
  const order = problem.sightings
    .map((_, i) => i)
    .sort((a, b) => problem.sightings[a]!.utcMs - problem.sightings[b]!.utcMs)
  const some = Array.from({ length: MOST_AFRESH }, (_, k) => order[Math.floor((k * n) / MOST_AFRESH)]!)
  return {
    problem: { ...problem, sightings: some.map(i => problem.sightings[i]!) },
    kept: Float64Array.from(some, i => fit.kept[i]!),
  }
}

/** The cost of references that contradict one another, and the problem without them. */
export function withoutBrokenMarks(station: Station, whole: Problem): { problem: Problem; broken: number } {
  const { agreed, steps } = consistentReferences(station, whole)
  return { problem: { ...whole, references: agreed }, broken: steps.reduce((a, s) => a + s.deltaChi2, 0) }
}
