/**
 * The robust fit: refine the best starts by reweighting, then reject outright and fit the kept sightings unweighted, so that
 * nothing is lost in efficiency and σ is honest. Outlier: studentised d² above 18.4 (two coordinates, 1 in 10 000).
 */
import type { Square } from '../matrices.ts'
import { SLOTS } from '../mount/slots.ts'
import { biweight, candidatesOf, setupsOf } from './candidates.ts'
import { chiSquares, levenbergMarquardt, normalEquations, objective, type Problem, posterior, step } from './map.ts'
import { chainsOf, rowsIn } from './residuals.ts'
import { fitFromMany } from './starts.ts'

export const OUTLIER = 18.4
/** What a rejected sighting costs when solutions are compared. */
export const COST = 25

export interface Fitted {
  values: Float64Array
  /** 1 kept, 0 rejected, by sighting of the problem. */
  kept: Float64Array
  /** Posterior covariance of the kept, in the priors' units. */
  covariance: Square
  objective: number
  /** What the rejected cost. */
  forfeit: number
  iterations: number
}

/** Tukey's biweight with Levenberg-Marquardt: a step at a time, new weights before each. */
export function refine(problem: Problem, start: Float64Array): { values: Float64Array; iterations: number } {
  let values = start
  const weights = new Float64Array(problem.sightings.length)
  let lambda = 0
  for (let i = 0; i < 30; i++) {
    const chi = chiSquares(problem, values)
    problem.sightings.forEach((s, k) => {
      weights[k] = s.use === 'always' ? 1 : biweight(chi[k]!)
    })
    const eq = normalEquations(problem, values, weights)
    let moved = false
    for (let tries = 0; tries < 8 && !moved; tries++) {
      const s = step(problem, values, eq.H, eq.g, lambda)
      if (s !== null && objective(problem, s.values, weights) <= eq.objective * (1 + 1e-12)) {
        values = s.values
        lambda /= 10
        if (lambda < 1e-6) lambda = 0
        moved = true
        if (s.size < 1e-4) return { values, iterations: i + 1 }
      } else {
        lambda = lambda === 0 ? 1e-4 : lambda * 10
      }
    }
    if (!moved) return { values, iterations: i }
  }
  return { values, iterations: 30 }
}

/**
 * Studentised d² of every sighting: a kept one with I - H, a rejected one with I + H, H = A C Aᵀ.
 * Infinity where a triangle does not close.
 */
export function studentised(
  problem: Problem,
  values: Float64Array,
  kept: Float64Array,
  covariance: Square,
): Float64Array {
  const { n, a: C } = covariance
  const out = new Float64Array(problem.sightings.length)
  const chain = chainsOf(problem.model, values)
  const partials = new Float64Array(2 * SLOTS)
  problem.sightings.forEach((s, k) => {
    const r = rowsIn(chain(s.slots, s.line), s, partials)
    if (r === null) {
      out[k] = Infinity
      return
    }
    let h11 = 0
    let h12 = 0
    let h22 = 0
    for (let p = 0; p < SLOTS; p++) {
      const i = s.slots[p]!
      if (i < 0) continue
      const xi = partials[p]! * problem.priorSigma[i]!
      const yi = partials[SLOTS + p]! * problem.priorSigma[i]!
      if (xi === 0 && yi === 0) continue
      for (let q = 0; q < SLOTS; q++) {
        const j = s.slots[q]!
        if (j < 0) continue
        const c = C[i * n + j]!
        const xj = partials[q]! * problem.priorSigma[j]!
        const yj = partials[SLOTS + q]! * problem.priorSigma[j]!
        h11 += xi * c * xj
        h12 += xi * c * yj
        h22 += yi * c * yj
      }
    }
    const isKept = kept[k] === 1
    // By its own σ, not by the one widened for its neighbours (its residual's variance is I - k H then, as they all lean
    // on it). Where the neighbours are rejected it leans alone: no less than (1 - h)² is left, h its whole leverage.
    const own = s.crowd
    const lever = Math.max(h11, h22) + Math.abs(h12)
    const sign = isKept ? -Math.min(own, Math.max(1, 2 - lever)) : own
    // A leverage of one leaves nothing to judge by: the floor keeps such a sighting from being divided by zero.
    const s11 = Math.max(1e-6, 1 + sign * h11)
    const s22 = Math.max(1e-6, 1 + sign * h22)
    const s12 = sign * h12
    const det = Math.max(1e-12, s11 * s22 - s12 * s12)
    out[k] = (own * (s22 * r[0] * r[0] - 2 * s12 * r[0] * r[1] + s11 * r[1] * r[1])) / det
  })
  return out
}

const keyOf = (kept: Float64Array): string => kept.join('')

/** What setting these aside costs: 25 each, shared within a crowd. */
export const forfeitOf = (problem: Problem, kept: Float64Array): number =>
  kept.reduce((sum, k, i) => sum + (k === 0 ? COST / problem.sightings[i]!.crowd : 0), 0)

function fitOf(problem: Problem, start: Float64Array, kept: Float64Array): Fitted {
  const { values, iterations } = levenbergMarquardt(problem, start, kept)
  const covariance = posterior(problem, values, kept)
  return {
    values,
    kept,
    covariance,
    objective: objective(problem, values, kept),
    forfeit: forfeitOf(problem, kept),
    iterations,
  }
}

