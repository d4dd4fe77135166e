/**
 * The walk-through of a first rehearsal, followed by somebody who presses what it says (tests/helpers/walked.ts): twelve dishes of every mount
 * (SEEDS), begun in May and at the winter solstice, when the northern Sun stays low or beyond an axis's end; in how many it ends at "within tolerance", in how many of those the truth confirms it, in how many steps and sightings. Where
 * it stops before its end, where.
 */

import { KINDS } from '../helpers/simulate.ts'
import { type Walked, walked } from '../helpers/walked.ts'

const SEEDS = Number(process.env.SEEDS ?? 12)

const middle = (list: readonly number[]): number => [...list].sort((a, b) => a - b)[list.length >> 1] ?? Number.NaN

const STARTS = { may: '2026-05-01T10:00:00Z', december: '2026-12-21T10:00:00Z' } as const

async function figures(kind: (typeof KINDS)[number], startUtc: string) {
  const ended: Walked[] = []
  const stopped: string[] = []
  for (let seed = 1; seed <= SEEDS; seed++)
    try {
      const w = await walked({ seed, kind, difficulty: 'beginner', startUtc }, 70)
      if (w.last.ask.do === 'truth') ended.push(w)
      else stopped.push(`${seed}: ${w.last.step} ${JSON.stringify(w.last.ask)}`)
      console.error(kind, startUtc.slice(0, 10), seed, w.last.ask.do, w.asked.length, w.outcome.holds)
    } catch (error) {
      stopped.push(`${seed}: ${(error as Error).message}`)
      console.error(kind, startUtc.slice(0, 10), seed, error)
    }
  return {
    of: SEEDS,
    within: ended.filter(w => w.outcome.claimed.within).length,
    confirmed: ended.filter(w => w.outcome.claimed.within && w.outcome.holds === true).length,
    stepsMiddle: middle(ended.map(w => w.asked.length)),
    stepsMost: Math.max(...ended.map(w => w.asked.length)),
    sightingsMiddle: middle(ended.map(w => w.station.sightings.length)),
    sightingsMost: Math.max(...ended.map(w => w.station.sightings.length)),
    hoursMiddle: Math.round(middle(ended.map(w => w.spentHours))),
    hoursMost: Math.round(Math.max(...ended.map(w => w.spentHours))),
    stopped,
  }
}

export default async () => {
  const out: Record<string, unknown> = {}
  for (const kind of KINDS)
    for (const [name, startUtc] of Object.entries(STARTS)) out[`${kind} ${name}`] = await figures(kind, startUtc)
  return out
}
