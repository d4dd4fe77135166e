/**
 * A counter that lost or gained counts: is there a gap in time from which on one axis reads too little or too much by one
 * and the same amount? Every gap is looked at in the linearised fit, the likely ones are fitted anew with the readings
 * put right. The unknown is a shift of the reading, so that a jack's counts stay counts over the whole stroke.
 */
import { inversePositive, type Square, solvePositive, square } from '../matrices.ts'
import { AXIS_SLOTS, trueAngle } from '../mount/readings.ts'
import { SLOTS } from '../mount/slots.ts'
import { countsSteps } from '../readout/readout.ts'
import type { Axis } from '../records/fieldbook.ts'
import type { Suspect } from '../records/solution.ts'
import type { Station } from '../records/station.ts'
import { degFromRad, type Rad } from '../units.ts'
import { AXIS_NAMES } from './labels.ts'
import { normalEquations, type Problem } from './map.ts'
import { COST, cost, type Fitted, fitRobustly, OUTLIER, rejectFrom } from './reject.ts'
import { builtAt, whitenedRows } from './residuals.ts'

/** A step must lower the cost by this much: one unknown, but many places to look (two axes, every gap). */
const STEP_EVIDENCE = 25
/** Before a whole fit is spent on a gap, the quick look must promise this much. */
const STEP_HINT = 15
/** Gaps of an axis that are fitted anew. */
const MOST_TRIED = 3
/** A shift is looked for within about this (σ of its prior). */
const SHIFT: Rad = 30 * (Math.PI / 180)

const shortUtc = (ms: number): string => `${new Date(ms).toISOString().slice(0, 16).replace('T', ' ')} UTC`

/** In the words of a counter: how far off, which way. A true angle larger than read means that counts went missing. */
export function stepText(
  station: Station,
  axis: Axis,
  jump: Rad,
  sigma: Rad,
  perReading: number,
  from: number,
  to: number,
): { text: string; counts?: number } {
  const where = `between ${shortUtc(from)} and ${shortUtc(to)}`
  const name = AXIS_NAMES[station.model.kind][axis]
  if (!countsSteps(station.model[axis].readout)) {
    const size = `${Math.abs(degFromRad(jump)).toFixed(2)} ± ${degFromRad(sigma).toFixed(2)}°`
    return {
      text: `The ${name} axis reads ${size} ${jump > 0 ? 'less' : 'more'} than before; it changed ${where}.`,
    }
  }
  const counts = jump / perReading
  const size = `${Math.abs(counts).toFixed(0)} ± ${Math.abs(sigma / perReading).toFixed(0)} counts`
  return { text: `The ${name} counter ${counts > 0 ? 'lost' : 'gained'} about ${size}, ${where}.`, counts }
}

/** The fit as a linear problem: rows of each sighting, and the normal equations of all the rest. */
interface Linear {
  n: number
  /** Whitened residual, and rows right and up, by sighting: n + 1 columns in the priors' σ, the last for the shift. */
  r: ([number, number] | null)[]
  rows: Float64Array[]
  /** Priors, levels and references alone. */
  H: Square
  g: Float64Array
  rest: number
}

function linearise(problem: Problem, values: Float64Array, axis: Axis): Linear {
  const n = values.length
  const others = normalEquations(problem, values, new Float64Array(problem.sightings.length))
  const built = new Float64Array(SLOTS)
  const partials = new Float64Array(2 * SLOTS)
  const zero = AXIS_SLOTS[axis].zero
  const r: Linear['r'] = []
  const rows: Float64Array[] = []
  for (const s of problem.sightings) {
    const row = new Float64Array(2 * (n + 1))
    builtAt(values, s.slots, built)
    const miss = whitenedRows(problem.model, s, built, partials)
    const at = trueAngle(problem.model, built, axis, s.record[axis])
    if (miss !== null && at.kind === 'angle') {
      for (let p = 0; p < SLOTS; p++) {
        const j = s.slots[p]!
        if (j < 0) continue
        row[j] = partials[p]! * problem.priorSigma[j]!
        row[n + 1 + j] = partials[SLOTS + p]! * problem.priorSigma[j]!
      }
      row[n] = partials[zero]! * at.perReading
      row[2 * n + 1] = partials[SLOTS + zero]! * at.perReading
    }
    r.push(miss)
    rows.push(row)
  }
  return { n, r, rows, H: others.H, g: others.g, rest: others.objective }
}