/** Studentised d² beyond the point where a sighting changes sides: kept and above it, or rejected and below. */
const wrongSide = (problem: Problem, kept: Float64Array, d2: Float64Array, k: number): number => {
  // A jack's triangle that does not close says nothing about where the dish looked: rejected, even if marked "always".
  if (d2[k] === Infinity) return kept[k] === 1 ? Infinity : -Infinity
  if (problem.sightings[k]!.use === 'always') return kept[k] === 1 ? 0 : Infinity
  return kept[k] === 1 ? d2[k]! - OUTLIER : OUTLIER - d2[k]!
}

/**
 * Rejects until the set repeats. If it cycles, one sighting at a time: several rejected ones may each go with the kept
 * and yet not with one another, and taken back together they throw out the honest ones (reject.test.ts).
 * @param start weights to begin with: 1 kept, 0 rejected
 */
export function rejectFrom(problem: Problem, startValues: Float64Array, start: Float64Array): Fitted {
  const seen: { key: string; fit: Fitted }[] = []
  let iterations = 0
  let kept = start
  let values = startValues
  let oneByOne = false
  for (;;) {
    const fit = fitOf(problem, values, kept)
    iterations += fit.iterations
    seen.push({ key: keyOf(kept), fit })
    const d2 = studentised(problem, fit.values, kept, fit.covariance)
    const next = kept.slice()
    const wrong = problem.sightings.map((_, k) => wrongSide(problem, kept, d2, k))
    const worst = wrong.reduce((most, w, k) => (w > wrong[most]! ? k : most), 0)
    wrong.forEach((w, k) => {
      if (w > 0 && (!oneByOne || k === worst)) next[k] = 1 - kept[k]!
    })
    const again = seen.findIndex(x => x.key === keyOf(next))
    if (again === seen.length - 1) return { ...fit, iterations }
    values = fit.values
    kept = next
    if (again < 0 && seen.length <= 25) continue
    // A cycle: go on from the cheapest of its sets.
    const best = seen.slice(Math.max(0, again)).reduce((a, b) => (cost(b.fit) < cost(a.fit) ? b : a)).fit
    if (oneByOne) return { ...best, iterations }
    oneByOne = true
    seen.length = 0
    values = best.values
    kept = best.kept
  }
}

export const rejected = (fit: Fitted): number => fit.kept.reduce((a, k) => a + (k === 0 ? 1 : 0), 0)

/** The least objective, 25 for each rejected sighting (less for those of a crowd). */
export const cost = (fit: Fitted): number => fit.objective + fit.forfeit

const isNear = (problem: Problem, a: Float64Array, b: Float64Array): boolean =>
  a.every((x, i) => Math.abs(x - b[i]!) < 1e-3 * problem.priorSigma[i]!)

/** With more sightings than MANY, starts are looked for among ENOUGH of them. */
const MANY = 600
const ENOUGH = 400

/**
 * A part of a book of many sightings, evenly from every setup, enough to find the right start: starting costs as much as all
 * the rest together, and what is right for 400 sightings is right for 10,000. What must stay is in it.
 */
function thinned(problem: Problem): Problem {
  const setups = setupsOf(problem.sightings)
  const chosen = new Set<number>()
  for (const setup of setups) {
    const most = Math.max(12, Math.ceil((ENOUGH * setup.length) / problem.sightings.length))
    const stride = Math.max(1, setup.length / most)
    for (let k = 0; k < setup.length; k += stride) chosen.add(setup[Math.floor(k)]!)
  }
  return { ...problem, sightings: problem.sightings.filter((s, k) => chosen.has(k) || s.use === 'always') }
}

/** Kept for a start: what stands within the outlier's limit of it. */
function keptNear(problem: Problem, values: Float64Array): Float64Array {
  const chi = chiSquares(problem, values)
  return Float64Array.from(problem.sightings, (s, k) =>
    chi[k]! < Infinity && (s.use === 'always' || s.crowd * chi[k]! <= OUTLIER) ? 1 : 0,
  )
}

/** The whole method: candidates, refinement, hard rejection, the cheapest. */
export function fitRobustly(problem: Problem): Fitted {
  if (problem.sightings.length <= MANY) return fitFromStarts(problem)
  const part = fitFromStarts(thinned(problem))
  const fit = rejectFrom(problem, part.values, keptNear(problem, part.values))
  return { ...fit, iterations: fit.iterations + part.iterations }
}

function fitFromStarts(problem: Problem): Fitted {
  const n = problem.sightings.length
  if (n < 4) {
    const best = fitFromMany(
      problem,
      candidatesOf(problem).map(c => c.values),
    )
    const kept = chiSquares(problem, best.values).map(d2 => (d2 < Infinity ? 1 : 0))
    return {
      ...best,
      kept,
      covariance: posterior(problem, best.values, kept),
      objective: objective(problem, best.values, new Float64Array(n).fill(1)),
      forfeit: forfeitOf(problem, kept),
    }
  }
  const refined: { values: Float64Array; iterations: number }[] = []
  for (const candidate of candidatesOf(problem)) {
    const r = refine(problem, candidate.values)
    if (!refined.some(x => isNear(problem, x.values, r.values))) refined.push(r)
  }
  let best: Fitted | null = null
  for (const r of refined) {
    const fit = rejectFrom(problem, r.values, keptNear(problem, r.values))
    const whole = { ...fit, iterations: fit.iterations + r.iterations }
    if (best === null || cost(whole) < cost(best)) best = whole
  }
  return best!
}
