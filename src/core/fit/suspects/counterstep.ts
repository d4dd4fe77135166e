/**
 * A counter that lost or gained counts: is there an instant from which on one axis reads too little or too much by one and
 * the same amount, in sightings, marks and levels alike? The unknown is a shift of the reading, so that a jack's counts stay
 * counts over the whole stroke.
 *
 * Every gap is looked at in the linear fit (score test and rescue scan); the likely ones are fitted. The interval reported is
 * the narrowest that sightings and marks allow together.
 */
import { AXES } from '../../mount/names.ts'
import { AXIS_SLOTS, trueAngle } from '../../mount/readings.ts'
import { SLOT } from '../../mount/slots.ts'
import { countsSteps } from '../../readout/readout.ts'
import type { Axis } from '../../records/fieldbook.ts'
import { utcFromMs } from '../../records/instant.ts'
import { degFromRad, type UtcMs } from '../../units.ts'
import { chiSquares, type Problem } from '../map.ts'
import { slipSigma } from '../parameters.ts'
import { COST, cost, type Fitted, OUTLIER } from '../reject.ts'
import { builtAt } from '../residuals.ts'
import {
  type Context,
  type Explanation,
  extended,
  fitOn,
  refit,
  startAt,
  withoutBrokenMarks,
  withSlots,
} from './context.ts'
import { type Linear, shiftColumn } from './linear.ts'
import { consistentReferences, type MarkStep, markText, STEP_SETTLE, stepText } from './marks.ts'
import { likelyPlaces } from './places.ts'
import { type QuickLook, quickLook } from './quicklook.ts'

/** Gaps of an axis that are fitted. */
const MOST_TRIED = 3
/** In addition to the places looked at: one unknown, and how rarely a counter slips. */
const PENALTY = 8
/** A gap that costs this much more (χ²) than the best is excluded: 2 σ. */
const EXCLUDED = 4

interface Run {
  /** Items of the linear problem that involve the axis, within one span of its zero, in order of time. */
  members: number[]
  shiftIndex: number
}

/** The spans between changes of an axis's zero, in order of time. */
function runsOf(linear: Linear, axis: Axis): Run[] {
  const { zero, shift } = AXIS_SLOTS[axis]
  const runs = new Map<string, Run>()
  linear.items.forEach((item, k) => {
    if (!item[axis]) return
    const key = `${item.slots[zero]} ${item.slots[shift]}`
    const run = runs.get(key) ?? { members: [], shiftIndex: item.slots[shift]! }
    run.members.push(k)
    runs.set(key, run)
  })
  return [...runs.values()]
}

/** The whole problem with a counter that slipped before member k of a run. */
function slippedAt(
  ctx: Context,
  axis: Axis,
  run: Run,
  k: number,
): { problem: Problem; whole: Problem; index: number; broken: number } {
  const { whole, station } = ctx
  const linear = ctx.linear()
  const sigma = slipSigma(station, axis)
  const { problem, first } = extended(whole, [{ value: 0, sigma }])
  const slot = axis === 'lower' ? SLOT.lowerShift : SLOT.upperShift
  const lists = { sighting: [...problem.sightings], level: [...problem.levels], reference: [...problem.references] }
  for (const at of run.members.slice(k)) {
    const { what, index } = linear.items[at]!
    const slots = withSlots(lists[what][index]!.slots, [[slot, first]])
    lists[what][index] = { ...lists[what][index]!, slots } as never
  }
  const moved = { ...problem, sightings: lists.sighting, levels: lists.level, references: lists.reference }
  return { ...withoutBrokenMarks(station, moved), whole: moved, index: first }
}

interface Tried {
  axis: Axis
  run: Run
  k: number
  problem: Problem
  whole: Problem
  fit: Fitted
  index: number
  cost: number
}

