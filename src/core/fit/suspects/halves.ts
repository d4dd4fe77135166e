/**
 * Two halves that do not fit together: every sighting past a time, or one side of the sky, goes with a mount of its own. Named
 * where no single cause explains it, with both answers. And one sighting marked "always" that expels the rest.
 */
import { AXIS_NAMES } from '../../mount/names.ts'
import { azElFromEnu } from '../../vectors.ts'
import type { Problem } from '../map.ts'
import { cost, type Fitted, rejected } from '../reject.ts'
import { type Context, type Explanation, fitAfresh } from './context.ts'
import { type Base, baseOf } from './gross.ts'
import { shortUtc } from './marks.ts'

/** A half must have so many sightings to be a mount of its own. */
const FEWEST = 4
/** A whole second mount: it explains nothing, it only says where the sightings divide. */
const PENALTY = 45
const PENALTY_ALWAYS = 6

/** A half of the sightings, fitted by itself. */
export interface Half {
  name: string
  problem: Problem
  fit: Fitted
}

interface Split {
  words: string
  names: [string, string]
  isSecond: Uint8Array
  ids?: [string, string]
  utcs?: [string, string]
  /** How unevenly the rejected lie on the two sides: χ² of the two by two table. */
  uneven: number
}

/** The place along an ordering at which kept and rejected part best. */
function split(order: readonly number[], isOut: (i: number) => boolean): { at: number; uneven: number } {
  const n = order.length
  const out = order.reduce((a, i) => a + (isOut(i) ? 1 : 0), 0)
  let best = { at: 0, uneven: 0 }
  let before = 0
  for (let k = 1; k < n; k++) {
    if (isOut(order[k - 1]!)) before++
    if (k < FEWEST || n - k < FEWEST) continue
    const expected = (k * out) / n
    const variance = (expected * (n - k) * (n - out)) / (n * Math.max(1, n - 1))
    const uneven = variance > 0 ? (before - expected) ** 2 / variance : 0
    if (uneven > best.uneven) best = { at: k, uneven }
  }
  return best
}

function splitsOf(ctx: Context, base: Base): Split[] {
  const { sightings } = base.problem
  const isOut = (i: number) => base.fit.kept[i] === 0
  const names = AXIS_NAMES[ctx.station.model.kind]
  const ways: {
    by: (i: number) => number
    words: (i: number, j: number) => string
    names: [string, string]
    timed?: true
  }[] = [
    {
      by: i => sightings[i]!.utcMs,
      words: (i, j) =>
        `those up to ${shortUtc(sightings[i]!.utcMs)} and those from ${shortUtc(sightings[j]!.utcMs)} on`,
      names: ['earlier', 'later'],
      timed: true,
    },
    {
      by: i => sightings[i]!.t[0],
      words: () => 'those toward the west and those toward the east',
      names: ['west', 'east'],
    },
    {
      by: i => azElFromEnu(sightings[i]!.t).el,
      words: () => 'the low ones and the high ones',
      names: ['low', 'high'],
    },
    {
      by: i => (sightings[i]!.record.target.type === 'moon' ? 1 : 0),
      words: () => 'those of the Moon and all others',
      names: ['others', 'Moon'],
    },
    {
      by: i => (sightings[i]!.line === 'shadow' ? 1 : 0),
      words: () => 'those by shadow and those by signal',
      names: ['signal', 'shadow'],
    },
    {
      by: i => sightings[i]!.record.lower,
      words: () => `those at small and those at large readings of the ${names.lower} axis`,
      names: ['small', 'large'],
    },
    {
      by: i => sightings[i]!.record.upper,
      words: () => `those at small and those at large readings of the ${names.upper} axis`,
      names: ['small', 'large'],
    },
  ]
  return ways.flatMap(way => {
    const order = sightings.map((_, i) => i).sort((a, b) => way.by(a) - way.by(b))
    // Two kinds part where the kind changes, not where chance has put the rejected.
    const isKind = new Set(sightings.map((_, i) => way.by(i))).size === 2
    const at = isKind ? order.findIndex(i => way.by(i) === 1) : split(order, isOut).at
    if (at < FEWEST || order.length - at < FEWEST) return []
    const isSecond = new Uint8Array(sightings.length)
    for (const i of order.slice(at)) isSecond[i] = 1
    const [i, j] = [order[at - 1]!, order[at]!]
    const out = order.filter(isOut).length
    const first = order.slice(0, at).filter(isOut).length
    const expected = (at * out) / order.length
    return [
      {
        words: way.words(i, j),
        names: way.names,
        isSecond,
        uneven: (first - expected) ** 2 / Math.max(0.5, expected),
        ...(way.timed
          ? {
              ids: [sightings[i]!.record.id, sightings[j]!.record.id] as [string, string],
              utcs: [sightings[i]!.record.utc, sightings[j]!.record.utc] as [string, string],
            }
          : {}),
      },
    ]
  })
}

