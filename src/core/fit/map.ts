/**
 * The maximum a posteriori fit: Σ rᵀ W r over sightings + Σ level and reference residuals² + Σ ((p - prior)/σ)².
 * Inside, every parameter is counted in its prior's σ, so the prior's own part of the normal matrix is the identity.
 */
import { inversePositive, type Square, solvePositive, square } from '../matrices.ts'
import type { MountModel } from '../mount/asbuilt.ts'
import { SLOTS } from '../mount/slots.ts'
import type { Observations } from './observations.ts'
import type { Parameter, Parameters } from './parameters.ts'
import { builtAt, chainsOf, chiIn, levelRows, referenceRow, rowsIn, type ScalarRow } from './residuals.ts'
import type { Sighting } from './sighting.ts'

/** What the fit works on. `sightings` are those that may enter; weights go along with them. */
export interface Problem {
  model: MountModel
  parameters: Parameters
  sightings: Sighting[]
  levels: Observations['levels']
  references: Observations['references']
  priorValue: Float64Array
  priorSigma: Float64Array
}

/**
 * A prior's σ as the arithmetic takes it. Sharper or wider than this makes no difference (held fast; nothing known), but
 * the square of its reciprocal drowns every other digit: with 1e-300 the objective is infinite, with 1e9° the normal matrix
 * has lost the prior. By unit: rad, ratio, mm, a counter's reading.
 */
const SIGMA_WITHIN = { deg: [1e-10, 20], ratio: [1e-10, 2], mm: [1e-7, 1e4], reading: [1e-7, 1e7] } as const

const workingSigma = ({ unit, prior }: Parameter): number =>
  Math.max(SIGMA_WITHIN[unit][0], Math.min(SIGMA_WITHIN[unit][1], prior.sigma))

export function problemOf(model: MountModel, parameters: Parameters, o: Observations): Problem {
  return {
    model,
    parameters,
    sightings: o.sightings,
    levels: o.levels,
    references: o.references,
    priorValue: Float64Array.from(parameters.list, p => p.prior.value),
    priorSigma: Float64Array.from(parameters.list, workingSigma),
  }
}

/** Two-coordinate χ² of each sighting; Infinity where a triangle does not close. */
export function chiSquares(
  problem: Problem,
  values: Float64Array,
  out = new Float64Array(problem.sightings.length),
): Float64Array {
  const chain = chainsOf(problem.model, values)
  problem.sightings.forEach((s, i) => {
    out[i] = chiIn(chain(s.slots, s.line), s) ?? Infinity
  })
  return out
}

/** What ties two unknowns: their indices, their factors in σ of the priors, and the residual in σ of the tie. */
export interface TieRow {
  a: number
  b: number
  ka: number
  kb: number
  r: number
}

export const tieRows = (
  { parameters, priorSigma }: Pick<Problem, 'parameters' | 'priorSigma'>,
  values: Float64Array,
): TieRow[] =>
  parameters.ties.map(({ a, b, sigma }) => ({
    a,
    b,
    ka: priorSigma[a]! / sigma,
    kb: -priorSigma[b]! / sigma,
    r: (values[a]! - values[b]!) / sigma,
  }))

/** Σ ((p - prior)/σ)², and what ties unknowns to one another. */
export function priorObjective(problem: Problem, values: Float64Array): number {
  let sum = 0
  for (let i = 0; i < values.length; i++) sum += ((values[i]! - problem.priorValue[i]!) / problem.priorSigma[i]!) ** 2
  for (const { r } of tieRows(problem, values)) sum += r * r
  return sum
}

/**
 * What a measurement costs whose jack's triangle does not close with the arms as they are: more than any misfit, so that
 * no step leads there, yet finite, so that a fit may start there and step out.
 */
export const UNCLOSED = 1e6

/** All scalar rows with the slots they belong to, and how many measurements' triangles do not close. */
function scalarRows(
  problem: Problem,
  values: Float64Array,
): { rows: { row: ScalarRow; slots: Int16Array }[]; unclosed: number } {
  let unclosed = 0
  const built = new Float64Array(SLOTS)
  const out: { row: ScalarRow; slots: Int16Array }[] = []
  for (const level of problem.levels) {
    const rows = levelRows(problem.model, level, builtAt(values, level.slots, built))
    if (rows === null) {
      unclosed++
      continue
    }
    for (const row of rows) {
      if (row.shared >= 0) row.residual += row.perShared * values[row.shared]!
      out.push({ row, slots: level.slots })
    }
  }
  for (const ref of problem.references) {
    const row = referenceRow(problem.model, ref, builtAt(values, ref.slots, built), values[ref.mark]!)
    if (row === null) unclosed++
    else out.push({ row, slots: ref.slots })
  }
  return { rows: out, unclosed }
}

