/**
 * Stored records: the one kind of thing that the book on the phone is made of, and the way from there to a field book. A
 * record is never altered: a new revision is added; deleting adds a tombstone; the highest revision is the current one. A
 * station's own record holds everything of the station but the record lists; each entry of a record list is a record of
 * its own. What the program does not know stays in the body it came in. What only writing, merging and files need is in
 * `revisions.ts`: the first screen does without it.
 */
import type { FieldBook, StationRecord } from './fieldbook.ts'
import { type ListKind, type ListName, RECORD_LISTS, type RecordKind, recordId } from './kinds.ts'
import { isLoose } from './loose.ts'
import type { Made } from './made.ts'

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
  /** Unix ms at which the person made it. The same with a retry, so that nothing is written twice. */
  writtenMs?: number
  /** What it was made from, where it comes from elsewhere. Left out: an edit of what is there, as the store finds it. */
  made?: Made
  /** It comes from elsewhere: undoing it forgets it. */
  arrived?: true
}

export interface StoredRecord extends Required<Omit<Draft, 'made' | 'arrived'>> {
  /** Left out in a first state, and in what programs before version 0.2 wrote. */
  made?: Made
  arrived?: true
  /** 1, 2, 3, … without a gap. */
  revision: number
  /** The version of the program that wrote it. */
  app: string
}

export const LISTS = Object.entries(RECORD_LISTS) as [ListName, ListKind][]

/** A new record whose import was undone: as if it had never been here. */
export const isForgotten = (made: Made | undefined): boolean => made?.from === ''

/** The current revision of every record, tombstones included, in no particular order. */
export function currentRevisions(records: Iterable<StoredRecord>): StoredRecord[] {
  const current = new Map<string, StoredRecord>()
  for (const record of records) {
    const known = current.get(record.id)
    if (!known || record.revision > known.revision) current.set(record.id, record)
  }
  return [...current.values()]
}

/** A body without what it was made from. */
export function apart(body: unknown): Pick<Draft, 'body' | 'made'> {
  if (!isLoose(body) || !Object.hasOwn(body, 'made')) return { body }
  const { made, ...rest } = body
  return { body: rest, made: made as Made }
}

/** A station's own record: its lists are emptied, which keeps their keys and their order among the others. */
export function stationDraft(station: StationRecord): Draft {
  const own = { ...station } as Record<string, unknown>
  for (const [list] of LISTS) if (Array.isArray(own[list])) own[list] = []
  return { id: recordId('station', station.id), kind: 'station', station: station.id, deleted: false, ...apart(own) }
}

interface BookOptions {
  /** Only these stations. */
  stations?: readonly string[]
  /** How a record's body goes into the book; default: as it is. */
  bodyOf?: (record: StoredRecord) => unknown
}

/**
 * Puts the field book together from current revisions (tombstones and what belongs to a deleted station are
 * left out). The inverse of `recordsFromBook`, to the order of the keys.
 *
 * @param exportedUtc  ISO 8601 with Z
 */
export function bookFromRecords(
  records: Iterable<StoredRecord>,
  exportedUtc: string,
  { stations: wanted, bodyOf = record => record.body }: BookOptions = {},
): FieldBook {
  const stations: StoredRecord[] = []
  const entries = new Map<string, StoredRecord[]>()
  let top: StoredRecord | undefined
  let list: StoredRecord[] | undefined
  for (const record of records) {
    if (record.deleted) continue
    if (record.kind === 'book') top = record
    else if (record.kind === 'station') stations.push(record)
    else {
      // Records of one list mostly follow each other: of 100 000 records only a few need the lookup.
      if (list === undefined || list[0]!.kind !== record.kind || list[0]!.station !== record.station) {
        const key = listKey(record.station, record.kind)
        list = entries.get(key)
        if (list === undefined) {
          list = []
          entries.set(key, list)
        }
      }
      list.push(record)
    }
  }
  const whole = stations
    .filter(({ station }) => wanted?.includes(station) ?? true)
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
  return isLoose(top?.body) ? { ...top.body, ...known } : known
}

export const listKey = (station: string, kind: RecordKind): string => `${kind}:${station}`

/** By place; two tabs may give the same place to two records: then by time, then by id, the same on every phone. */
const byPlace = (a: StoredRecord, b: StoredRecord): number =>
  a.place - b.place || a.writtenMs - b.writtenMs || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)

/** The first free place at the end of a list (or of the stations). */
export function nextPlace(records: Iterable<StoredRecord>, kind: RecordKind, station: string): number {
  let next = 0
  for (const record of records)
    if (record.kind === kind && !isForgotten(record.made) && (kind === 'station' || record.station === station))
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
  if (!isLoose(a) || !isLoose(b)) return a === b
  const keysOf = (o: Record<string, unknown>) => Object.keys(o).filter(key => key !== ignore && o[key] !== undefined)
  const keys = keysOf(a)
  return keys.length === keysOf(b).length && keys.every(key => Object.hasOwn(b, key) && sameJson(a[key], b[key]))
}