const partOf = (problem: Problem, isSecond: Uint8Array, second: 0 | 1): Problem => ({
  ...problem,
  sightings: problem.sightings.filter((_, k) => isSecond[k] === second),
})

export interface HalvesExplanation extends Explanation {
  halves: Half[]
}

export function twoHalves(ctx: Context): HalvesExplanation[] {
  if (!ctx.isDesperate || ctx.problem.sightings.length < 2 * FEWEST) return []
  const base = baseOf(ctx)
  const splits = splitsOf(ctx, base)
    .sort((a, b) => b.uneven - a.uneven)
    .slice(0, 2)
  const tried = splits.map(s => {
    const halves = ([0, 1] as const).map(second => {
      const problem = partOf(base.problem, s.isSecond, second)
      return { name: s.names[second], problem, fit: fitAfresh(problem) }
    })
    return { split: s, halves, cost: cost(halves[0]!.fit) + cost(halves[1]!.fit) }
  })
  const best = tried.reduce<(typeof tried)[number] | null>((a, b) => (a === null || b.cost < a.cost ? b : a), null)
  if (best === null) return []
  const { split: s, halves } = best
  // Both must stand for something: a half that is itself mostly rejected is no answer.
  if (halves.some(h => rejected(h.fit) > h.problem.sightings.length / 3)) return []
  return [
    {
      kind: 'two-halves',
      problem: base.problem,
      fit: base.fit,
      gain: base.cost - best.cost,
      penalty: PENALTY,
      halves,
      suspect: {
        text: `The sightings fall into two halves that do not fit together: ${s.words}.`,
        settle:
          s.utcs === undefined
            ? 'Sight again on both sides within one day, with nothing touched in between.'
            : 'Think of what was touched between the two, and record it as a change; or sight again now.',
        ...(s.ids ? { between: s.ids } : {}),
        ...(s.utcs ? { betweenUtc: s.utcs } : {}),
      },
    },
  ]
}

/** A sighting marked "always" without which the rest goes together. */
export function markedAlways(ctx: Context): Explanation[] {
  const { problem, fit } = ctx
  const sure = problem.sightings.filter(s => s.use === 'always')
  if (sure.length === 0 || sure.length > 3 || problem.sightings.length < 5 || !ctx.isBad) return []
  const freed: Problem = {
    ...problem,
    sightings: problem.sightings.map(s => (s.use === 'always' ? { ...s, use: 'auto' as const } : s)),
  }
  const free = fitAfresh(freed)
  const out = freed.sightings.filter((s, k) => free.kept[k] === 0 && sure.some(x => x.record.id === s.record.id))
  if (out.length === 0) return []
  const first = out[0]!
  return [
    {
      kind: 'marked-always',
      problem: freed,
      fit: free,
      gain: cost(fit) - cost(free),
      penalty: PENALTY_ALWAYS,
      suspect: {
        text:
          out.length === 1
            ? `The sighting of ${shortUtc(first.utcMs)} is marked to be used always, and the others do not fit it.`
            : `${out.length} sightings are marked to be used always, the first of ${shortUtc(first.utcMs)}, and the others do not fit them.`,
        settle: 'Let it be judged like the others, unless you know that it alone is right.',
        ids: out.map(s => s.record.id),
        between: [first.record.id, out[out.length - 1]!.record.id],
        betweenUtc: [first.record.utc, out[out.length - 1]!.record.utc],
        offer: { type: 'sightings', set: out.map(s => ({ id: s.record.id, use: 'auto' as const })) },
      },
    },
  ]
}
