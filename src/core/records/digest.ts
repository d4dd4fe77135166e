/**
 * What the person sees of a plan: counts, a few names of each, every question. A plan of a large book stays where it was made;
 * this goes to the page.
 */
import type { Fault } from './answer.ts'
import type { FieldBook, StationRecord } from './fieldbook.ts'
import type { Ask } from './join.ts'
import { RECORD_LISTS, type RecordKind } from './kinds.ts'
import { partsOf } from './parts.ts'
import { asked, type Choices, choiceKey, type Plan } from './plan.ts'

/** Names shown in a list; the rest is counted. */
const MOST_NAMED = 12
/** Questions shown one by one; the rest are answered together. */
const MOST_ASKED = 100

/** A record as it is shown. */
export interface Named {
  id: string
  kind: RecordKind
  station: string
  body: unknown
}

/** A record that both sides edited: what is asked of it, what is taken without asking. */
export interface AskedRecord extends Named {
  asks: readonly Ask[]
  taken: readonly TakenPart[]
  /** Of a station that one side deleted: how many records go or stay with it. */
  withIt: number
}
export interface TakenPart {
  part: string
  mine: unknown
  theirs: unknown
}

export interface Digest {
  /** The stations of the book, without their records. */
  book: FieldBook
  added: { count: number; named: readonly Named[] }
  updated: { count: number; named: readonly Named[] }
  removed: { count: number; named: readonly Named[] }
  deletedHere: { count: number; named: readonly Named[] }
  together: { count: number; named: readonly (Named & { taken: readonly TakenPart[] })[] }
  noted: number
  same: number
  older: number
  conflicts: { count: number; named: readonly AskedRecord[] }
  why: readonly Fault[]
}

const some = (list: readonly Named[]) => ({
  count: list.length,
  named: list.slice(0, MOST_NAMED).map(({ id, kind, station, body }) => ({ id, kind, station, body })),
})

function takenParts(kind: RecordKind, mine: unknown, theirs: unknown, taken: readonly string[]): TakenPart[] {
  if (taken.length === 0) return []
  const [m, t] = [partsOf(kind, mine), partsOf(kind, theirs)]
  return taken.map(part => ({ part, mine: m.get(part), theirs: t.get(part) }))
}

export function digestOf(plan: Plan): Digest {
  const questions = asked(plan)
  return {
    book: { ...plan.book, stations: plan.book.stations.map(withoutRecords) },
    added: some(plan.added),
    updated: some(plan.updated),
    removed: some(plan.removed),
    deletedHere: some(plan.deletedHere.map(c => c.theirs)),
    together: {
      count: plan.together.length,
      named: plan.together.slice(0, MOST_NAMED).map(({ id, mine, arrival, taken }) => ({
        id,
        kind: mine.kind,
        station: mine.station,
        body: mine.body,
        taken: takenParts(mine.kind, mine.body, arrival.body, taken),
      })),
    },
    noted: plan.noted.length,
    same: plan.same.length,
    older: plan.older.length,
    conflicts: {
      count: questions.length,
      named: questions.slice(0, MOST_ASKED).map(({ id, mine, theirs, asks, taken }) => ({
        id,
        kind: mine.kind,
        station: mine.station,
        body: mine.deleted ? theirs.body : mine.body,
        asks,
        taken: takenParts(mine.kind, mine.body, theirs.body, taken),
        withIt: mine.kind === 'station' ? (plan.torn.get(mine.station)?.length ?? 0) : 0,
      })),
    },
    why: plan.why,
  }
}

function withoutRecords(station: StationRecord): StationRecord {
  const bare = Object.entries(station).filter(([key]) => !Object.hasOwn(RECORD_LISTS, key))
  return { ...(Object.fromEntries(bare) as unknown as StationRecord), sightings: [] }
}

/** How many questions are open: of those shown, and one for all that are not. */
export const openQuestions = ({ conflicts }: Digest, choices: Choices): number =>
  conflicts.named.reduce(
    (n, c) => n + c.asks.filter(ask => !(choices.sides[choiceKey(c.id, ask.part)] ?? choices.rest)).length,
    0,
  ) + (conflicts.count > conflicts.named.length && choices.rest === undefined ? 1 : 0)

/** How many records would be written. */
export const writes = (digest: Digest, choices: Choices): number =>
  digest.added.count +
  digest.updated.count +
  digest.removed.count +
  digest.together.count +
  digest.noted +
  digest.conflicts.count +
  (choices.deleted === 'back' ? digest.deletedHere.count : 0)
