/**
 * A field book from elsewhere is merged with the book here, record by record and part by part. Pure: it says what would be
 * written and what is asked; the person answers before anything is. Which state follows from which is in `made` (made.ts).
 */
import type { FieldBook } from './fieldbook.ts'
import { type Ask, DELETION, type Joined, join, type MergeSide } from './join.ts'
import { hasSeen, highestNumber, type RecordState, revisionOf } from './made.ts'
import { contentHash } from './parts.ts'
import { placesFor, recordsFromBook, revisionHere, stateOf, writtenOut } from './revisions.ts'
import { type Draft, isForgotten, type StoredRecord, sameJson } from './stored.ts'

export { type Ask, DELETION, type MergeSide, revisionOf }

/** What would be written, with the number that it has on all phones. */
export interface Arrival extends Draft {
  revision: number
}

/** Both sides of a record, with what is needed to make one of them. */
export interface Conflict {
  id: string
  /** As it is here. */
  mine: StoredRecord
  /** As it is in the imported book. */
  theirs: Arrival
  /** What is asked, part by part; one ask for the whole where one side has deleted it. */
  asks: readonly Ask[]
  /** Parts that are taken from the imported book without asking. */
  taken: readonly string[]
}

/** A record that was edited in both places, each in other parts. */
export interface Together {
  id: string
  mine: StoredRecord
  arrival: Arrival
  /** JSON pointers of what was taken from the other side. */
  taken: readonly string[]
}

export interface Merge {
  /** Not here before. */
  added: Arrival[]
  /** Edited there since it was the same. */
  updated: Arrival[]
  /** Edited in both places, in different parts. */
  together: Together[]
  /** Deleted there, and not altered here since. */
  removed: Arrival[]
  /** The same content, or what is here follows from it; only that it was seen is to be written. */
  noted: Arrival[]
  /** Here already with the same content. */
  same: string[]
  /** What is here follows from it, and stays. */
  older: string[]
  /** The person chooses, part by part. */
  conflicts: Conflict[]
  /** Deleted here by somebody who had seen the imported state. It stays deleted; the person may restore it. */
  deletedHere: Conflict[]
}

const asArrival = (record: Draft, state: RecordState): Arrival => {
  const { made: _, ...draft } = record
  return {
    ...draft,
    body: state.body,
    deleted: state.deleted,
    made: writtenOut(state),
    arrived: true,
    revision: highestNumber(state.known.seen),
  }
}

/** A state from a file; what was deleted comes without its body. */
const arriving = ({ kind, body, deleted = false, made }: Draft): RecordState =>
  stateOf({ kind, body: deleted ? undefined : body, deleted, revision: 1, ...(made && { made }) })

const haveSeen = (here: RecordState, there: RecordState): boolean => {
  for (const edit of there.known.seen) if (!hasSeen(here.known, edit)) return false
  return true
}

interface MergeOptions {
  /** Keys of records to be asked about wherever the two sides differ, since the book would be invalid otherwise. */
  forced?: ReadonlySet<string>
  /** Called now and then. @param share  0 to 1 */
  progress?: (share: number) => void
}

/**
 * What a book from elsewhere means for the records that are here.
 *
 * @param current   current revisions, tombstones included
 * @param incoming  a book that has passed the intake
 */
export function merge(current: readonly StoredRecord[], incoming: FieldBook, options: MergeOptions = {}): Merge {
  const known = new Map(current.map(record => [record.id, record]))
  const drafts = recordsFromBook(incoming)
  const places = placesFor(current, drafts)
  const result: Merge = {
    added: [],
    updated: [],
    together: [],
    removed: [],
    noted: [],
    same: [],
    older: [],
    conflicts: [],
    deletedHere: [],
  }
  drafts.forEach((draft, index) => {
    if (index % 1000 === 0) options.progress?.(index / drafts.length)
    const mine = known.get(draft.id)
    const placed: Draft = { ...draft, place: places.get(draft.id) ?? draft.place ?? 0 }
    if (mine === undefined || isForgotten(mine.made)) addTo(result, placed, mine !== undefined)
    else mergeOne(result, mine, placed, options.forced?.has(draft.id) ?? false)
  })
  return result
}

