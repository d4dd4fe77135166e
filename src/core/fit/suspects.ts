/**
 * What the solution suspects: a counter that lost or gained counts, and a clock or longitude that is wrong against
 * measured levels. Each with its evidence as a Δχ², and what would settle it. It accuses; the person decides.
 */

import { turningPoseAt } from '../mount/asbuilt.ts'
import { AXIS_SLOTS, trueAngle } from '../mount/readings.ts'
import { SLOTS } from '../mount/slots.ts'
import { countsSteps } from '../readout/readout.ts'
import type { Axis } from '../records/fieldbook.ts'
import type { Suspect } from '../records/solution.ts'
import type { Station } from '../records/station.ts'
import { degFromRad, type Rad } from '../units.ts'
import { dot, type Vec3 } from '../vectors.ts'
import type { Problem } from './map.ts'
import { feedOf, type Reference, type Sighting } from './observations.ts'
import { type Parameters, parametersOf } from './parameters.ts'
import { cost, type Fitted, fitRobustly } from './reject.ts'
import { builtAt, offsetGradients, whitenedRows } from './residuals.ts'

/** A step must lower the cost by this much: one unknown, but many places to look (two axes, every gap). */
const STEP_EVIDENCE = 25
/** Before a whole fit is spent on a gap, the quick look must promise this much. */
const STEP_HINT = 15
const CLOCK_EVIDENCE = 15
/** References of one mark that disagree by more than this (χ², 1 in 10 000) show a step. */
const REFERENCE_EVIDENCE = 15.1
const CAP = 25
/** The sky's turn, rad per second. Sidereal; the Sun's is 0.3 % slower, the Moon's 3.6 %: no matter here. */
const SKY_RATE = 7.2921159e-5

interface Linear {
  /** Whitened residual and design (2 × SLOTS, in the priors' σ), by sighting. */
  r: [number, number][]
  A: Float64Array[]
}

function linearise(problem: Problem, fit: Fitted): Linear {
  const r: [number, number][] = []
  const A: Float64Array[] = []
  const built = new Float64Array(SLOTS)
  for (const s of problem.sightings) {
    const rows = new Float64Array(2 * SLOTS)
    const res = whitenedRows(problem.model, s, builtAt(fit.values, s.slots, built), rows)
    r.push(res ?? [Infinity, Infinity])
    A.push(rows)
  }
  return { r, A }
}

const byTime = (problem: Problem): number[] =>
  problem.sightings.map((_, i) => i).sort((a, b) => problem.sightings[a]!.utcMs - problem.sightings[b]!.utcMs)

interface Gap {
  axis: Axis
  /** Positions in time order: the step lies between order[k] and order[k + 1]. */
  before: number
  after: number
  hint: number
}

/** Quick looks at every gap: a score test on the kept, and whether one shift explains a whole side's residuals. */
function gapsWorthTrying(problem: Problem, fit: Fitted, linear: Linear): Gap[] {
  const order = byTime(problem)
  const out: Gap[] = []
  const n = problem.parameters.list.length
  for (const axis of ['lower', 'upper'] as const) {
    const slot = AXIS_SLOTS[axis].zero
    const runs = new Map<number, number[]>()
    for (const i of order) {
      const zero = problem.sightings[i]!.slots[slot]!
      runs.set(zero, [...(runs.get(zero) ?? []), i])
    }
    const found: Gap[] = []
    for (const run of runs.values()) {
      if (run.length < 4) continue
      // Score test from the end: cumulative cᵀr, cᵀc and cᵀA.
      let cr = 0
      let cc = 0
      const cA = new Float64Array(n)
      for (let k = run.length - 1; k > 1; k--) {
        const i = run[k]!
        const s = problem.sightings[i]!
        if (fit.kept[i] === 1) {
          const A = linear.A[i]!
          for (let row = 0; row < 2; row++) {
            const z = A[row * SLOTS + slot]!
            cr += z * linear.r[i]![row]!
            cc += z * z
            for (let p = 0; p < SLOTS; p++) {
              const j = s.slots[p]!
              if (j >= 0) cA[j]! += z * A[row * SLOTS + p]! * problem.priorSigma[j]!
            }
          }
        }
        if (run.length - k < 2) continue
        const left = cc - quadratic(fit.covariance.a, cA, n)
        const score = left > 1e-9 * cc && cc > 0 ? (cr * cr) / left : 0
        const shift = Math.max(shiftGain(linear, run.slice(k), slot), shiftGain(linear, run.slice(0, k), slot))
        found.push({ axis, before: run[k - 1]!, after: i, hint: Math.max(score, shift) })
      }
    }
    found.sort((a, b) => b.hint - a.hint)
    out.push(...found.slice(0, problem.sightings.length > 100 ? 1 : 3).filter(g => g.hint >= STEP_HINT))
  }
  return out
}