/** Normal equations with a shift of some sightings as the last unknown. @param unit readings that are one σ of the shift */
function withShift(linear: Linear, weights: Float64Array, shifted: Uint8Array, unit: number) {
  const { n } = linear
  const m = n + 1
  const H = square(m)
  const g = new Float64Array(m)
  for (let i = 0; i < n; i++) {
    g[i] = linear.g[i]!
    for (let j = 0; j <= i; j++) H.a[i * m + j] = linear.H.a[i * n + j]!
  }
  H.a[m * m - 1] = 1
  linear.r.forEach((r, k) => {
    const w = weights[k]!
    if (w === 0 || r === null) return
    const row = linear.rows[k]!
    const last = shifted[k] === 1 ? unit : 0
    for (let half = 0; half < 2; half++) {
      const o = half * m
      for (let i = 0; i < m; i++) {
        const a = (i === n ? last * row[o + n]! : row[o + i]!) * w
        if (a === 0) continue
        g[i]! += a * r[half]!
        for (let j = 0; j <= i; j++) H.a[i * m + j]! += a * (j === n ? last * row[o + n]! : row[o + j]!)
      }
    }
  })
  return { H, g }
}

/** d² of every sighting after a step q of the unknowns. */
function squaresAfter(linear: Linear, q: Float64Array, shifted: Uint8Array, unit: number): Float64Array {
  const { n } = linear
  return Float64Array.from(linear.r, (r, k) => {
    if (r === null) return Infinity
    const row = linear.rows[k]!
    let x = r[0]
    let y = r[1]
    for (let i = 0; i < n; i++) {
      x -= row[i]! * q[i]!
      y -= row[n + 1 + i]! * q[i]!
    }
    if (shifted[k] === 1) {
      x -= row[n]! * unit * q[n]!
      y -= row[2 * n + 1]! * unit * q[n]!
    }
    return x * x + y * y
  })
}

/** What the linear fit costs with a shift of some sightings: soft weights first, then hard ones. And the shift. */
function quickLook(
  problem: Problem,
  linear: Linear,
  shifted: Uint8Array,
  unit: number,
): { cost: number; shift: number } | null {
  const { n } = linear
  const weights = Float64Array.from(linear.r, r => (r === null ? 0 : 1))
  let q: Float64Array | null = null
  for (let pass = 0; pass < 14; pass++) {
    const { H, g } = withShift(linear, weights, shifted, unit)
    q = solvePositive(H, g)
    if (q === null) return null
    const d2 = squaresAfter(linear, q, shifted, unit)
    let moved = 0
    problem.sightings.forEach((s, k) => {
      const soft = 1 / (1 + d2[k]! / 4)
      const w = s.use === 'always' ? 1 : pass < 8 ? soft : d2[k]! <= OUTLIER ? 1 : 0
      moved += Math.abs(w - weights[k]!)
      weights[k] = linear.r[k] === null ? 0 : w
    })
    if (pass >= 8 && moved === 0) break
  }
  if (q === null) return null
  let sum = linear.rest + q[n]! * q[n]!
  for (let i = 0; i < n; i++) {
    sum -= 2 * linear.g[i]! * q[i]!
    for (let j = 0; j <= i; j++) sum += (i === j ? 1 : 2) * linear.H.a[i * n + j]! * q[i]! * q[j]!
  }
  squaresAfter(linear, q, shifted, unit).forEach((d2, k) => {
    sum += weights[k] === 0 ? COST : d2
  })
  // The unknowns step by -q.
  return { cost: sum, shift: -q[n]! * unit }
}

