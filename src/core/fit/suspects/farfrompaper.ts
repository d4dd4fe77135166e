/**
 * A scale or arms far from paper, and lost motion beyond what is usual: the same fit with the prior of that unknown let
 * loose. Lost motion where no side of arrival was noted: the side is guessed from the way that the reading went.
 */
import { modelOf } from '../../mount/asbuilt.ts'
import { AXIS_NAMES } from '../../mount/names.ts'
import { AXIS_SLOTS } from '../../mount/readings.ts'
import { SLOT } from '../../mount/slots.ts'
import type { Axis, ParameterId } from '../../records/fieldbook.ts'
import { degFromRad, radFromDeg } from '../../units.ts'
import { chiSquares, type Problem } from '../map.ts'
import { cost, OUTLIER, refine } from '../reject.ts'
import { type Context, type Explanation, extended, fitOn, refit, startAt, withSlots } from './context.ts'
import { baseOf } from './gross.ts'
import { momentsWith } from './linear.ts'
import { scoreScan } from './scan.ts'

/** By so much a prior is let loose. */
const LOOSER = 10
const PENALTY = 3
/** A pull beyond this (σ, squared) is worth a fit. */
const HINT = 8
const LEAST_SCALE = -0.6
const MOST_SCALE = 1.2
const FEW = 100
/** Driven by this many σ of a sighting, for the way to be known. */
const TRAVEL = 10
/** Arrived within this of the sighting before: then the way that the reading went tells the side. */
const SAME_VISIT_MS = 12 * 3_600_000

const unknownsOf = (ctx: Context, slot: number): number[] => {
  const found = new Set<number>()
  for (const s of ctx.problem.sightings) if (s.slots[slot]! >= 0) found.add(s.slots[slot]!)
  return [...found]
}

/** The problem with some priors ten times as wide. */
function loosened(ctx: Context, indices: readonly number[]): Problem {
  const priorSigma = Float64Array.from(ctx.problem.priorSigma)
  for (const i of indices) priorSigma[i]! *= LOOSER
  return { ...ctx.problem, priorSigma }
}

/** By how much χ² falls when the prior goes: its pull, freed of what the sightings leave to it. */
function promise(ctx: Context, indices: readonly number[]): number {
  const { fit, problem } = ctx
  const { n, a } = fit.covariance
  return Math.max(
    0,
    ...indices.map(i => {
      const q = (fit.values[i]! - problem.priorValue[i]!) / problem.priorSigma[i]!
      return (q * q) / Math.max(1e-3, 1 - a[i * n + i]!)
    }),
  )
}

/** A scale in percent or arms in millimetres, far from paper. */
export function scalesFar(ctx: Context): Explanation[] {
  const { station, fit } = ctx
  const out: Explanation[] = []
  for (const axis of ['lower', 'upper'] as const) {
    const slots = AXIS_SLOTS[axis]
    const isJack = station.model[axis].readout.type === 'jack'
    const indices = isJack
      ? [...unknownsOf(ctx, slots.base), ...unknownsOf(ctx, slots.rod)]
      : unknownsOf(ctx, slots.scale)
    if (indices.length === 0 || (!ctx.isBad && promise(ctx, indices) < HINT)) continue
    const problem = loosened(ctx, indices)
    const refitted = refit(
      problem,
      [{ values: fit.values, kept: fit.kept }],
      ctx.isDesperate && ctx.problem.sightings.length < 500,
    )
    const name = AXIS_NAMES[station.model.kind][axis]
    // Turned about, or twice over: that is another fault, and no scale.
    if (!isJack && indices.some(i => refitted.values[i]! < LEAST_SCALE || refitted.values[i]! > MOST_SCALE)) continue
    const { n, a } = refitted.covariance
    const sigma = (i: number) => problem.priorSigma[i]! * Math.sqrt(Math.max(0, a[i * n + i]!))
    const far = indices.reduce((x, y) => (pull(ctx, refitted.values, y) > pull(ctx, refitted.values, x) ? y : x))
    const value = refitted.values[far]!
    const ids: ParameterId[] = isJack
      ? [`${axis}BaseArm` as ParameterId, `${axis}RodArm` as ParameterId]
      : [`${axis}Scale` as ParameterId]
    const size = isJack
      ? `one arm of its jack is ${Math.abs(value).toFixed(0)} ± ${sigma(far).toFixed(0)} mm ${value > 0 ? 'longer' : 'shorter'} than taped, or its counts per millimetre are not as noted`
      : `it turns ${Math.abs(100 * value).toFixed(1)} ± ${(100 * sigma(far)).toFixed(1)} % ${value > 0 ? 'more' : 'less'} than it reads`
    out.push({
      kind: 'scale-far',
      problem,
      fit: refitted,
      gain: cost(fit) - cost(refitted),
      penalty: PENALTY + (isJack ? 3 : 0),
      suspect: {
        text: `The scale of the ${name} axis is far from what was entered: ${size}.`,
        settle: isJack
          ? 'Tape both arms and the jack’s length again, and count over a measured stroke.'
          : 'Lay an inclinometer on it at two readings far apart, or count a whole known turn.',
        axis,
        offer: {
          type: 'priors',
          priors: ids.map(id => ({
            id,
            value: 0,
            sigma: LOOSER * ctx.problem.priorSigma[isJack ? far : indices[0]!]!,
          })),
        },
      },
    })
  }
  if (ctx.isDesperate) out.push(...countsPerMm(ctx))
  return out
}

