/**
 * A field book from elsewhere joins the book that is here, record by record, by id and revision number. Pure: it says
 * what would be written, and the person decides about conflicts before anything is. Nothing is ever doubled, and
 * merging the same book again changes nothing.
 */
import type { FieldBook } from './fieldbook.ts'
import {
  type Draft,
  newsFor,
  RECORD_LISTS,
  recordsFromBook,
  revisionHere,
  revisionOf,
  type StoredRecord,
  sameJson,
} from './revisions.ts'

export { revisionOf }

/** What would be written, with the revision number that it had where it comes from. */
export interface Arrival extends Draft {
  revision: number
}

export interface Conflict {
  id: string
  mine: StoredRecord
  theirs: Arrival
}

export interface Merge {
  /** Not here before. */
  added: Arrival[]
  /** Here in an older revision. */
  updated: Arrival[]
  /** Here already with the same content. */
  same: string[]
  /** Here in a newer revision, which stays. */
  older: string[]
  /** Same revision number, different content: altered in both places. The person chooses. */
  conflicts: Conflict[]
  /** Deleted here, and no newer there. The person may bring them back. */
  deletedHere: Conflict[]
}

/** An empty list of records says the same as none. */
function withoutEmptyLists(body: unknown): unknown {
  if (typeof body !== 'object' || body === null) return body
  return Object.fromEntries(
    Object.entries(body).filter(([key, value]) => !(key in RECORD_LISTS && Array.isArray(value) && value.length === 0)),
  )
}

const sameContent = (mine: StoredRecord, theirs: Draft): boolean =>
  mine.kind === theirs.kind &&
  mine.station === theirs.station &&
  sameJson(withoutEmptyLists(mine.body), withoutEmptyLists(theirs.body), 'revision')

/**
 * What a book from elsewhere means for the records that are here.
 *
 * @param current   current revisions, tombstones included
 * @param incoming  a book that has passed the intake
 */
export function merge(current: readonly StoredRecord[], incoming: FieldBook): Merge {
  const known = new Map(current.map(record => [record.id, record]))
  const drafts = recordsFromBook(incoming)
  // Gives each newcomer its place in its list; what is the same is left out.
  const news = new Map(newsFor(current, drafts).map(draft => [draft.id, draft]))
  const result: Merge = { added: [], updated: [], same: [], older: [], conflicts: [], deletedHere: [] }
  for (const { id } of drafts) {
    const draft = news.get(id)
    const mine = known.get(id)
    if (draft === undefined || (mine !== undefined && !mine.deleted && sameContent(mine, draft))) {
      result.same.push(id)
      continue
    }
    const theirs: Arrival = { ...draft, revision: revisionOf(draft.body) }
    if (mine === undefined) result.added.push(theirs)
    else if (theirs.revision > revisionHere(mine)) result.updated.push(theirs)
    else if (mine.deleted) result.deletedHere.push({ id, mine, theirs })
    else if (theirs.revision === revisionHere(mine)) result.conflicts.push({ id, mine, theirs })
    else result.older.push(id)
  }
  return result
}

/** Their side of a conflict as the next revision after mine, so that it stays chosen at the next merge. */
export const chosen = (conflict: Conflict): Arrival => ({
  ...conflict.theirs,
  revision: Math.max(revisionHere(conflict.mine) + 1, conflict.theirs.revision),
})

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
