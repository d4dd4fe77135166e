/**
 * A feed that moved at some time: from then on its signal peaks lie to one side, and its shadows to the other. Two unknowns,
 * millimetres right and up.
 */
import { SLOT } from '../../mount/slots.ts'
import { feedOf } from '../../records/feeds.ts'
import type { Problem } from '../map.ts'
import { cost } from '../reject.ts'
import { type Context, type Explanation, extended, refit, startAt, withSlots } from './context.ts'
import { justAfter } from './counterstep.ts'
import type { Columns, Linear } from './linear.ts'
import { shortUtc } from './marks.ts'
import { likelyPlaces } from './places.ts'

const MOST_TRIED = 2
/** Two unknowns, in addition to the places looked at. */
const PENALTY = 12

/** Columns of a feed's own right and up, in σ of their priors. */
function feedColumns(linear: Linear, slots: Int16Array): Columns {
  const c = new Float64Array(2 * linear.r.length)
  const right = slots[SLOT.feedRight]!
  const up = slots[SLOT.feedUp]!
  for (let row = 0; row < linear.r.length; row++) {
    c[2 * row] = linear.A[row * linear.n + right]!
    c[2 * row + 1] = linear.A[row * linear.n + up]!
  }
  return { m: 2, c }
}

export function feedsMoved(ctx: Context): Explanation[] {
  const { problem, fit, station } = ctx
  if (problem.sightings.length < 6) return []
  const linear = ctx.linear()
  const runs = new Map<string, number[]>()
  linear.items.forEach((item, k) => {
    if (item.what !== 'sighting' || problem.sightings[item.index]!.line === 'tube') return
    const key = `${item.slots[SLOT.feedRight]}`
    runs.set(key, [...(runs.get(key) ?? []), k])
  })
  let best: Explanation | null = null
  const base = cost(fit)
  for (const members of runs.values()) {
    const { slots } = linear.items[members[0]!]!
    const columns = feedColumns(linear, slots)
    for (const { k, look } of likelyPlaces(ctx, columns, members, 2, MOST_TRIED)) {
      const right = slots[SLOT.feedRight]!
      const up = slots[SLOT.feedUp]!
      const sigma = [problem.priorSigma[right]!, problem.priorSigma[up]!] as const
      const grown = extended(problem, [
        { value: problem.priorValue[right]!, sigma: sigma[0] },
        { value: problem.priorValue[up]!, sigma: sigma[1] },
      ])
      const sightings = [...problem.sightings]
      for (const at of members.slice(k)) {
        const { index } = linear.items[at]!
        const s = sightings[index]!
        sightings[index] = {
          ...s,
          slots: withSlots(s.slots, [
            [SLOT.feedRight, grown.first],
            [SLOT.feedUp, grown.first + 1],
          ]),
        }
      }
      const moved: Problem = { ...grown.problem, sightings }
      const values = startAt(fit, [
        fit.values[right]! + look.added[0]! * sigma[0],
        fit.values[up]! + look.added[1]! * sigma[1],
      ])
      look.moved.forEach((q, i) => {
        values[i]! += q * problem.priorSigma[i]!
      })
      const kept = new Float64Array(sightings.length)
      linear.items.forEach((item, at) => {
        if (item.what === 'sighting') kept[item.index] = look.weights[at]! > 0 ? 1 : 0
      })
      const refitted = refit(moved, [{ values, kept }], ctx.isDesperate)
      const keptOf = (list: readonly number[]) =>
        list.reduce((sum, at) => sum + refitted.kept[linear.items[at]!.index]!, 0)
      if (keptOf(members.slice(0, k)) < 2 || keptOf(members.slice(k)) < 2) continue
      const gain = base - cost(refitted)
      if (best !== null && gain <= best.gain) continue
      const before = linear.items[members[k - 1]!]!
      const after = linear.items[members[k]!]!
      const dRight = refitted.values[grown.first]! - refitted.values[right]!
      const dUp = refitted.values[grown.first + 1]! - refitted.values[up]!
      const { n, a } = refitted.covariance
      const sigmaOf = (i: number, j: number, s: number) =>
        s * Math.sqrt(Math.max(0, a[i * n + i]! + a[j * n + j]! - 2 * a[i * n + j]!))
      const feed = feedOf(station, problem.sightings[after.index]!.record.feed)
      const name = station.feeds.length > 1 ? `feed "${feed.name}"` : 'feed'
      const mm = (x: number, s: number, plus: string, minus: string) =>
        `${Math.abs(x).toFixed(0)} ± ${s.toFixed(0)} mm ${x >= 0 ? plus : minus}`
      best = {
        kind: 'feed-moved',
        problem: moved,
        fit: refitted,
        gain,
        penalty: PENALTY + 2 * Math.log(Math.max(1, members.length - 1)),
        suspect: {
          text:
            `The ${name} moved by ${mm(dRight, sigmaOf(grown.first, right, sigma[0]), 'right', 'left')} and ` +
            `${mm(dUp, sigmaOf(grown.first + 1, up, sigma[1]), 'toward UP', 'away from UP')}, ` +
            `between ${shortUtc(before.utcMs)} and ${shortUtc(after.utcMs)}.`,
          settle: 'Read the feed’s shadow with the signal at its peak, or tape the feed to the rim again.',
          feed: feed.id,
          between: [before.id, after.id],
          betweenUtc: [before.utc, after.utc],
          offer: { type: 'change', utc: justAfter(before.utcMs, after.utcMs), what: [`feed:${feed.id}`] },
        },
      }
    }
  }
  return best === null ? [] : [best]
}
