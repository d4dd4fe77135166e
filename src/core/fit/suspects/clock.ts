/**
 * A clock or a longitude that is wrong. Sightings do not show it, since a turned sky looks like a turned mount: it shows
 * against measured levels and priors, and by whole hours where Sun and Moon then do not go together.
 */
import { quadraticForm } from '../../matrices.ts'
import { turningPoseAt } from '../../mount/asbuilt.ts'
import { trueAngle } from '../../mount/readings.ts'
import { SLOTS } from '../../mount/slots.ts'
import { targetFromRecord } from '../../records/stationintake.ts'
import { apply, rotation } from '../../rotations.ts'
import { apparentPlace } from '../../sky/targets.ts'
import { degFromRad, HOUR_S, radFromDeg } from '../../units.ts'
import { dot, type Vec3 } from '../../vectors.ts'
import type { Problem } from '../map.ts'
import { bandOf } from '../methods.ts'
import { cost, type Fitted } from '../reject.ts'
import { builtAt, offsetGradients, whitenedRows } from '../residuals.ts'
import type { Sighting } from '../sighting.ts'
import { type Context, type Explanation, fitAfresh, fitOn } from './context.ts'
import { baseOf } from './gross.ts'

/** The sky's turn, rad per second. Sidereal; the Sun's is 0.3 % slower, the Moon's 3.6 %: no matter here. */
const SKY_RATE = 7.2921159e-5
/** The score must promise this much (χ²) before the sky is turned and the fit made again. */
const HINT = 7
/** A smaller error is no reason to suspect the clock. */
const LEAST_S = 10
/** One unknown; a wrong clock is common. Whole hours and the sign of a longitude are a few places to look. */
const PENALTY = 1.5
const PENALTY_WHOLE = 12

/** True for a target that the turning sky carries along. */
const isCarried = (s: Sighting): boolean =>
  s.record.target.type !== 'landmark' && s.record.target.type !== 'geostationary'

/** How the fit would move if the clock were fast: cᵀr, and cᵀc less what the other unknowns take over. Seconds. */
function clockScore(problem: Problem, fit: Fitted, P: Vec3): { cr: number; left: number } {
  const { values, kept } = fit
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
    // A clock that is fast by δ puts the target too far on: turning the sky back about the pole corrects it.
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
  const left = cc - quadraticForm(fit.covariance.a, n, cA)
  return { cr, left: left > 1e-9 * cc ? left : 0 }
}

/** The problem with the sky as it was `seconds` earlier. */
function skyEarlier(problem: Problem, seconds: number, P: Vec3): Problem {
  // Seen from the ground the sky turns left about the north pole: earlier is to the right.
  const back = rotation(P, seconds * SKY_RATE)
  return { ...problem, sightings: problem.sightings.map(s => (isCarried(s) ? { ...s, t: apply(back, s.t) } : s)) }
}

/** Of the clock, and of the longitude that would do the same. */
const sizeOf = (seconds: number) => ({ clockS: seconds, longitudeDeg: degFromRad(seconds * SKY_RATE) })

function saidOf(seconds: number, sigma: number) {
  const lon = sizeOf(seconds).longitudeDeg
  const fast = seconds > 0
  return {
    text:
      `The sightings and the measured levels do not agree unless the clock is ${Math.abs(seconds).toFixed(0)} ± ${sigma.toFixed(0)} s ` +
      `${fast ? 'fast' : 'slow'}, or the longitude ${Math.abs(lon).toFixed(2)}° too far ${fast ? 'east' : 'west'}.`,
    settle:
      'Compare the clock with a time signal and the longitude with a position fix; or measure the level again, reversed.',
    ...sizeOf(seconds),
    sigmaS: sigma,
  }
}

function byScore(ctx: Context, P: Vec3): Explanation[] {
  const { problem, fit } = ctx
  const first = clockScore(problem, fit, P)
  if (first.left === 0 || first.cr ** 2 / first.left < HINT) return []
  let seconds = -first.cr / first.left
  let { left } = first
  let refit = fit
  let turned = problem
  for (let round = 0; round < 4; round++) {
    turned = skyEarlier(problem, seconds, P)
    // With the wrong clock the sightings that disagree most with the levels may have been rejected: now they may come back.
    refit = fitOn(turned, refit.values, refit.kept)
    const again = clockScore(turned, refit, P)
    if (again.left === 0) return []
    left = again.left
    if (Math.abs(again.cr) < 0.01 * Math.sqrt(left)) break
    seconds -= again.cr / left
  }
  if (Math.abs(seconds) < LEAST_S) return []
  return [
    {
      kind: 'clock-or-longitude',
      problem: turned,
      fit: refit,
      gain: cost(fit) - cost(refit),
      penalty: PENALTY,
      suspect: saidOf(seconds, 1 / Math.sqrt(left)),
    },
  ]
}

/** Summer time, a time zone's hour, an hour's slip either way; and a longitude with the other sign. */
function byHours(ctx: Context, P: Vec3): Explanation[] {
  const base = baseOf(ctx)
  const { station } = ctx
  const out: Explanation[] = []
  const weigh = (problem: Problem, seconds: number, text: string, settle: string) => {
    const fit = fitAfresh(problem)
    const gain = base.cost - cost(fit)
    const suspect = { ...sizeOf(seconds), text, settle }
    out.push({ kind: 'clock-or-longitude', problem, fit, gain, penalty: PENALTY_WHOLE, suspect })
  }
  for (const hours of [-2, -1, 1, 2]) {
    const seconds = HOUR_S * hours
    const problem: Problem = {
      ...base.problem,
      sightings: base.problem.sightings.map(s => {
        if (!isCarried(s)) return s
        const ms = s.utcMs - 1000 * seconds
        return {
          ...s,
          t: apparentPlace(targetFromRecord(s.record.target), ms, station.site, bandOf(s.record.method)).direction,
        }
      }),
    }
    weigh(
      problem,
      seconds,
      `The clock seems to be ${Math.abs(hours)} ${Math.abs(hours) === 1 ? 'hour' : 'hours'} ${hours > 0 ? 'fast' : 'slow'}, as when local or summer time was noted for UTC.`,
      'Compare the clock with a time signal, and see that times are noted in UTC.',
    )
  }
  const lonDeg = station.record.site.lonDeg
  if (Math.abs(lonDeg) > 2) {
    const seconds = radFromDeg(2 * lonDeg) / SKY_RATE
    const problem = skyEarlier(base.problem, seconds, P)
    weigh(
      problem,
      seconds,
      `The longitude seems to have the wrong sign: east is positive, and ${lonDeg}° is ${lonDeg > 0 ? 'east' : 'west'}.`,
      'Compare the longitude with a position fix.',
    )
  }
  return out
}

export function clocks(ctx: Context): Explanation[] {
  const { problem, station } = ctx
  if (problem.sightings.length < 4) return []
  const P: Vec3 = [0, Math.cos(station.site.lat), Math.sin(station.site.lat)]
  const found = problem.levels.length > 0 ? byScore(ctx, P) : []
  return ctx.isDesperate ? [...found, ...byHours(ctx, P)] : found
}