/** How much of the capped χ² of some sightings one common shift of the axis explains. */
function shiftGain(linear: Linear, members: readonly number[], slot: number): number {
  const shifts: number[] = []
  for (const i of members) {
    const x = linear.A[i]![slot]!
    const y = linear.A[i]![SLOTS + slot]!
    const r = linear.r[i]!
    const zz = x * x + y * y
    if (zz > 0 && Number.isFinite(r[0])) shifts.push(-(x * r[0] + y * r[1]) / zz)
  }
  if (shifts.length < 2) return 0
  shifts.sort((a, b) => a - b)
  const shift = shifts[Math.floor(shifts.length / 2)]!
  let gained = 0
  for (const i of members) {
    const r = linear.r[i]!
    if (!Number.isFinite(r[0])) continue
    const x = r[0] + linear.A[i]![slot]! * shift
    const y = r[1] + linear.A[i]![SLOTS + slot]! * shift
    gained += Math.min(CAP, r[0] * r[0] + r[1] * r[1]) - Math.min(CAP, x * x + y * y)
  }
  return gained
}

function quadratic(C: Float64Array, v: Float64Array, n: number): number {
  let sum = 0
  for (let i = 0; i < n; i++) {
    if (v[i] === 0) continue
    let inner = 0
    for (let j = 0; j < n; j++) inner += C[i * n + j]! * v[j]!
    sum += v[i]! * inner
  }
  return sum
}

/** The problem with the axis's zero starting anew at an instant; the sky is not asked again. */
function withStep(
  station: Station,
  problem: Problem,
  axis: Axis,
  utcMs: number,
): { problem: Problem; parameters: Parameters } {
  const record = {
    ...station.record,
    changes: [
      ...(station.record.changes ?? []),
      { id: 'supposed', utc: new Date(utcMs).toISOString(), what: [`${axis}-zero`] },
    ],
  }
  const parameters = parametersOf({ ...station, record })
  const feedFor = (s: Sighting) => feedOf(station, s.record.feed).id
  return {
    parameters,
    problem: {
      ...problem,
      parameters,
      sightings: problem.sightings.map(s => ({ ...s, slots: parameters.slotsAt(s.utcMs, feedFor(s)) })),
      levels: problem.levels.map(l => ({
        ...l,
        slots: parameters.slotsAt(Date.parse(l.record.utc), station.feeds[0]!.id),
        clamping: l.record.clamping === undefined ? -1 : parameters.clampingIndex(l.record.clamping),
      })),
      references: problem.references.map(r => ({
        ...r,
        slots: parameters.slotsAt(r.utcMs, station.feeds[0]!.id),
        mark: parameters.markIndex(r.record.axis, r.record.mark),
      })),
      priorValue: Float64Array.from(parameters.list, p => p.prior.value),
      priorSigma: Float64Array.from(parameters.list, p => p.prior.sigma),
    },
  }
}

const axisWord = (axis: Axis): string => (axis === 'lower' ? 'lower' : 'upper')
const shortUtc = (ms: number): string => `${new Date(ms).toISOString().slice(0, 16).replace('T', ' ')} UTC`

/** In the words of a counter: how far off, which way. A true angle larger than read means that counts went missing. */
function stepText(
  station: Station,
  axis: Axis,
  jump: Rad,
  sigma: Rad,
  perReading: number,
  from: number,
  to: number,
): { text: string; counts?: number } {
  const where = `between ${shortUtc(from)} and ${shortUtc(to)}`
  if (!countsSteps(station.model[axis].readout)) {
    const size = `${Math.abs(degFromRad(jump)).toFixed(2)} ± ${degFromRad(sigma).toFixed(2)}°`
    return {
      text: `The ${axisWord(axis)} axis reads ${size} ${jump > 0 ? 'less' : 'more'} than before, since ${where}.`,
    }
  }
  const counts = jump / perReading
  const size = `${Math.abs(counts).toFixed(0)} ± ${Math.abs(sigma / perReading).toFixed(0)} counts`
  return { text: `The ${axisWord(axis)} counter ${counts > 0 ? 'lost' : 'gained'} about ${size}, ${where}.`, counts }
}

