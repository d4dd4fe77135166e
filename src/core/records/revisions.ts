/**
 * Records beyond what the first screen needs of them (`stored.ts`): a field book taken apart, what a revision was made from,
 * and the book as it goes into a file.
 */
import type { DeletionRecord, FieldBook } from './fieldbook.ts'
import { ownName, recordId, revisionNumber } from './kinds.ts'
import { isLoose } from './loose.ts'
import {
  afterEdit,
  highestNumber,
  knownFrom,
  type Made,
  madeForFile,
  madeFrom,
  type RecordState,
  revisionOf,
} from './made.ts'
import { contentHash } from './parts.ts'
import {
  apart,
  bookFromRecords,
  currentRevisions,
  type Draft,
  isForgotten,
  LISTS,
  listKey,
  type StoredRecord,
  stationDraft,
} from './stored.ts'

const KNOWN_TOP = new Set(['format', 'version', 'exportedUtc', 'stations', 'deletions', 'made'])

/**
 * The current revision of every record, each with what it was made from, also where programs before version 0.2 left that to
 * be read from the revisions.
 */
export function currentWithHistory(records: readonly StoredRecord[]): StoredRecord[] {
  const current = currentRevisions(records)
  const isOld = (record: StoredRecord) => record.made === undefined && record.revision > 1
  const old = new Map<string, StoredRecord[]>(current.filter(isOld).map(record => [record.id, []]))
  if (old.size === 0) return current
  for (const record of records) old.get(record.id)?.push(record)
  return current.map(record => (isOld(record) ? withHistory(old.get(record.id)!) : record))
}

/**
 * Splits a field book into records. Entries without an id of their own are named by their place ("#0"). What was deleted comes last,
 * with no body but its id.
 *
 * @throws RangeError  two entries of one list, or two stations, with the same id: the intake refuses such a file before
 */
export function recordsFromBook(book: FieldBook): Draft[] {
  const drafts: Draft[] = []
  const seen = new Set<string>()
  const add = (draft: Draft) => {
    if (seen.has(draft.id)) throw new RangeError(`recordsFromBook: ids must be unique, got ${draft.id} twice`)
    seen.add(draft.id)
    drafts.push(draft)
  }
  const unknown = Object.entries(book).filter(([key]) => !KNOWN_TOP.has(key))
  if (unknown.length > 0) {
    const body = Object.fromEntries(unknown)
    const made = (book as { made?: Made }).made
    add({ id: 'book', kind: 'book', station: '', deleted: false, place: 0, body, ...(made && { made }) })
  }

  book.stations.forEach((station, place) => {
    const lists = station as unknown as Record<string, unknown>
    const entries: Draft[] = []
    for (const [list, kind] of LISTS) {
      const items = lists[list]
      if (!Array.isArray(items)) continue
      const taken = new Set(items.map(ownId))
      items.forEach((body, index) => {
        let name = ownId(body)
        for (let n = index; name === undefined; n++) if (!taken.has(`#${n}`)) name = `#${n}`
        taken.add(name)
        const id = recordId(kind, station.id, name)
        entries.push({ id, kind, station: station.id, deleted: false, place: index, ...apart(body) })
      })
    }
    add({ ...stationDraft(station), place })
    for (const entry of entries) add(entry)
  })
  for (const { kind, station, id: own, made } of deletionsIn(book)) {
    const id = recordId(kind, station, own)
    // Listed twice, or listed as deleted and still there: a file put together by hand. What is there stays.
    if (!seen.has(id)) add({ id, kind, station, deleted: true, place: 0, body: { id: own ?? station }, made })
  }
  return drafts
}

const deletionsIn = (book: FieldBook): DeletionRecord[] => book.deletions ?? []

const ownId = (item: unknown): string | undefined =>
  isLoose(item) && typeof item.id === 'string' ? item.id : undefined

/**
 * A record's number on all phones: one that was imported keeps its number in its body, even where the store
 * counts its own from 1.
 */
export const revisionHere = (record: Pick<StoredRecord, 'revision' | 'body' | 'made'>): number =>
  record.made?.from ? highestNumber(record.made.from.split(' ')) : Math.max(record.revision, revisionOf(record.body))

/** What a record is and what it was made from. */
export const stateOf = (record: Pick<StoredRecord, 'kind' | 'body' | 'deleted' | 'revision' | 'made'>): RecordState => {
  const { kind, body, deleted, made } = record
  return { kind, body, deleted, known: knownFrom(kind, body, deleted, revisionHere(record), made) }
}

/**
 * What the next revision after `before` was made from.
 *
 * @returns undefined for a first state
 */
export function madeAfter(before: StoredRecord | undefined, draft: Pick<Draft, 'body' | 'deleted'>): Made | undefined {
  if (before === undefined) return undefined
  const next = afterEdit(stateOf(before), draft.body, draft.deleted ?? false)
  // Written out also where it is a first state: a later revision without it is one of an older program.
  return writtenOut(next)
}

/** What it was made from, also where it is a first state. */
export const writtenOut = (state: RecordState): Made => madeFrom(state) ?? { from: [...state.known.seen].join(' ') }