/** A jack whose counts per millimetre are not as noted: the stroke is another. Tried at steps, then the best between them. */
function countsPerMm(ctx: Context): Explanation[] {
  const out: Explanation[] = []
  for (const axis of ['lower', 'upper'] as const) {
    const { readout } = ctx.station.model[axis]
    if (readout.type !== 'jack') continue
    const base = baseOf(ctx)
    const fitAt = (by: number) => {
      const problem: Problem = {
        ...base.problem,
        model: modelOf({
          ...base.problem.model,
          [axis]: { ...base.problem.model[axis], readout: { ...readout, countsPerMm: readout.countsPerMm * (1 + by) } },
        }),
      }
      const near = refine(problem, base.fit.values)
      const d2 = chiSquares(problem, near.values)
      return {
        by,
        problem,
        fit: fitOn(
          problem,
          near.values,
          Float64Array.from(d2, x => (x <= OUTLIER ? 1 : 0)),
        ),
      }
    }
    const tried = [-0.5, -0.2, -0.1, -0.05, 0.05, 0.1, 0.2, 1].map(fitAt)
    let best = tried.reduce((a, b) => (cost(b.fit) < cost(a.fit) ? b : a))
    for (let width = 0.3 * Math.abs(best.by); width > 0.003; width /= 2)
      for (const by of [best.by - width, best.by + width]) {
        const next = fitAt(by)
        if (cost(next.fit) < cost(best.fit)) best = next
      }
    const name = AXIS_NAMES[ctx.station.model.kind][axis]
    const counts = readout.countsPerMm * (1 + best.by)
    const record = ctx.station.record.mount[axis].readout
    out.push({
      kind: 'scale-far',
      problem: best.problem,
      fit: best.fit,
      gain: base.cost - cost(best.fit),
      penalty: PENALTY + 6,
      suspect: {
        text: `The scale of the ${name} axis is far from what was entered: its jack gives about ${counts.toFixed(2)} counts per millimetre, ${readout.countsPerMm} are noted.`,
        settle: 'Count over a stroke measured with a tape.',
        axis,
        ...(record.type === 'jack'
          ? {
              offer: { type: 'readout', axis, readout: { ...record, countsPerMm: Number(counts.toFixed(4)) } } as const,
            }
          : {}),
      },
    })
  }
  return out
}

const pull = (ctx: Context, values: Float64Array, i: number): number =>
  Math.abs(values[i]! - ctx.problem.priorValue[i]!) / ctx.problem.priorSigma[i]!

/** Lost motion: of an axis whose sides of arrival are noted, beyond what is usual; else by the way that the reading went. */
export function lostMotion(ctx: Context): Explanation[] {
  const { station, fit } = ctx
  const out: Explanation[] = []
  for (const axis of ['lower', 'upper'] as const) {
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
    const guessed = byTravel(ctx, axis, settle, name)
    if (guessed !== null) out.push(guessed)
  }
  return out
}

function byTravel(ctx: Context, axis: Axis, settle: string, name: string): Explanation | null {
  const { problem, fit } = ctx
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
    if (b.utcMs - a.utcMs > SAME_VISIT_MS) continue
    // A step no larger than the noise goes with the noise, not with the way that the axis was driven.
    const step = b.record[axis] - a.record[axis]
    if (Math.abs(step) * perReading[order[k]!]! < TRAVEL) continue
    sides[order[k]!] = Math.sign(step)
    known++
  }
  if (known < 6) return null
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
  if (promised < 12) return null
  const grown = extended(problem, [{ value: 0, sigma: 3 * sigma }])
  const slot = AXIS_SLOTS[axis].play
  const sightings = problem.sightings.map((s, k) => ({
    ...s,
    [axis === 'lower' ? 'lowerSide' : 'upperSide']: sides[k] as -1 | 0 | 1,
    slots: withSlots(s.slots, [[slot, grown.first]]),
  }))
  const moved: Problem = { ...grown.problem, sightings }
  const starts = [{ values: startAt(fit, [0]), kept: fit.kept }]
  // Where the plain fit has thrown out much, all of it may come back; with many sightings each such try is dear.
  if (sightings.length <= FEW)
    starts.push({ values: startAt(fit, [0]), kept: new Float64Array(sightings.length).fill(1) })
  const best = refit(moved, starts, false)
  const value = best.values[grown.first]!
  // The guess of the side is a guess: arriving low would be seen as the opposite sign, which no play has.
  if (value <= 0) return null
  const { n, a } = best.covariance
  const s = 3 * sigma * Math.sqrt(Math.max(0, a[grown.first * n + grown.first]!))
  return {
    kind: 'lost-motion',
    problem: moved,
    fit: best,
    gain: cost(fit) - cost(best),
    penalty: PENALTY + 6,
    suspect: {
      text: `The ${name} axis may have lost motion of about ${degFromRad(value).toFixed(2)} ± ${degFromRad(s).toFixed(2)}°: its misses go with the way in which it was driven.`,
      settle: `${settle} Note the side of arrival from now on.`,
      axis,
      angleDeg: degFromRad(value),
      sigmaDeg: degFromRad(s),
    },
  }
}
