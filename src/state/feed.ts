/**
 * Shadow against signal, and the check after a storm, as the screens need them: what the worker says, what is kept.
 */
import type { FeedCheckJson } from '../core/check/feedjson.ts'
import type { StormCheckJson } from '../core/plan/stormjson.ts'
import { type StormCheckRecord, stormChecksOf } from '../core/records/checks.ts'
import { round6 } from '../core/records/digits.ts'
import type { ChangeRecord, SightingRecord, StationRecord } from '../core/records/fieldbook.ts'
import { instantMs } from '../core/records/instant.ts'
import { ask, type Told, valueTold } from './ask.ts'
import { entry, fieldBook, newId } from './book.ts'

/** Where every feed sits now. */
export const feedsOf = (station: StationRecord): Promise<Told<FeedCheckJson[]>> => ask(station, 'feedCheck', {})

/** The change that records that a feed was moved, and where it is now expected; null for an unknown feed. */
export async function changeOfMove(
  station: StationRecord,
  utc: string,
  moved: { feed: string; rightMm: number; upMm: number },
): Promise<Told<Pick<ChangeRecord, 'what' | 'expect'> | null>> {
  const told = await ask(station, 'feedCheck', { moved }, { topic: 'feed-move', at: utc })
  if (told?.kind !== 'told') return told
  const change = told.value.find(f => f.feed === moved.feed)?.change
  return {
    kind: 'told',
    value: change === undefined ? null : { what: change.what, expect: change.expect.map(rounded) },
  }
}
const rounded = <T extends { value: number; sigma: number }>(p: T): T => ({
  ...p,
  value: round6(p.value),
  sigma: round6(p.sigma),
})

/** The sightings of a check; null when one of them is no longer in the book. */
export function sightingsOfCheck(
  station: StationRecord,
  check: StormCheckRecord,
): { peak: SightingRecord; shadow: SightingRecord | null } | null {
  const find = (id: string | undefined) => station.sightings.find(s => s.id === id)
  const peak = find(check.peak)
  const shadow = find(check.shadow)
  if (peak === undefined || (check.shadow !== undefined && shadow === undefined)) return null
  return { peak, shadow: shadow ?? null }
}

export const stormCheckHere = (station: StationRecord, id: string): StormCheckRecord | null =>
  stormChecksOf(station.checks).find(c => c.id === id) ?? null

/**
 * The open check: the last one, where no change was noted since (the one that it led to has the check's own time). What is
 * measured now belongs to it.
 */
export function openStormCheck(station: StationRecord): StormCheckRecord | null {
  const last = [...stormChecksOf(station.checks)].sort((a, b) => instantMs(a.utc) - instantMs(b.utc)).pop()
  if (last === undefined) return null
  const since = instantMs(last.utc)
  const isOver = (station.changes ?? []).some(c => instantMs(c.utc) >= since)
  return isOver || station.sightings.every(s => s.id !== last.peak) ? null : last
}

/** What everything measured since the check began says, against what was known before it, and what can be done from now on. */
export const stormSays = (
  station: StationRecord,
  check: Pick<StormCheckRecord, 'feed' | 'utc'>,
): Promise<Told<StormCheckJson | null>> => ask(station, 'stormCheck', { since: check.utc, feed: check.feed })

/** Keeps the sightings and the check that they start, or continue, in one step, undone as one. */
export async function keepStorm(
  station: StationRecord,
  feed: string,
  taken: readonly [SightingRecord, ...SightingRecord[]],
  before: StormCheckRecord | null,
) {
  const [peak, shadow] = taken
  const ids = taken.map(s => s.id)
  const check: StormCheckRecord =
    before === null
      ? { id: newId(), utc: peak.utc, kind: 'storm', feed, peak: peak.id, ...(shadow && { shadow: shadow.id }) }
      : { ...before, sightings: [...(before.sightings ?? []), ...ids] }
  const said = valueTold(await stormSays({ ...station, sightings: [...station.sightings, ...taken] }, check))
  const best = said?.explanations[0]?.changed[0]
  const { verdict: _, culprit: __, ...plain } = check
  const record: StormCheckRecord = {
    ...plain,
    ...(said && { verdict: said.verdict }),
    ...(best && { culprit: best.id }),
  }
  const drafts = [...taken.map(s => entry('sighting', station.id, s)), entry('check', station.id, record)]
  const kept = await fieldBook.keep({ kind: 'storm-check', place: 'sight', subject: { id: record.id } }, drafts)
  return { check: record, kept }
}
