/**
 * Lost motion beyond what is usual: with the sides of arrival as they were noted; where none was, with the side guessed from the way that
 * the reading went, or from the side to which the dish's weight pulls.
 */
import { turningPoseAt } from '../../mount/asbuilt.ts'
import { AXES, AXIS_NAMES } from '../../mount/names.ts'
import { AXIS_SLOTS, trueAngle } from '../../mount/readings.ts'
import { SLOT } from '../../mount/slots.ts'
import type { Axis } from '../../records/fieldbook.ts'
import { degFromRad, HOUR_MS, radFromDeg } from '../../units.ts'
import { cross } from '../../vectors.ts'
import type { Problem } from '../map.ts'
import { cost } from '../reject.ts'
import { builtAt } from '../residuals.ts'
import { type Context, type Explanation, extended, refit, startAt, withSlots } from './context.ts'
import { HINT, LOOSER, loosened, promise, unknownsOf } from './farfrompaper.ts'
import { momentsWith } from './linear.ts'
import { scoreScan } from './scan.ts'

const PENALTY = 3
const FEW = 100
/** How fast the weight must be raised by an axis for it to have a side at all: an upright one has none. */
const BALANCE = 0.005
/** The axis must have been driven by this many σ of a sighting for its direction to be known. */
const TRAVEL = 10
/**
 * Arrived within this of the sighting before: then the way that the reading went tells the side. Not the gap between two visits
 * (records/visit.ts): there anything may have happened to the mount, here only the axis must not have been driven without a sighting, and a
 * night in which no target is up does not do that. Half a day, common practice, no source.
 */
const UNDRIVEN_MS = 12 * HOUR_MS

/**
 * Lost motion: of an axis whose sides of arrival are noted, beyond what is usual; else by the way that the reading went, or by the side of
 * balance, since the dish's weight holds the play to one side and lets it go to the other where the axis tips over.
 */
export function lostMotion(ctx: Context): Explanation[] {
  const { station, fit } = ctx
  const out: Explanation[] = []
  for (const axis of AXES) {
    const slot = AXIS_SLOTS[axis].play
    const indices = unknownsOf(ctx, slot)
    const name = AXIS_NAMES[station.model.kind][axis]
    const settle = `Drive to one target with the ${name} axis from either side, and note both readings.`
    if (indices.length > 0) {
      if (!ctx.isBad && promise(ctx, indices) < HINT) continue
      const problem = loosened(ctx, indices)
      const refitted = refit(problem, [{ values: fit.values, kept: fit.kept }], false)
      const i = indices[0]!
      const { n, a } = refitted.covariance
      const sigma = problem.priorSigma[i]! * Math.sqrt(Math.max(0, a[i * n + i]!))
      const value = refitted.values[i]!
      out.push({
        kind: 'lost-motion',
        problem,
        fit: refitted,
        gain: cost(fit) - cost(refitted),
        penalty: PENALTY,
        suspect: {
          text: `The ${name} axis has lost motion of ${Math.abs(degFromRad(value)).toFixed(2)} ± ${degFromRad(sigma).toFixed(2)}°${value < 0 ? ', with the sides of arrival noted the wrong way round' : ''}.`,
          settle,
          axis,
          angleDeg: degFromRad(value),
          sigmaDeg: degFromRad(sigma),
          offer: {
            type: 'priors',
            priors: [{ id: `${axis}Play`, value: 0, sigma: LOOSER * degFromRad(ctx.problem.priorSigma[i]!) }],
          },
        },
      })
      continue
    }
    out.push(...[byTravel(ctx, axis, settle, name), byBalance(ctx, axis, settle, name)].filter(e => e !== null))
  }
  return out
}

function byTravel(ctx: Context, axis: Axis, settle: string, name: string): Explanation | null {
  const { problem } = ctx
  if (problem.sightings.length < 8) return null
  const order = problem.sightings
    .map((_, i) => i)
    .sort((a, b) => problem.sightings[a]!.utcMs - problem.sightings[b]!.utcMs)
  const linear = ctx.linear()
  const perReading = new Float64Array(problem.sightings.length)
  const which = axis === 'lower' ? 0 : 1
  for (const { what, index, row } of linear.items)
    if (what === 'sighting')
      perReading[index] = Math.hypot(linear.perReading[2 * row + which]!, linear.perReading[2 * row + 2 + which]!)
  const sides = new Int8Array(problem.sightings.length)
  let known = 0
  for (let k = 1; k < order.length; k++) {
    const a = problem.sightings[order[k - 1]!]!
    const b = problem.sightings[order[k]!]!
    if (b.utcMs - a.utcMs > UNDRIVEN_MS) continue
    // A step no larger than the noise follows the noise, not the way that the axis was driven.
    const step = b.record[axis] - a.record[axis]
    if (Math.abs(step) * perReading[order[k]!]! < TRAVEL) continue
    sides[order[k]!] = Math.sign(step)
    known++
  }
  if (known < 6) return null
  // The guess of the side is a guess: arriving low would be seen as the opposite sign, which no play has.
  return bySides(ctx, axis, sides, PENALTY + 6, true, (value, sigma) => ({
    text: `The ${name} axis may have lost motion of about ${value} ± ${sigma}°: its misses go with the way in which it was driven.`,
    settle: `${settle} Note the side of arrival from now on.`,
  }))
}