interface Gap {
  before: number
  after: number
  shifted: Uint8Array
  shift: number
  hint: number
}

/** The gaps of an axis, in time order; at least two sightings on either side that share one zero. */
function gapsOf(problem: Problem, axis: Axis): Omit<Gap, 'shift' | 'hint'>[] {
  const order = problem.sightings
    .map((_, i) => i)
    .sort((a, b) => problem.sightings[a]!.utcMs - problem.sightings[b]!.utcMs)
  const runs = new Map<number, number[]>()
  for (const i of order) {
    const zero = problem.sightings[i]!.slots[AXIS_SLOTS[axis].zero]!
    runs.set(zero, [...(runs.get(zero) ?? []), i])
  }
  const out: Omit<Gap, 'shift' | 'hint'>[] = []
  for (const run of runs.values())
    for (let k = 2; k <= run.length - 2; k++) {
      const shifted = new Uint8Array(problem.sightings.length)
      for (const i of run.slice(k)) shifted[i] = 1
      out.push({ before: run[k - 1]!, after: run[k]!, shifted })
    }
  return out
}

/**
 * By how much a shift of some sightings lowers χ² with all weights as they are: the score test. Enough where nothing was
 * rejected, and hundreds of times quicker than the quick look.
 */
function scoreOf(linear: Linear, fit: Fitted, shifted: Uint8Array, unit: number): number {
  const { n } = linear
  const C = fit.covariance.a
  let cr = 0
  let cc = 1
  const cA = new Float64Array(n)
  linear.r.forEach((r, k) => {
    if (shifted[k] === 0 || r === null || fit.kept[k] === 0) return
    const row = linear.rows[k]!
    for (let half = 0; half < 2; half++) {
      const o = half * (n + 1)
      const c = unit * row[o + n]!
      cr += c * r[half]!
      cc += c * c
      for (let i = 0; i < n; i++) cA[i]! += c * row[o + i]!
    }
  })
  let explained = 0
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) explained += cA[i]! * C[i * n + j]! * cA[j]!
  const left = cc - explained
  return left > 1e-9 * cc ? (cr * cr) / left : 0
}

/** The gaps that promise most, best first. Where there are many, every so many first and then those near the best. */
function likelyGaps(problem: Problem, linear: Linear, axis: Axis, unit: number, fit: Fitted): Gap[] {
  const base = cost(fit)
  const isWhole = !fit.kept.includes(0)
  const gaps = gapsOf(problem, axis).filter(g => !isWhole || scoreOf(linear, fit, g.shifted, unit) >= STEP_HINT)
  const looked = new Map<number, Gap>()
  const look = (k: number) => {
    if (k < 0 || k >= gaps.length || looked.has(k)) return
    const quick = quickLook(problem, linear, gaps[k]!.shifted, unit)
    looked.set(k, { ...gaps[k]!, shift: quick?.shift ?? 0, hint: quick === null ? 0 : base - quick.cost })
  }
  const stride = Math.ceil(gaps.length / 40)
  for (let k = 0; k < gaps.length; k += stride) look(k)
  if (stride > 1) {
    const [best] = [...looked].sort((a, b) => b[1].hint - a[1].hint)
    if (best !== undefined && best[1].hint > 0) for (let k = best[0] - stride; k <= best[0] + stride; k++) look(k)
  }
  return [...looked.values()]
    .filter(g => g.hint >= STEP_HINT)
    .sort((a, b) => b.hint - a.hint)
    .slice(0, MOST_TRIED)
}

const shiftedBy = (problem: Problem, axis: Axis, shifted: Uint8Array, shift: number): Problem => ({
  ...problem,
  sightings: problem.sightings.map((s, k) =>
    shifted[k] === 1 ? { ...s, record: { ...s.record, [axis]: s.record[axis] + shift } } : s,
  ),
})

