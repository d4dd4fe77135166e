/**
 * What the solution suspects: a counter that lost or gained counts, and a clock or longitude that is wrong against
 * measured levels. Each with its evidence as a Δχ², and what would settle it. It accuses; the person decides.
 */

import { turningPoseAt } from '../mount/asbuilt.ts'
import { AXIS_SLOTS, trueAngle } from '../mount/readings.ts'
import { SLOTS } from '../mount/slots.ts'
import type { Suspect } from '../records/solution.ts'
import type { Station } from '../records/station.ts'
import { apply, rotation } from '../rotations.ts'
import { degFromRad } from '../units.ts'
import { dot, type Vec3 } from '../vectors.ts'
import { counterSteps, stepText } from './countersteps.ts'
import { type Problem, posterior } from './map.ts'
import type { Reference, Sighting } from './observations.ts'
import { cost, type Fitted, rejectFrom } from './reject.ts'
import { builtAt, offsetGradients, whitenedRows } from './residuals.ts'

const CLOCK_EVIDENCE = 15
/** References of one mark that disagree by more than this (χ², 1 in 10 000) show a step. */
const REFERENCE_EVIDENCE = 15.1
/** The sky's turn, rad per second. Sidereal; the Sun's is 0.3 % slower, the Moon's 3.6 %: no matter here. */
const SKY_RATE = 7.2921159e-5

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

/** True for a target that the turning sky carries along. */
const isCarried = (s: Sighting): boolean =>
  s.record.target.type !== 'landmark' && s.record.target.type !== 'geostationary'

/** How the fit would move if the clock were fast: cᵀr, and cᵀc less what the other unknowns take over. Seconds. */
function clockScore(problem: Problem, values: Float64Array, kept: Float64Array, P: Vec3): { cr: number; left: number } {
  const n = values.length
  const built = new Float64Array(SLOTS)
  const partials = new Float64Array(2 * SLOTS)
  let cr = 0
  let cc = 0
  const cA = new Float64Array(n)
  problem.sightings.forEach((s, k) => {
    if (kept[k] === 0 || !isCarried(s)) return
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
  const left = cc - quadratic(posterior(problem, values, kept).a, cA, n)
  return { cr, left: left > 1e-9 * cc ? left : 0 }
}

/** The sky as it was so many seconds earlier. */
function skyEarlier(problem: Problem, seconds: number, P: Vec3): Problem {
  // Seen from the ground the sky turns left about the north pole: earlier is to the right.
  const back = rotation(P, seconds * SKY_RATE)
  return { ...problem, sightings: problem.sightings.map(s => (isCarried(s) ? { ...s, t: apply(back, s.t) } : s)) }
}

/** A clock or longitude error: the sightings cannot show it, measured levels can. */
function clockAgainstLevels(station: Station, problem: Problem, fit: Fitted): Suspect[] {
  if (problem.levels.length === 0 || problem.sightings.length < 4) return []
  const P: Vec3 = [0, Math.cos(station.site.lat), Math.sin(station.site.lat)]
  const first = clockScore(problem, fit.values, fit.kept, P)
  if (first.left === 0 || first.cr ** 2 / first.left < 0.7 * CLOCK_EVIDENCE) return []
  let seconds = -first.cr / first.left
  let { left } = first
  let refit = fit
  for (let round = 0; round < 4; round++) {
    const turned = skyEarlier(problem, seconds, P)
    // Under the wrong clock the sightings that go worst with the levels may have been rejected: they may come back.
    refit = rejectFrom(turned, refit.values, refit.kept)
    const again = clockScore(turned, refit.values, refit.kept, P)
    if (again.left === 0) return []
    left = again.left
    if (Math.abs(again.cr) < 0.01 * Math.sqrt(left)) break
    seconds -= again.cr / left
  }
  const deltaChi2 = cost(fit) - cost(refit)
  const sigma = 1 / Math.sqrt(left)
  if (!(deltaChi2 >= CLOCK_EVIDENCE) || Math.abs(seconds) < 10) return []
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