function tryGap(ctx: Context, axis: Axis, run: Run, k: number, look: QuickLook | null, afresh: boolean): Tried {
  const { problem, whole, index, broken } = slippedAt(ctx, axis, run, k)
  const linear = ctx.linear()
  const starts: { values: Float64Array; kept: Float64Array }[] = []
  if (look !== null) {
    const values = startAt(ctx.fit, [look.added[0]! * problem.priorSigma[index]!])
    look.moved.forEach((q, i) => {
      values[i]! += q * problem.priorSigma[i]!
    })
    const kept = new Float64Array(problem.sightings.length)
    linear.items.forEach((item, at) => {
      if (item.what === 'sighting') kept[item.index] = look.weights[at]! > 0 ? 1 : 0
    })
    starts.push({ values, kept })
  } else starts.push({ values: startAt(ctx.fit, [0]), kept: ctx.fit.kept })
  const fit = refit(problem, starts, afresh)
  return { axis, run, k, problem, whole, fit, index, cost: cost(fit) + broken }
}

/** The same, on from a fit of a neighbouring gap: what is rejected is judged again for the shift as found. */
function neighbour(ctx: Context, from: Tried, k: number): Tried {
  const { problem, whole, index, broken } = slippedAt(ctx, from.axis, from.run, k)
  const d2 = chiSquares(problem, from.fit.values)
  const kept = Float64Array.from(problem.sightings, (s, i) =>
    d2[i]! < Infinity && (s.use === 'always' || d2[i]! <= OUTLIER) ? 1 : 0,
  )
  const fit = fitOn(problem, from.fit.values, kept)
  return { ...from, k, problem, whole, fit, index, cost: cost(fit) + broken }
}

/** Two kept sightings on either side, or marks: one alone is a blunder that a shift has been found for. */
function isSupported(ctx: Context, t: Tried): boolean {
  const linear = ctx.linear()
  const count = (list: readonly number[]) =>
    list.reduce((sum, at) => {
      const item = linear.items[at]!
      return sum + (item.what === 'sighting' ? t.fit.kept[item.index]! : item.what === 'level' ? 1 : 0)
    }, 0)
  return count(t.run.members.slice(0, t.k)) >= 2 && count(t.run.members.slice(t.k)) >= 2
}

/** The narrowest interval that is not excluded, as gaps k of the run; the gaps beside the best are fitted for it. */
function narrowest(ctx: Context, best: Tried, from: number, to: number): { best: Tried; first: number; last: number } {
  let top = best
  const costs = new Map<number, number>([[best.k, best.cost]])
  const most = ctx.problem.sightings.length > 1000 ? 2 : 12
  for (const way of [-1, 1]) {
    let at = best
    for (let k = best.k + way, steps = 0; k >= from && k <= to && steps < most; k += way, steps++) {
      at = neighbour(ctx, at, k)
      costs.set(k, at.cost)
      if (at.cost < top.cost) top = at
      if (at.cost > top.cost + 2 * COST) break
    }
  }
  let first = top.k
  let last = top.k
  while ((costs.get(first - 1) ?? Infinity) < top.cost + EXCLUDED) first--
  while ((costs.get(last + 1) ?? Infinity) < top.cost + EXCLUDED) last++
  return { best: top, first, last }
}

/** Just after the last of the old span, so that all that follows belongs to the new one. */
export function justAfter(before: UtcMs, after: UtcMs): string {
  const ms = Math.min(before + 1000, (before + after) / 2)
  const whole = Math.ceil(ms / 1000) * 1000
  const at = whole > before && whole <= after ? whole : ms
  return utcFromMs(at)
}

