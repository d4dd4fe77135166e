/** A scale or arms far from what was entered: the same fit with the prior of that unknown widened. */
import { modelOf } from '../../mount/asbuilt.ts'
import { AXES, AXIS_NAMES } from '../../mount/names.ts'
import { AXIS_SLOTS } from '../../mount/readings.ts'
import type { ParameterId } from '../../records/fieldbook.ts'
import { chiSquares, type Problem } from '../map.ts'
import { cost, OUTLIER, refine } from '../reject.ts'
import { type Context, type Explanation, fitOn, refit } from './context.ts'
import { baseOf } from './gross.ts'

/** The factor by which a prior is widened. */
export const LOOSER = 10
const PENALTY = 3
/** A pull beyond this (σ, squared) is worth a fit. */
export const HINT = 8
const LEAST_SCALE = -0.6
const MOST_SCALE = 1.2

export const unknownsOf = (ctx: Context, slot: number): number[] => {
  const found = new Set<number>()
  for (const s of ctx.problem.sightings) if (s.slots[slot]! >= 0) found.add(s.slots[slot]!)
  return [...found]
}

/** The problem with some priors ten times as wide. */
export function loosened(ctx: Context, indices: readonly number[]): Problem {
  const priorSigma = Float64Array.from(ctx.problem.priorSigma)
  for (const i of indices) priorSigma[i]! *= LOOSER
  return { ...ctx.problem, priorSigma }
}

/** By how much χ² falls when the prior goes: its pull, corrected for what the sightings do not determine. */
export function promise(ctx: Context, indices: readonly number[]): number {
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
  for (const axis of AXES) {
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
    // Reversed, or doubled: that is another fault, not a scale.
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

/** A jack whose counts per millimetre are not as noted: its stroke differs. Tried at steps, then refined between them. */
function countsPerMm(ctx: Context): Explanation[] {
  const out: Explanation[] = []
  for (const axis of AXES) {
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