/** Play that hangs to the side to which the weight pulls; where a counterweight is too heavy, to the other. */
function byBalance(ctx: Context, axis: Axis, settle: string, name: string): Explanation | null {
  const { problem, fit } = ctx
  if (problem.sightings.length < 8) return null
  const sides = new Int8Array(problem.sightings.length)
  const count = { up: 0, down: 0 }
  problem.sightings.forEach((s, k) => {
    const built = builtAt(fit.values, s.slots)
    const T = trueAngle(problem.model, built, 'lower', s.record.lower)
    const S = trueAngle(problem.model, built, 'upper', s.record.upper)
    if (T.kind !== 'angle' || S.kind !== 'angle') return
    const { b, lowerTurn, upperTurn } = turningPoseAt(problem.model, built, T.angle, S.angle, 'boresight')
    // How fast the dish's weight, out along its axis, is raised by the angle.
    const raised = cross(axis === 'lower' ? lowerTurn : upperTurn, b)[2]
    if (Math.abs(raised) < BALANCE) return
    sides[k] = raised < 0 ? 1 : -1
    count[raised < 0 ? 'down' : 'up']++
  })
  if (Math.min(count.up, count.down) < 4) return null
  return bySides(ctx, axis, sides, PENALTY + 8, false, (value, sigma) => ({
    text: `The ${name} axis may have lost motion of about ${value} ± ${sigma}°: its misses change where the dish’s weight goes over to the other side.`,
    settle: `${settle} Push the dish by hand on either side of its balance, power off, and see whether it gives.`,
  }))
}

/** The play of an axis, with the sides as they are guessed. @param isOneWay  a negative play is no explanation */
function bySides(
  ctx: Context,
  axis: Axis,
  sides: Int8Array,
  penalty: number,
  isOneWay: boolean,
  said: (value: string, sigma: string) => { text: string; settle: string },
): Explanation | null {
  const { problem, fit } = ctx
  const linear = ctx.linear()
  const sigma = radFromDeg(0.5)
  const c = new Float64Array(linear.r.length)
  const zero = axis === 'lower' ? SLOT.lowerZero : SLOT.upperZero
  linear.items.forEach(item => {
    if (item.what !== 'sighting' || sides[item.index] === 0) return
    const j = item.slots[zero]!
    for (let row = item.row; row < item.row + 2; row++)
      c[row] = (linear.A[row * linear.n + j]! / problem.priorSigma[j]!) * sigma * 0.5 * sides[item.index]!
  })
  const members = linear.items.flatMap((item, k) => (item.what === 'sighting' ? [k] : []))
  let promised = 0
  for (const which of fit.kept.includes(0) && members.length <= FEW
    ? (['kept', 'soft'] as const)
    : (['kept'] as const)) {
    const scores = scoreScan(linear, { m: 1, c }, linear[which], momentsWith(linear, which), members, true)
    promised = Math.max(promised, scores[0]!)
  }
  if (promised < 12 && !ctx.isBad) return null
  const grown = extended(problem, [{ value: 0, sigma: 3 * sigma }])
  const slot = AXIS_SLOTS[axis].play
  const sightings = problem.sightings.map((s, k) => ({
    ...s,
    [axis === 'lower' ? 'lowerSide' : 'upperSide']: sides[k] as -1 | 0 | 1,
    slots: withSlots(s.slots, [[slot, grown.first]]),
  }))
  const moved: Problem = { ...grown.problem, sightings }
  const starts = [{ values: startAt(fit, [0]), kept: fit.kept }]
  // Where the plain fit has thrown out much, all of it may come back; with many sightings each such try is costly.
  if (sightings.length <= FEW)
    starts.push({ values: startAt(fit, [0]), kept: new Float64Array(sightings.length).fill(1) })
  const best = refit(moved, starts, ctx.isDesperate && sightings.length <= FEW)
  const value = best.values[grown.first]!
  if (isOneWay && value <= 0) return null
  const { n, a } = best.covariance
  const s = 3 * sigma * Math.sqrt(Math.max(0, a[grown.first * n + grown.first]!))
  return {
    kind: 'lost-motion',
    problem: moved,
    fit: best,
    gain: cost(fit) - cost(best),
    penalty,
    suspect: {
      ...said(degFromRad(Math.abs(value)).toFixed(2), degFromRad(s).toFixed(2)),
      axis,
      angleDeg: degFromRad(Math.abs(value)),
      sigmaDeg: degFromRad(s),
    },
  }
}