const STEP_SETTLE =
  'Drive to the end stop or scribed line and read it; if it reads otherwise than before, record a change of that zero.'

/** Steps of a counter, by the sightings. */
function counterSteps(station: Station, problem: Problem, fit: Fitted): Suspect[] {
  if (problem.sightings.length < 5) return []
  const linear = linearise(problem, fit)
  const base = cost(fit)
  const found = new Map<Axis, Suspect>()
  for (const gap of gapsWorthTrying(problem, fit, linear)) {
    const from = problem.sightings[gap.before]!
    const to = problem.sightings[gap.after]!
    const stepped = withStep(station, problem, gap.axis, to.utcMs)
    const refit = fitRobustly(stepped.problem)
    const deltaChi2 = base - cost(refit)
    const previous = found.get(gap.axis)
    if (deltaChi2 < STEP_EVIDENCE || (previous && previous.deltaChi2 >= deltaChi2)) continue
    const slot = AXIS_SLOTS[gap.axis].zero
    const feed = feedOf(station, to.record.feed).id
    const i = stepped.parameters.slotsAt(from.utcMs, feed)[slot]!
    const j = stepped.parameters.slotsAt(to.utcMs, feed)[slot]!
    const jump = refit.values[j]! - refit.values[i]!
    const n = refit.covariance.n
    const C = refit.covariance.a
    const scale = stepped.problem.priorSigma[i]!
    const sigma = scale * Math.sqrt(Math.max(0, C[i * n + i]! + C[j * n + j]! - 2 * C[i * n + j]!))
    const at = trueAngle(
      station.model,
      builtAt(refit.values, stepped.problem.sightings[gap.after]!.slots),
      gap.axis,
      to.record[gap.axis],
    )
    const perReading = at.kind === 'angle' ? at.perReading : 1
    const said = stepText(station, gap.axis, jump, sigma, perReading, from.utcMs, to.utcMs)
    found.set(gap.axis, {
      kind: 'counter-step',
      text: said.text,
      deltaChi2,
      settle: STEP_SETTLE,
      axis: gap.axis,
      between: [from.record.id, to.record.id],
      betweenUtc: [from.record.utc, to.record.utc],
      ...(said.counts === undefined ? {} : { counts: said.counts }),
      angleDeg: degFromRad(jump),
      sigmaDeg: degFromRad(sigma),
    })
  }
  // One step shakes the other axis's sightings too: the stronger explanation stands, the weaker only well on its own.
  const list = [...found.values()].sort((a, b) => b.deltaChi2 - a.deltaChi2)
  return list.filter((s, k) => k === 0 || s.deltaChi2 > 0.5 * list[0]!.deltaChi2)
}

/**
 * References of one mark within one value of the zero must agree; those that do not show a step, and are kept out of the
 * fit (they would bend the scale). @returns the consistent ones, and what the others show
 */
export function consistentReferences(
  station: Station,
  problem: Pick<Problem, 'references' | 'priorValue' | 'priorSigma'>,
): { agreed: Reference[]; steps: Suspect[] } {
  const groups = new Map<string, Reference[]>()
  for (const ref of problem.references) {
    const zero = ref.slots[AXIS_SLOTS[ref.record.axis].zero]!
    const key = `${zero} ${ref.mark}`
    groups.set(key, [...(groups.get(key) ?? []), ref])
  }
  const agreed: Reference[] = []
  const steps: Suspect[] = []
  for (const group of groups.values()) {
    const sorted = [...group].sort((a, b) => a.utcMs - b.utcMs)
    const angles = sorted.map(r => {
      const at = trueAngle(station.model, builtAt(problem.priorValue, r.slots), r.record.axis, r.record.reading)
      return at.kind === 'angle' ? at : null
    })
    let isBroken = false
    for (let k = 1; k < sorted.length; k++) {
      const a = angles[k - 1]
      const b = angles[k]
      if (!a || !b) continue
      const before = sorted[k - 1]!
      const after = sorted[k]!
      const sigma = Math.hypot(before.sigma, after.sigma)
      // The mark stayed, the reading moved: what the zero must have jumped by.
      const jump = a.angle - b.angle
      const chi2 = (jump / sigma) ** 2
      if (chi2 < REFERENCE_EVIDENCE) continue
      isBroken = true
      const axis = before.record.axis
      const said = stepText(station, axis, jump, sigma, b.perReading, before.utcMs, after.utcMs)
      steps.push({
        kind: 'counter-step',
        text: `${said.text} The mark "${before.record.mark}" read ${before.record.reading}, then ${after.record.reading}.`,
        deltaChi2: chi2,
        settle:
          'Record a change of that zero at the moment when it slipped, if it is known, else at the later reading of the mark.',
        axis,
        between: [before.record.id, after.record.id],
        betweenUtc: [before.record.utc, after.record.utc],
        ...(said.counts === undefined ? {} : { counts: said.counts }),
        angleDeg: degFromRad(jump),
        sigmaDeg: degFromRad(sigma),
      })
    }
    if (!isBroken) agreed.push(...group)
  }
  return { agreed, steps }
}

