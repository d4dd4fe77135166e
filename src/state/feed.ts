/**
 * Shadow against signal, and the check after a storm, as the screens need them: what the worker says, what is kept.
 */
import type { FeedCheckJson, StormCheckJson } from '../core/check/feedjson.ts'
import { type StormCheckRecord, stormChecksOf } from '../core/records/checks.ts'
import type { ChangeRecord, StationRecord } from '../core/records/fieldbook.ts'
import { ask } from '../worker/ask.ts'
import { entry, newId } from './book.ts'
import { bookOfOne, readingSigmaMm, trueMs } from './noon.ts'
import { keepTogether, type Sighting } from './sightings.ts'

/** Where every feed sits for the setup at an instant; null when that could not be computed or was overtaken. */
export async function feedsOf(station: StationRecord, utc: string): Promise<FeedCheckJson[] | null> {
  const asked = await ask('feedCheck', [bookOfOne(station, utc), { now: utc }])
  return asked.kind === 'answer' && asked.value.ok ? asked.value.value : null
}

/** The change that says that a feed was moved, and where it is expected since; null when that could not be computed. */
export async function changeOfMove(
  station: StationRecord,
  utc: string,
  moved: { feed: string; rightMm: number; upMm: number },
): Promise<Pick<ChangeRecord, 'what' | 'expect'> | null> {
  const asked = await ask('feedCheck', [bookOfOne(station, utc), { now: utc, moved }], 'feed-move')
  if (asked.kind !== 'answer' || !asked.value.ok) return null
  const change = asked.value.value.find(f => f.feed === moved.feed)?.change
  return change === undefined ? null : { what: change.what, expect: change.expect.map(rounded) }
}
/** A file is read by people too: six decimals are beyond what anybody measures. */
const rounded = <T extends { value: number; sigma: number }>(p: T): T => ({
  ...p,
  value: Math.round(p.value * 1e6) / 1e6,
  sigma: Math.round(p.sigma * 1e6) / 1e6,
})

/** The sightings of a check; null when one of them is no longer in the book. */
export function partsOf(
  station: StationRecord,
  check: StormCheckRecord,
): { peak: Sighting; shadow: Sighting | null } | null {
  const find = (id: string | undefined) => station.sightings.find(s => s.id === id) as Sighting | undefined
  const peak = find(check.peak)
  const shadow = find(check.shadow)
  if (peak === undefined || (check.shadow !== undefined && shadow === undefined)) return null
  return { peak, shadow: shadow ?? null }
}

export const stormCheckHere = (station: StationRecord, id: string): StormCheckRecord | null =>
  stormChecksOf(station.checks).find(c => c.id === id) ?? null

/** What peak and shadow say, against what was known before them. */
export async function stormSays(
  station: StationRecord,
  feed: string,
  peak: Sighting,
  shadow: Sighting | null,
): Promise<StormCheckJson | null> {
  const utc = new Date(trueMs(peak)).toISOString()
  const o = {
    now: utc,
    since: peak.utc,
    feed,
    utc,
    lower: peak.lower,
    upper: peak.upper,
    ...(shadow?.shadow && { shadow: shadow.shadow, sigmaShadowMm: readingSigmaMm(station, [shadow]) }),
    ...(peak.sigmaDeg !== undefined && { sigmaPeakDeg: peak.sigmaDeg }),
  }
  const asked = await ask('stormCheck', [bookOfOne(station, utc), o])
  return asked.kind === 'answer' && asked.value.ok ? asked.value.value : null
}

/** Keeps both sightings and the check in one step, undone as one. */
export async function keepStorm(
  station: StationRecord,
  feed: string,
  peak: Sighting,
  shadow: Sighting | null,
  said: StormCheckJson | null,
  what: string,
) {
  const best = said?.culprits[0]
  const check: StormCheckRecord = {
    id: newId(),
    utc: peak.utc,
    kind: 'storm',
    feed,
    peak: peak.id,
    ...(shadow && { shadow: shadow.id }),
    ...(said && { verdict: said.verdict }),
    ...(best && { culprit: best.id }),
  }
  const kept = await keepTogether(station, shadow ? [peak, shadow] : [peak], [entry('check', station.id, check)], what)
  return { check, kept }
}
