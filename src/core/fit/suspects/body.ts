/**
 * The wrong body: the Sun logged as the Moon or the reverse, in one sighting, in several, in all. Each rejected sighting is
 * asked whether it goes with the other body; where most may be wrong, all are turned about first and then asked.
 */
import type { TargetRecord } from '../../records/fieldbook.ts'
import { targetFromRecord } from '../../records/stationintake.ts'
import { apparentPlace } from '../../sky/targets.ts'
import type { Problem } from '../map.ts'
import { bandOf } from '../methods.ts'
import { COST, cost, type Fitted, OUTLIER, studentised } from '../reject.ts'
import { builtAt, whitenedMiss } from '../residuals.ts'
import type { Sighting } from '../sighting.ts'
import { type Context, type Explanation, fitAfresh, fitOn } from './context.ts'
import { type Base, baseOf } from './gross.ts'
import { shortUtc } from './marks.ts'

/** The penalty for a sighting taken as the other body: it happens to about 1 in 20 of the rejected. */
const EACH = 6
const PENALTY = 4
/** d² from the other body beyond which a rejected sighting is not asked further: what the fit leaves open is in it. */
const NEAR = 200
const NEAR_OF_MANY = 40

/** Could have been the other body: only Sun and Moon are mistaken for each other, and the Moon throws no shadow to read. */
const isTurnable = (s: Sighting): boolean =>
  s.record.method !== 'shadow' && (s.record.target.type === 'sun' || s.record.target.type === 'moon')

const otherTarget = (s: Sighting): TargetRecord => ({ type: s.record.target.type === 'sun' ? 'moon' : 'sun' })

function turned(ctx: Context, s: Sighting): Sighting {
  const target = otherTarget(s)
  const place = apparentPlace(targetFromRecord(target), s.utcMs, ctx.station.site, bandOf(s.record.method))
  return { ...s, t: place.direction, record: { ...s.record, target } }
}

interface State {
  problem: Problem
  fit: Fitted
  isTurned: Uint8Array
}

/** Swaps the body of the rejected sightings that fit the other one, until none does. */
function settled(base: Base, start: State, others: readonly (Sighting | null)[]): State {
  let state = start
  for (let round = 0; round < 4; round++) {
    const { problem, fit } = state
    const sightings = problem.sightings.map((s, k) => {
      const other = state.isTurned[k] === 1 ? base.problem.sightings[k]! : others[k]
      return fit.kept[k] === 0 && other ? other : s
    })
    const asked: Problem = { ...problem, sightings }
    const d2 = studentised(asked, fit.values, fit.kept, fit.covariance)
    const isTurned = Uint8Array.from(state.isTurned)
    const next = problem.sightings.map((s, k) => {
      if (sightings[k] === s || !(d2[k]! < OUTLIER)) return s
      isTurned[k] = 1 - isTurned[k]!
      return sightings[k]!
    })
    const turnedNow = next.flatMap((s, k) => (s === problem.sightings[k] ? [] : [k]))
    if (turnedNow.length === 0) break
    // What would be gained with the present fit: too little is not worth another fit.
    const promised = turnedNow.reduce((a, k) => a + COST - d2[k]! - EACH, 0)
    if (promised < PENALTY && turnedNow.length === 1) break
    const moved: Problem = { ...problem, sightings: next }
    const kept = Float64Array.from(fit.kept, (w, k) => (next[k] === problem.sightings[k] ? w : 1))
    const refit = fitOn(moved, fit.values, kept)
    if (cost(refit) >= cost(fit)) break
    state = { problem: moved, fit: refit, isTurned }
  }
  return state
}

export function wrongBodies(ctx: Context): Explanation[] {
  if (ctx.problem.sightings.length < 5 || (!ctx.isBad && !ctx.fit.kept.includes(0))) return []
  const base: Base = ctx.isDesperate ? baseOf(ctx) : { problem: ctx.problem, cost: cost(ctx.fit), fit: ctx.fit }
  const { sightings } = base.problem
  const near = sightings.length > 100 ? NEAR_OF_MANY : NEAR
  const others = sightings.map((s, k) => {
    if (!isTurnable(s) || (!ctx.isDesperate && base.fit.kept[k] === 1)) return null
    const other = turned(ctx, s)
    if (ctx.isDesperate) return other
    // Nowhere near the other body either: not worth a fit.
    const miss = whitenedMiss(base.problem.model, other, builtAt(base.fit.values, s.slots))
    return miss !== null && miss[0] ** 2 + miss[1] ** 2 < near ? other : null
  })
  if (others.every(x => x === null)) return []
  const none = new Uint8Array(sightings.length)
  const states = [settled(base, { problem: base.problem, fit: base.fit, isTurned: none }, others)]
  if (ctx.isDesperate)
    for (const which of [['sun'], ['moon'], ['sun', 'moon']]) {
      const isTurned = Uint8Array.from(others, (x, k) =>
        x && which.includes(sightings[k]!.record.target.type) ? 1 : 0,
      )
      if (!isTurned.includes(1)) continue
      const problem: Problem = { ...base.problem, sightings: sightings.map((s, k) => (isTurned[k] ? others[k]! : s)) }
      states.push(settled(base, { problem, fit: fitAfresh(problem), isTurned }, others))
    }
  const price = (s: State) => {
    const count = s.isTurned.reduce((a, x) => a + x, 0)
    // All of one kind, or nearly, is one mistake; otherwise each sighting is a mistake of its own.
    const able = others.filter(x => x !== null).length
    return Math.min(EACH * count, 20 + EACH * Math.max(0, able - count))
  }
  const best = states.reduce((a, b) => (cost(b.fit) + price(b) < cost(a.fit) + price(a) ? b : a))
  const which = sightings.filter((_, k) => best.isTurned[k] === 1)
  if (which.length === 0) return []
  const [first, last] = [which[0]!, which[which.length - 1]!]
  const all = which.every(s => s.record.target.type === first.record.target.type)
  const names = { sun: 'the Sun', moon: 'the Moon' } as const
  const logged = all ? names[first.record.target.type as 'sun'] : 'one'
  const other = all ? names[otherTarget(first).type as 'sun'] : 'the other'
  const when =
    which.length === 1
      ? `at ${shortUtc(first.utcMs)}`
      : `in ${which.length} sightings, the first at ${shortUtc(first.utcMs)}`
  // Where sightings were thinned out the whole book is meant; the offer is for those that were asked.
  return [
    {
      kind: 'wrong-body',
      problem: best.problem,
      fit: best.fit,
      gain: base.cost - cost(best.fit),
      penalty: PENALTY + price(best),
      suspect: {
        text: `What was logged as ${logged} was ${other}, ${when}.`,
        settle: 'Look up which of the two was where the dish pointed at that time, and correct the target.',
        ids: which.map(s => s.record.id),
        between: [first.record.id, last.record.id],
        betweenUtc: [first.record.utc, last.record.utc],
        offer: { type: 'sightings', set: which.map(s => ({ id: s.record.id, target: otherTarget(s) })) },
      },
    },
  ]
}