/** Σ level and reference residuals², and how many rows they are. */
export function scalarObjective(problem: Problem, values: Float64Array): { sum: number; rows: number } {
  const { rows, unclosed } = scalarRows(problem, values)
  return { sum: rows.reduce((a, r) => a + r.row.residual ** 2, UNCLOSED * unclosed), rows: rows.length }
}

/** The whole objective with given weights of the sightings (0 = left out). */
export function objective(problem: Problem, values: Float64Array, weights: Float64Array): number {
  const chain = chainsOf(problem.model, values)
  let sum = priorObjective(problem, values)
  if (problem.levels.length + problem.references.length > 0) sum += scalarObjective(problem, values).sum
  for (let i = 0; i < weights.length; i++) {
    if (weights[i] === 0) continue
    const s = problem.sightings[i]!
    sum += weights[i]! * (chiIn(chain(s.slots, s.line), s) ?? UNCLOSED)
  }
  return sum
}

/** A row of the design in units of the priors' σ, sparse: `count` entries; its residual and weight. */
type RowVisitor = (index: Int16Array, value: Float64Array, count: number, r: number, w: number) => void

// Refilled for each row. Typed arrays are costly to make (they lie outside the young heap), and there are many of these calls.
const partials = new Float64Array(2 * SLOTS)
const index = new Int16Array(SLOTS + 1)
const a = new Float64Array(SLOTS + 1)

/** Visits every weighted row of sightings, levels, references and ties. @returns their part of the objective */
function eachRow(problem: Problem, values: Float64Array, weights: Float64Array, visit: RowVisitor): number {
  const { priorSigma } = problem
  const chain = chainsOf(problem.model, values)
  let sum = 0
  const fill = (slots: Int16Array, bySlot: Float64Array, offset: number): number => {
    let count = 0
    for (let slot = 0; slot < SLOTS; slot++) {
      const i = slots[slot]!
      const d = bySlot[offset + slot]!
      if (i < 0 || d === 0) continue
      index[count] = i
      a[count++] = d * priorSigma[i]!
    }
    return count
  }
  for (let k = 0; k < weights.length; k++) {
    const w = weights[k]!
    if (w === 0) continue
    const s = problem.sightings[k]!
    const r = rowsIn(chain(s.slots, s.line), s, partials)
    if (r === null) {
      sum += w * UNCLOSED
      continue
    }
    sum += w * (r[0] * r[0] + r[1] * r[1])
    for (let row = 0; row < 2; row++) visit(index, a, fill(s.slots, partials, row * SLOTS), r[row]!, w)
  }
  for (const tie of tieRows(problem, values)) {
    index[0] = tie.a
    a[0] = tie.ka
    index[1] = tie.b
    a[1] = tie.kb
    visit(index, a, 2, tie.r, 1)
    sum += tie.r * tie.r
  }
  if (problem.levels.length + problem.references.length > 0) {
    const { rows, unclosed } = scalarRows(problem, values)
    sum += UNCLOSED * unclosed
    for (const { row, slots } of rows) {
      let count = fill(slots, row.bySlot, 0)
      if (row.shared >= 0 && row.perShared !== 0) {
        index[count] = row.shared
        a[count++] = row.perShared * priorSigma[row.shared]!
      }
      visit(index, a, count, row.residual, 1)
      sum += row.residual ** 2
    }
  }
  return sum
}

/** The parameters' distance from their priors, in the priors' σ. */
function fromPrior({ priorValue, priorSigma }: Problem, values: Float64Array): Float64Array {
  const out = new Float64Array(values.length)
  for (let i = 0; i < values.length; i++) out[i] = (values[i]! - priorValue[i]!) / priorSigma[i]!
  return out
}

/** Normal equations in units of the priors' σ: H = I + Σ w AᵀA (lower triangle), g = gradient/2, and the objective. */
export function normalEquations(
  problem: Problem,
  values: Float64Array,
  weights: Float64Array,
): { H: Square; g: Float64Array; objective: number } {
  const n = values.length
  const H = square(n)
  const g = fromPrior(problem, values)
  let sum = 0
  for (let i = 0; i < n; i++) {
    H.a[i * n + i] = 1
    sum += g[i]! * g[i]!
  }
  sum += eachRow(problem, values, weights, (index, value, count, r, w) => {
    for (let i = 0; i < count; i++) {
      const vi = value[i]! * w
      const p = index[i]!
      g[p]! += vi * r
      for (let j = 0; j <= i; j++) {
        const q = index[j]!
        H.a[p > q ? p * n + q : q * n + p]! += vi * value[j]!
      }
    }
  })
  return { H, g, objective: sum }
}