/** The whole fit with the readings after a gap put right. */
function fitWithStep(problem: Problem, axis: Axis, gap: Gap, unit: number) {
  let shift = gap.shift
  let fit: Fitted | null = null
  let sigma = 0
  for (let round = 0; round < 4; round++) {
    const mended = shiftedBy(problem, axis, gap.shifted, shift)
    fit = fit === null ? fitRobustly(mended) : rejectFrom(mended, fit.values, fit.kept)
    const linear = linearise(mended, fit.values, axis)
    const { H, g } = withShift(linear, fit.kept, gap.shifted, unit)
    const C = inversePositive(H)
    const last = C.n - 1
    sigma = unit * Math.sqrt(C.a[last * C.n + last]!)
    let move = 0
    for (let i = 0; i < C.n; i++) move -= C.a[last * C.n + i]! * g[i]!
    if (Math.abs(move) * unit < 0.05 * sigma) break
    shift += move * unit
  }
  return { fit: fit!, shift, sigma }
}

/** Two kept sightings on either side: one alone is a blunder that a shift has been found for. */
function isSupported(problem: Problem, axis: Axis, gap: Gap, fit: Fitted): boolean {
  const slot = AXIS_SLOTS[axis].zero
  const zero = problem.sightings[gap.after]!.slots[slot]
  const kept = (side: 0 | 1) =>
    problem.sightings.filter((s, k) => s.slots[slot] === zero && gap.shifted[k] === side && fit.kept[k] === 1).length
  return kept(0) >= 2 && kept(1) >= 2
}

const STEP_SETTLE =
  'Drive to the end stop or scribed line and read it; if it reads otherwise than before, record a change of that zero.'

/** Steps of a counter, by the sightings. */
export function counterSteps(station: Station, problem: Problem, fit: Fitted): Suspect[] {
  if (problem.sightings.length < 5) return []
  const base = cost(fit)
  const out: Suspect[] = []
  for (const axis of ['lower', 'upper'] as const) {
    const linear = linearise(problem, fit.values, axis)
    const { minReading, maxReading } = station.model[axis]
    const middle = trueAngle(
      station.model,
      builtAt(fit.values, problem.sightings[0]!.slots),
      axis,
      (minReading + maxReading) / 2,
    )
    const unit = middle.kind === 'angle' ? SHIFT / Math.abs(middle.perReading) : 1
    let found: Suspect | null = null
    for (const gap of likelyGaps(problem, linear, axis, unit, fit)) {
      const step = fitWithStep(problem, axis, gap, unit)
      if (!isSupported(problem, axis, gap, step.fit)) continue
      const deltaChi2 = base - cost(step.fit)
      if (deltaChi2 < STEP_EVIDENCE || (found !== null && found.deltaChi2 >= deltaChi2)) continue
      const from = problem.sightings[gap.before]!
      const to = problem.sightings[gap.after]!
      const at = trueAngle(station.model, builtAt(step.fit.values, to.slots), axis, to.record[axis] + step.shift)
      const perReading = at.kind === 'angle' ? at.perReading : 1
      const jump = step.shift * perReading
      const sigma = step.sigma * Math.abs(perReading)
      const said = stepText(station, axis, jump, sigma, perReading, from.utcMs, to.utcMs)
      found = {
        kind: 'counter-step',
        text: said.text,
        deltaChi2,
        settle: STEP_SETTLE,
        axis,
        between: [from.record.id, to.record.id],
        betweenUtc: [from.record.utc, to.record.utc],
        ...(said.counts === undefined ? {} : { counts: said.counts }),
        angleDeg: degFromRad(jump),
        sigmaDeg: degFromRad(sigma),
      }
    }
    if (found !== null) out.push(found)
  }
  // One step shakes the other axis's sightings too: the stronger explanation stands, the weaker only well on its own.
  out.sort((a, b) => b.deltaChi2 - a.deltaChi2)
  return out.filter((s, k) => k === 0 || s.deltaChi2 > 0.5 * out[0]!.deltaChi2)
}
