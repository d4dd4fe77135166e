/**
 * Stored records: the one kind of thing that the book on the phone is made of, and the way from there to a field
 * book and back. A record is never altered: a new revision is added; deleting adds a tombstone; the highest revision
 * is the current one. A station's own record holds everything of the station but the record lists; each entry of a
 * record list is a record of its own. What the program does not know stays in the body it came in.
 */
import type { FieldBook, StationRecord } from './fieldbook.ts'

/** The lists of a station whose entries are records of their own, and the kind that each entry then has. */
export const RECORD_LISTS = {
  sightings: 'sighting',
  levels: 'level',
  references: 'reference',
  changes: 'change',
  scans: 'scan',
  noise: 'noise',
  clockChecks: 'clock-check',
  instruments: 'instrument',
  checks: 'check',
  /** Sightings that still lack a reading: stamped, kept, exported, but not solved. */
  halfSightings: 'half-sighting',
} as const

export type ListName = keyof typeof RECORD_LISTS
export type ListKind = (typeof RECORD_LISTS)[ListName]
/** 'book' holds the unknown fields at the top of an imported field book; its station is ''. */
export type RecordKind = 'book' | 'station' | ListKind

/** What is handed to the store. The store adds revision, time and version. */
export interface Draft {
  /** From `recordId`. */
  id: string
  kind: RecordKind
  /** Id of the station that it belongs to; a station's own id for its own record. */
  station: string
  deleted?: boolean
  /** Order within its list. Left out: keep the place it has, or 0. */
  place?: number
  /** Plain JSON, as it stands in the file. */
  body: unknown
  /** Unix ms at which the person made it. Given again with a retry, so that nothing is written twice. */
  writtenMs?: number
}

export interface StoredRecord extends Required<Draft> {
  /** 1, 2, 3, … without a gap. */
  revision: number
  /** The version of the program that wrote it. */
  app: string
}

const LISTS = Object.entries(RECORD_LISTS) as [ListName, ListKind][]
const KNOWN_TOP = new Set(['format', 'version', 'exportedUtc', 'stations'])
const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
const escaped = (part: string): string => part.replace(/[%/]/g, c => (c === '%' ? '%25' : '%2F'))

/**
 * The key of a record in the store. A list entry's key contains its station, since entries of two files written by
 * hand may both be called "1".
 */
export function recordId(kind: RecordKind, station: string, own?: string): string {
  if (kind === 'book') return 'book'
  return own === undefined ? `${kind}:${escaped(station)}` : `${kind}:${escaped(station)}/${escaped(own)}`
}

/** The current revision of every record, tombstones included, in no particular order. */
export function currentRevisions(records: Iterable<StoredRecord>): StoredRecord[] {
  const current = new Map<string, StoredRecord>()
  for (const record of records) {
    const known = current.get(record.id)
    if (!known || record.revision > known.revision) current.set(record.id, record)
  }
  return [...current.values()]
}

/**
 * Takes a field book apart. Entries without an id of their own are named by their place ("#0").
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
  if (unknown.length > 0)
    add({ id: 'book', kind: 'book', station: '', deleted: false, place: 0, body: Object.fromEntries(unknown) })

  book.stations.forEach((station, place) => {
    const own = { ...station } as Record<string, unknown>
    const entries: Draft[] = []
    for (const [list, kind] of LISTS) {
      const items = own[list]
      if (!Array.isArray(items)) continue
      own[list] = [] // keeps the key, and its place among the others
      const taken = new Set(items.map(ownId))
      items.forEach((body, index) => {
        let name = ownId(body)
        for (let n = index; name === undefined; n++) if (!taken.has(`#${n}`)) name = `#${n}`
        taken.add(name)
        const id = recordId(kind, station.id, name)
        entries.push({ id, kind, station: station.id, deleted: false, place: index, body })
      })
    }
    const id = recordId('station', station.id)
    add({ id, kind: 'station', station: station.id, deleted: false, place, body: own })
    for (const entry of entries) add(entry)
  })
  return drafts
}

const ownId = (item: unknown): string | undefined =>
  isObject(item) && typeof item.id === 'string' ? item.id : undefined

/** The number that an export wrote beside a record; 1 when there is none, or none that counts. */
export function revisionOf(body: unknown): number {
  const revision = typeof body === 'object' && body !== null ? (body as { revision?: unknown }).revision : undefined
  return typeof revision === 'number' && Number.isInteger(revision) && revision >= 1 ? revision : 1
}

/**
 * The number that a record goes by on all phones: one that was imported keeps its number in its body, also where the store
 * counts its own from 1.
 */
export const revisionHere = (record: Pick<StoredRecord, 'revision' | 'body'>): number =>
  Math.max(record.revision, revisionOf(record.body))