/** A clock or longitude error: the sightings cannot show it, measured levels can. */
function clockAgainstLevels(station: Station, problem: Problem, fit: Fitted): Suspect[] {
  const rows = problem.levels.length
  if (rows === 0 || problem.sightings.length === 0) return []
  const { values } = fit
  const n = values.length
  const P: Vec3 = [0, Math.cos(station.site.lat), Math.sin(station.site.lat)]
  const built = new Float64Array(SLOTS)
  const partials = new Float64Array(2 * SLOTS)
  let cr = 0
  let cc = 0
  const cA = new Float64Array(n)
  problem.sightings.forEach((s, k) => {
    const type = s.record.target.type
    if (fit.kept[k] === 0 || type === 'landmark' || type === 'geostationary') return
    builtAt(values, s.slots, built)
    const r = whitenedRows(problem.model, s, built, partials)
    const T = trueAngle(problem.model, built, 'lower', s.record.lower, s.lowerSide)
    const S = trueAngle(problem.model, built, 'upper', s.record.upper, s.upperSide)
    if (r === null || T.kind !== 'angle' || S.kind !== 'angle') return
    const { gx, gy } = offsetGradients(turningPoseAt(problem.model, built, T.angle, S.angle, s.line), s.t)
    // A clock that is fast by δ puts the target too far on: turning the sky back about the pole mends it.
    const x = -SKY_RATE * dot(gx, P)
    const y = -SKY_RATE * dot(gy, P)
    const c = [s.w11 * x, s.w21 * x + s.w22 * y] as const
    for (let row = 0; row < 2; row++) {
      cr += c[row]! * r[row]!
      cc += c[row]! * c[row]!
      for (let p = 0; p < SLOTS; p++) {
        const j = s.slots[p]!
        if (j >= 0) cA[j]! += c[row]! * partials[row * SLOTS + p]! * problem.priorSigma[j]!
      }
    }
  })
  const left = cc - quadratic(fit.covariance.a, cA, n)
  if (!(left > 1e-9 * cc)) return []
  const deltaChi2 = (cr * cr) / left
  const seconds = -cr / left
  const sigma = 1 / Math.sqrt(left)
  if (deltaChi2 < CLOCK_EVIDENCE || Math.abs(seconds) < 10) return []
  const lon = (seconds * SKY_RATE * 180) / Math.PI
  const fast = seconds > 0
  return [
    {
      kind: 'clock-or-longitude',
      text:
        `The sightings and the measured levels do not go together unless the clock is ${Math.abs(seconds).toFixed(0)} ± ${sigma.toFixed(0)} s ` +
        `${fast ? 'fast' : 'slow'}, or the longitude ${Math.abs(lon).toFixed(2)}° too far ${fast ? 'east' : 'west'}.`,
      deltaChi2,
      settle:
        'Compare the clock with a time signal and the longitude with a position fix; or measure the level again, reversed.',
      clockS: seconds,
      sigmaS: sigma,
      longitudeDeg: lon,
    },
  ]
}

/** All that the fit suspects, strongest first. */
export function suspectsOf(station: Station, problem: Problem, fit: Fitted, foreseen: Suspect[]): Suspect[] {
  const bySightings = counterSteps(station, problem, fit)
  const steps = [...foreseen]
  for (const s of bySightings) {
    const same = steps.find(
      r =>
        r.kind === s.kind &&
        r.axis === s.axis &&
        r.betweenUtc![0] <= s.betweenUtc![1] &&
        s.betweenUtc![0] <= r.betweenUtc![1],
    )
    if (same) same.deltaChi2 += s.deltaChi2
    else steps.push(s)
  }
  return [...steps, ...clockAgainstLevels(station, problem, fit)].sort((a, b) => b.deltaChi2 - a.deltaChi2)
}