/** Rows and residuals of fewRowsStep; they grow as needed. */
let fewRows = new Float64Array(1024)
let fewResiduals = new Float64Array(32)
let fewSquare = new Float64Array(256)
function grown(from: Float64Array<ArrayBuffer>, length: number): Float64Array<ArrayBuffer> {
  const out = new Float64Array(length)
  out.set(from)
  return out
}

/**
 * A Gauss-Newton step for fewer rows than parameters: with the priors as identity, the step in parameters is
 * -Aᵀ (I + A Aᵀ)⁻¹ (r - A q), a system as small as the rows are few. The same step as by the normal equations.
 */
export function fewRowsStep(problem: Problem, values: Float64Array, weights: Float64Array): Float64Array | null {
  const n = values.length
  const q = fromPrior(problem, values)
  const { priorSigma } = problem
  let m = 0
  eachRow(problem, values, weights, (at, value, count, r, w) => {
    if ((m + 1) * n > fewRows.length) fewRows = grown(fewRows, 2 * (m + 1) * n)
    if (m === fewResiduals.length) fewResiduals = grown(fewResiduals, 2 * m)
    const o = m * n
    fewRows.fill(0, o, o + n)
    const k = Math.sqrt(w)
    let left = r
    for (let i = 0; i < count; i++) {
      fewRows[o + at[i]!] = value[i]! * k
      left -= value[i]! * q[at[i]!]!
    }
    fewResiduals[m++] = left * k
  })
  if (m * m > fewSquare.length) fewSquare = new Float64Array(2 * m * m)
  const S: Square = { n: m, a: fewSquare }
  for (let i = 0; i < m; i++)
    for (let j = 0; j <= i; j++) {
      let dot = i === j ? 1 : 0
      const x = i * n
      const y = j * n
      for (let k = 0; k < n; k++) dot += fewRows[x + k]! * fewRows[y + k]!
      S.a[i * m + j] = dot
    }
  const y = m === 0 ? new Float64Array(0) : solvePositive(S, fewResiduals.subarray(0, m))
  if (y === null) return null
  const next = problem.priorValue.slice()
  for (let i = 0; i < m; i++) for (let k = 0; k < n; k++) next[k]! -= fewRows[i * n + k]! * y[i]! * priorSigma[k]!
  return next
}

/** One Gauss-Newton step (λ = 0) or a damped one. Null when it cannot be made. */
export function step(
  problem: Problem,
  values: Float64Array,
  H: Square,
  g: Float64Array,
  lambda: number,
): { values: Float64Array; size: number } | null {
  const n = H.n
  const damped: Square = lambda === 0 ? H : { n, a: H.a.slice() }
  if (lambda !== 0) for (let i = 0; i < n; i++) damped.a[i * n + i]! *= 1 + lambda
  const q = solvePositive(damped, g)
  if (q === null) return null
  const next = new Float64Array(n)
  let size = 0
  for (let i = 0; i < n; i++) {
    next[i] = values[i]! - q[i]! * problem.priorSigma[i]!
    size = Math.max(size, Math.abs(q[i]!))
  }
  return { values: next, size }
}

/**
 * Levenberg-Marquardt with fixed weights.
 * @param maxSteps  accepted steps at most
 * @param tolerance stops when no parameter moves by more than this share of its prior's σ
 */
export function levenbergMarquardt(
  problem: Problem,
  start: Float64Array,
  weights: Float64Array,
  maxSteps = 40,
  tolerance = 1e-9,
): { values: Float64Array; iterations: number } {
  let values = start
  let lambda = 0
  for (let i = 0; i < maxSteps; i++) {
    const eq = normalEquations(problem, values, weights)
    let moved = false
    for (let tries = 0; tries < 12; tries++) {
      const s = step(problem, values, eq.H, eq.g, lambda)
      if (s !== null) {
        if (s.size < tolerance) return { values: s.values, iterations: i + 1 }
        const f = objective(problem, s.values, weights)
        // 1e-12 is the rounding of a sum of squares: without it chance would refuse the last steps.
        if (f <= eq.objective * (1 + 1e-12)) {
          values = s.values
          lambda = lambda < 1e-6 ? 0 : lambda / 10
          moved = true
          break
        }
      }
      lambda = lambda === 0 ? 1e-4 : lambda * 10
    }
    if (!moved) return { values, iterations: i }
  }
  return { values, iterations: maxSteps }
}

/** Posterior covariance in the priors' units, at a solution with given weights. */
export function posterior(problem: Problem, values: Float64Array, weights: Float64Array): Square {
  return inversePositive(normalEquations(problem, values, weights).H)
}