function explained(ctx: Context, tried: Tried, broken: readonly MarkStep[], base: number): Explanation {
  const { station } = ctx
  const linear = ctx.linear()
  const { axis, run } = tried
  const mark = broken.find(s => s.axis === axis && run.members.some(at => linear.items[at]!.id === s.before.record.id))
  const position = (id: string) => run.members.findIndex(at => linear.items[at]!.id === id)
  const range = mark
    ? [position(mark.before.record.id) + 1, position(mark.after.record.id)]
    : [1, run.members.length - 1]
  const { best, first, last } = narrowest(ctx, tried, range[0]!, range[1]!)
  const itemAt = (k: number) => linear.items[run.members[k]!]!
  const before = itemAt(first - 1)
  const after = itemAt(last)
  const shift = best.fit.values[best.index]!
  const C = best.fit.covariance
  const sigmaShift = Math.sqrt(C.a[best.index * C.n + best.index]!) * best.problem.priorSigma[best.index]!
  const lately = ctx.whole.sightings.find(s => s.record.id === itemAt(best.k).id)
  const middle = (station.model[axis].minReading + station.model[axis].maxReading) / 2
  const slots = itemAt(best.k).slots
  const at = trueAngle(station.model, builtAt(best.fit.values, slots), axis, (lately?.record[axis] ?? middle) + shift)
  const perReading = at.kind === 'angle' ? at.perReading : 1
  const jump = shift * perReading
  const sigma = sigmaShift * Math.abs(perReading)
  const said = stepText(station, axis, jump, sigma, perReading, before.utcMs, after.utcMs)
  const isJack = station.model[axis].readout.type === 'jack'
  return {
    kind: 'counter-step',
    problem: best.problem,
    whole: best.whole,
    fit: best.fit,
    gain: base - best.cost,
    penalty: PENALTY + 2 * Math.log(2 * Math.max(1, run.members.length - 1)),
    suspect: {
      text: mark ? `${said.text} ${markText(mark.before, mark.after)}` : said.text,
      settle: STEP_SETTLE,
      axis,
      between: [before.id, after.id],
      ...(mark && { marks: [mark.before.record.id, mark.after.record.id] as [string, string] }),
      betweenUtc: [before.utc, after.utc],
      ...(said.counts === undefined ? {} : { counts: said.counts }),
      angleDeg: degFromRad(jump),
      sigmaDeg: degFromRad(sigma),
      offer: {
        type: 'change',
        utc: justAfter(itemAt(best.k - 1).utcMs, itemAt(best.k).utcMs),
        what: [`${axis}-zero`],
        ...(isJack && countsSteps(station.model[axis].readout) ? { slipped: true } : {}),
      },
    },
  }
}

/** Counters that slipped: the best gap of each axis. */
export function counterSteps(ctx: Context): Explanation[] {
  const { station, problem, fit } = ctx
  const { steps: broken } = consistentReferences(station, ctx.whole)
  if (problem.sightings.length < 5 && broken.length === 0) return []
  const base = cost(fit) + broken.reduce((a, s) => a + s.deltaChi2, 0)
  const out: Explanation[] = []
  for (const axis of AXES) {
    const linear = ctx.linear()
    const unit = slipSigma(station, axis)
    const columns = shiftColumn(linear, axis, unit)
    let best: Tried | null = null
    for (const run of runsOf(linear, axis)) {
      const { members } = run
      if (members.length < 2) continue
      const marks = broken.filter(
        s => s.axis === axis && members.some(at => linear.items[at]!.id === s.before.record.id),
      )
      const strongest = marks.sort((a, b) => b.deltaChi2 - a.deltaChi2)[0]
      let gaps: { k: number; look: QuickLook | null }[]
      if (strongest) {
        const position = (id: string) => members.findIndex(at => linear.items[at]!.id === id)
        gaps = []
        const isIn = new Uint8Array(linear.items.length)
        for (let k = position(strongest.before.record.id) + 1; k <= position(strongest.after.record.id); k++) {
          isIn.fill(0)
          for (const at of members.slice(k)) isIn[at] = 1
          gaps.push({ k, look: quickLook(linear, columns, isIn, linear.kept) })
        }
        gaps.sort((a, b) => (a.look?.cost ?? Infinity) - (b.look?.cost ?? Infinity))
        gaps = gaps.slice(0, MOST_TRIED)
      } else gaps = likelyPlaces(ctx, columns, members, 2, MOST_TRIED)
      for (const { k, look } of gaps) {
        const tried = tryGap(ctx, axis, run, k, look, ctx.isDesperate)
        if (!strongest && !isSupported(ctx, tried)) continue
        if (best === null || tried.cost < best.cost) best = tried
      }
    }
    if (best !== null) out.push(explained(ctx, best, broken, base))
  }
  return out
}
