/**
 * Sightings that are not as many as they look: copies of one, and several in so short a time that they share an error.
 * Times in ms by true UTC.
 *
 * What is assumed of the second kind (common practice, no source for the figures): two sightings of one target by one
 * method through one feed share the observer, the wind, the air, the play's side and the receiver's slow gain. Half of
 * the variance is shared at one moment, falling in a straight line to none a minute apart: ρ(Δt) = ½ (1 - Δt/60 s).
 * Instead of a full covariance each sighting's own is widened by k = 1 + Σ ρ over its neighbours, which for sightings
 * alike makes the variance of their mean just what that correlation gives, (1 + ρ (m - 1))/m of one.
 */
import type { SightingRecord } from '../records/fieldbook.ts'
import { MINUTE_MS } from '../units.ts'
import type { Sighting } from './sighting.ts'

/** The same target, method, feed, readings and measured offset within this time are one sighting, stored twice. */
const SAME_MS = 2000
/** Two sightings closer than this share errors. */
const SHARED_MS = MINUTE_MS
/** The part of the variance that two sightings at one moment share. */
export const SHARED = 0.5

const targetKey = (s: SightingRecord): string => `${JSON.stringify(s.target)} ${s.method} ${s.feed ?? ''}`
const measuredKey = (s: SightingRecord): string =>
  `${s.lower} ${s.upper} ${s.shadow?.rightMm ?? ''} ${s.shadow?.upMm ?? ''} ${s.offset?.rightDeg ?? 0} ${s.offset?.upDeg ?? 0}`

/** Indices in order of time, by what they have in common. */
function grouped(sightings: readonly Sighting[], keyOf: (s: SightingRecord) => string): number[][] {
  const groups = new Map<string, number[]>()
  sightings.forEach((s, i) => {
    if (s.use === 'never' || s.repeats !== null) return
    const key = keyOf(s.record)
    const group = groups.get(key)
    if (group) group.push(i)
    else groups.set(key, [i])
  })
  for (const g of groups.values()) g.sort((a, b) => sightings[a]!.utcMs - sightings[b]!.utcMs || a - b)
  return [...groups.values()]
}

/**
 * For each sighting the id of the one that it repeats, else null. Of copies the first in time counts, one marked "always"
 * before others; sightings never to be used repeat nothing.
 */
export function repeatsOf(sightings: readonly Sighting[]): (string | null)[] {
  const out: (string | null)[] = sightings.map(() => null)
  for (const group of grouped(sightings, s => `${targetKey(s)} ${measuredKey(s)}`)) {
    for (let k = 0; k < group.length; ) {
      const first = group[k]!
      let end = k + 1
      while (end < group.length && sightings[group[end]!]!.utcMs - sightings[first]!.utcMs <= SAME_MS) end++
      const copies = group.slice(k, end)
      const counted = copies.find(i => sightings[i]!.use === 'always') ?? first
      for (const i of copies) if (i !== counted) out[i] = sightings[counted]!.record.id
      k = end
    }
  }
  return out
}

/** k of each sighting, ≥ 1: by how much its variance is to be widened for what it shares with its neighbours. */
export function crowding(sightings: readonly Sighting[]): Float64Array {
  const out = new Float64Array(sightings.length).fill(1)
  for (const group of grouped(sightings, targetKey)) {
    // Two pointers and a running sum: a straight line's sum needs how many neighbours there are and when they were.
    const at = group.map(i => sightings[i]!.utcMs - sightings[group[0]!]!.utcMs)
    const add = (from: number, to: number, step: 1 | -1) => {
      let far = from
      let count = 0
      let sum = 0
      for (let k = from; k !== to; k += step) {
        while (far !== k && Math.abs(at[k]! - at[far]!) >= SHARED_MS) {
          count--
          sum -= at[far]!
          far += step
        }
        out[group[k]!]! += SHARED * (count - Math.abs(count * at[k]! - sum) / SHARED_MS)
        count++
        sum += at[k]!
      }
    }
    add(0, group.length, 1)
    add(group.length - 1, -1, -1)
  }
  return out
}