/** New here. A first state needs no reading of its history, and most are first states; except those that were here once and forgotten. */
function addTo(result: Merge, draft: Draft, wasHere: boolean): void {
  if (draft.deleted) result.noted.push(asArrival(draft, { ...arriving(draft), body: draft.body }))
  else if (draft.made === undefined && !wasHere)
    result.added.push({ ...draft, arrived: true, revision: revisionOf(draft.body) })
  else result.added.push(asArrival(draft, arriving(draft)))
}

/** Same content and no history to compare: most records of most files. */
function isSame(mine: StoredRecord, draft: Draft): boolean {
  const deleted = draft.deleted ?? false
  if (mine.deleted !== deleted) return false
  const { hash: _, ...made } = draft.made ?? { hash: '' }
  if (!sameJson(mine.made ?? {}, made)) return false
  if (deleted) return true
  const isFirst = draft.made === undefined
  return (!isFirst || revisionHere(mine) === revisionOf(draft.body)) && sameJson(mine.body, draft.body, 'revision')
}

function mergeOne(result: Merge, mine: StoredRecord, draft: Draft, isForced: boolean): void {
  const { id } = draft
  if (!isForced && isSame(mine, draft)) {
    result.same.push(id)
    return
  }
  const [here, there] = [stateOf(mine), arriving(draft)]
  const joined = join(here, there, isForced)
  const conflict = (): Conflict => ({
    id,
    mine,
    theirs: asArrival(draft, there),
    asks: joined.asks,
    taken: joined.taken,
  })
  if (joined.asks.length > 0) {
    result.conflicts.push(conflict())
    return
  }
  const state = joined.settle(() => 'mine')
  const content = (one: RecordState) => contentHash(one.kind, one.body, one.deleted)
  const [is, was, comes] = [content(state), content(here), content(there)]
  if (is === was) {
    if (!haveSeen(here, there)) result.noted.push(asArrival(draft, state))
    else if (is === comes) result.same.push(id)
    else if (here.deleted) result.deletedHere.push(conflict())
    else result.older.push(id)
  } else if (state.deleted) result.removed.push(asArrival(draft, state))
  else if (is === comes) result.updated.push(asArrival(draft, state))
  else result.together.push({ id, mine, arrival: asArrival(draft, state), taken: joined.taken })
}

/** A conflict as the answers settle it. @param answer  for every part that it asks */
export function settle(conflict: Conflict, answer: (part: string) => MergeSide): Arrival {
  const { mine, theirs, asks } = conflict
  const forced = asks.some(ask => ask.wouldTake !== undefined)
  const joined: Joined = join(stateOf(mine), arriving(theirs), forced)
  // What was deleted here and is restored follows from the deletion, as an edit made here does.
  const isBack = asks.length === 0 && mine.deleted && answer(DELETION) === 'theirs'
  const settled = isBack ? join(stateOf(mine), arriving(theirs), true) : joined
  return asArrival(theirs, settled.settle(answer))
}

/** The records as they would be with these arrivals written: what a store does, without a store. */
export function withArrivals(
  current: readonly StoredRecord[],
  arrivals: readonly Arrival[],
  writtenMs: number,
  app: string,
): StoredRecord[] {
  const records = new Map(current.map(record => [record.id, record]))
  for (const arrival of arrivals) {
    const before = records.get(arrival.id)
    records.set(arrival.id, {
      ...arrival,
      deleted: arrival.deleted ?? false,
      place: arrival.place ?? before?.place ?? 0,
      revision: Math.max((before?.revision ?? 0) + 1, arrival.revision),
      writtenMs,
      app,
    })
  }
  return [...records.values()]
}