/**
 * What a record was made from once `now` is undone: what came from elsewhere is forgotten, so that it can be imported
 * again; undefined where it was an edit made here, which the undoing then follows.
 *
 * @param old  the revision to go back to, or undefined where there was none
 */
export function madeOnUndo(now: StoredRecord, old: StoredRecord | undefined): Made | undefined {
  if (!now.arrived) return undefined
  if (old === undefined) return { from: '' }
  return old.made ?? writtenOut(stateOf(old))
}

/**
 * The last of a record's revisions, with what it was made from: programs before version 0.2 left that out, so it is read from
 * the revisions.
 *
 * @param revisions  all of one record
 */
export function withHistory(revisions: readonly StoredRecord[]): StoredRecord {
  const inOrder = [...revisions].sort((a, b) => a.revision - b.revision)
  const last = inOrder.at(-1)!
  if (last.made !== undefined || last.revision === 1) return last
  let state: RecordState | null = null
  for (const record of inOrder) {
    if (state === null || record.made !== undefined) state = stateOf(record)
    else {
      const next = afterEdit(state, record.body, record.deleted)
      state = next.known === state.known ? next : renumbered(next, revisionHere(record))
    }
  }
  return { ...last, made: writtenOut(state!) }
}

/** The newest edit under a higher number, where an older program gave it one. */
function renumbered(state: RecordState, number: number): RecordState {
  const { known } = state
  const newest = highestNumber(known.seen)
  if (number <= newest) return state
  const hash = contentHash(state.kind, state.body, state.deleted)
  const [was, is] = [`${newest}.${hash}`, `${number}.${hash}`]
  const swap = (edits: ReadonlySet<string>) => new Set([...edits].map(edit => (edit === was ? is : edit)))
  return {
    ...state,
    known: {
      seen: swap(known.seen),
      base: swap(known.base),
      wrote: new Map([...known.wrote].map(([part, edits]) => [part, swap(edits)])),
      order: new Map([...known.order].map(([list, o]) => [list, o.by === was ? { ...o, by: is } : o])),
      deletedBy: swap(known.deletedBy),
    },
  }
}

/**
 * The book as it goes into a file: each record's revision number and what it was made from beside it, and what was deleted.
 *
 * @param exportedUtc  ISO 8601 with Z
 * @param wanted       only these stations; default: all
 */
export function bookForFile(
  records: readonly StoredRecord[],
  exportedUtc: string,
  wanted?: readonly string[],
): FieldBook {
  const bodyOf = (record: StoredRecord): unknown => {
    const { body } = record
    if (!isLoose(body)) return body
    const made = record.made?.from === undefined ? undefined : madeForFile(stateOf(record))
    const isNumbers = !Object.hasOwn(body, 'revision') || revisionNumber(body.revision) !== null
    return { ...body, ...(isNumbers && { revision: revisionHere(record) }), ...(made && { made }) }
  }
  const book = bookFromRecords(records, exportedUtc, { bodyOf, ...(wanted && { stations: wanted }) })
  const deletions = deletionsOf(records, wanted)
  const top = records.find(record => record.kind === 'book' && !record.deleted)
  const made = top?.made?.from === undefined ? undefined : madeForFile(stateOf(top))
  return { ...book, ...(deletions.length > 0 && { deletions }), ...(made && { made }) } as FieldBook
}

/** A demo or rehearsal: other phones need not be told when it is deleted. */
const isInvented = (record: StoredRecord): boolean =>
  isLoose(record.body) && (record.body.demo === true || record.body.rehearsal === true)

function deletionsOf(records: readonly StoredRecord[], wanted: readonly string[] | undefined): DeletionRecord[] {
  const invented = new Set(records.filter(r => r.kind === 'station' && isInvented(r)).map(r => r.station))
  return records
    .filter(r => r.deleted && !isForgotten(r.made) && !invented.has(r.station) && (wanted?.includes(r.station) ?? true))
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .map(record => {
      const { station } = record
      const kind = record.kind as DeletionRecord['kind'] // what stands at the top of a file is never deleted
      const own = kind === 'station' ? {} : { id: ownName(record.id) }
      // Of a deleted record it always says by which edits.
      return { kind, station, ...own, made: madeForFile(stateOf(record)) as DeletionRecord['made'] }
    })
}

/**
 * Where each draft belongs in its list: known records keep their place, new ones come after those already there.
 *
 * @param current  current revisions, tombstones included
 */
export function placesFor(current: readonly StoredRecord[], drafts: readonly Draft[]): Map<string, number> {
  const known = new Map<string, number>()
  const bases = new Map<string, number>()
  for (const record of current) {
    if (isForgotten(record.made)) continue
    known.set(record.id, record.place)
    const list = record.kind === 'station' ? 'station' : listKey(record.station, record.kind)
    bases.set(list, Math.max(bases.get(list) ?? 0, record.place + 1))
  }
  return new Map(
    drafts.map(draft => {
      const list = draft.kind === 'station' ? 'station' : listKey(draft.station, draft.kind)
      return [draft.id, known.get(draft.id) ?? (bases.get(list) ?? 0) + (draft.place ?? 0)]
    }),
  )
}