/**
 * A body that is to follow `before`, with the next number if numbers came with it from elsewhere: else an edit of an
 * imported record would go out under an older number than it came in with, and be taken for old there.
 */
export const numberedAfter = (before: StoredRecord | undefined, body: unknown): unknown =>
  before !== undefined && isObject(before.body) && isObject(body) && before.body.revision !== undefined
    ? { ...body, revision: Math.max(revisionOf(body), revisionHere(before) + 1) }
    : body

export interface BookOptions {
  /** Only these stations. */
  stations?: readonly string[]
  /** Write each record's revision number beside it, for an export. */
  numbers?: boolean
}

/**
 * Puts the field book together again from current revisions (tombstones and what belongs to a deleted station are
 * left out). The inverse of `recordsFromBook`, to the order of the keys.
 *
 * @param exportedUtc  ISO 8601 with Z
 */
export function bookFromRecords(
  records: Iterable<StoredRecord>,
  exportedUtc: string,
  options: BookOptions = {},
): FieldBook {
  const stations: StoredRecord[] = []
  const entries = new Map<string, StoredRecord[]>()
  let top: unknown
  for (const record of records) {
    if (record.deleted) continue
    if (record.kind === 'book') top = record.body
    else if (record.kind === 'station') stations.push(record)
    else {
      const key = listKey(record.station, record.kind)
      const list = entries.get(key)
      if (list) list.push(record)
      else entries.set(key, [record])
    }
  }
  const wanted = options.stations && new Set(options.stations)
  const bodyOf = (record: StoredRecord): unknown =>
    options.numbers && isObject(record.body) ? { ...record.body, revision: revisionHere(record) } : record.body

  const whole = stations
    .filter(station => !wanted || wanted.has(station.station))
    .sort(byPlace)
    .map(record => {
      const station = { ...(bodyOf(record) as object) } as Record<string, unknown>
      for (const [list, kind] of LISTS) {
        const found = entries.get(listKey(record.station, kind))
        if (found) station[list] = found.sort(byPlace).map(bodyOf)
      }
      station.sightings ??= []
      return station as unknown as StationRecord
    })
  const known = { format: 'moonplumb-fieldbook', version: 1, exportedUtc, stations: whole } as const
  return isObject(top) ? { ...top, ...known } : known
}

const listKey = (station: string, kind: RecordKind): string => `${kind}:${station}`

/** By place; two tabs may give the same place to two records: then by time, then by id, the same on every phone. */
const byPlace = (a: StoredRecord, b: StoredRecord): number =>
  a.place - b.place || a.writtenMs - b.writtenMs || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)

/** The first free place at the end of a list (or of the stations). */
export function nextPlace(records: Iterable<StoredRecord>, kind: RecordKind, station: string): number {
  let next = 0
  for (const record of records)
    if (record.kind === kind && (kind === 'station' || record.station === station))
      next = Math.max(next, record.place + 1)
  return next
}

/**
 * Equal as JSON: the order of keys does not matter, a key that is undefined is not there.
 *
 * @param ignore  a key left out at the top, say 'revision'
 */
export function sameJson(a: unknown, b: unknown, ignore?: string): boolean {
  if (Object.is(a, b)) return true
  if (Array.isArray(a) && Array.isArray(b))
    return a.length === b.length && a.every((item, index) => sameJson(item, b[index]))
  if (!isObject(a) || !isObject(b)) return a === b
  const keysOf = (o: Record<string, unknown>) => Object.keys(o).filter(key => key !== ignore && o[key] !== undefined)
  const keys = keysOf(a)
  return keys.length === keysOf(b).length && keys.every(key => Object.hasOwn(b, key) && sameJson(a[key], b[key]))
}

/**
 * Which drafts say something that the book does not have yet, each with the place where it belongs: known records
 * keep theirs, new ones come after those already there. Used by imports: what is already there is not written again.
 *
 * @param current  current revisions, tombstones included
 */
export function newsFor(current: readonly StoredRecord[], drafts: readonly Draft[]): Draft[] {
  const known = new Map(current.map(record => [record.id, record]))
  const bases = new Map<string, number>()
  const news: Draft[] = []
  for (const draft of drafts) {
    const before = known.get(draft.id)
    if (before && !before.deleted && sameJson(before.body, draft.body, 'revision')) continue
    if (before) {
      news.push({ ...draft, place: before.place })
      continue
    }
    const list = draft.kind === 'station' ? 'station' : listKey(draft.station, draft.kind)
    const base = bases.get(list) ?? nextPlace(current, draft.kind, draft.station)
    bases.set(list, base)
    news.push({ ...draft, place: base + (draft.place ?? 0) })
  }
  return news
}
