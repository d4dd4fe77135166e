/** Records as they are handed to the book: new ones, new revisions, tombstones. */
import { type ListKind, type RecordKind, recordId } from '../core/records/kinds.ts'
import { type Draft, type StoredRecord, stationDraft } from '../core/records/stored.ts'
import type { BookModel } from './bookmodel.ts'

/** A new id, the same length as those in field books from anywhere. */
export function newId(): string {
  if (typeof crypto.randomUUID === 'function') return crypto.randomUUID()
  const bytes = crypto.getRandomValues(new Uint8Array(16))
  return [...bytes].map(b => b.toString(16).padStart(2, '0')).join('')
}

/** A record of a station's list, to be kept: new, or a new revision of the one with that id. */
export const entry = <T extends { id: string }>(kind: ListKind, station: string, body: T): Draft => ({
  id: recordId(kind, station, body.id),
  kind,
  station,
  body,
})

/** A station without its lists; whatever lists it holds are emptied, their entries are records of their own. */
export const stationEntry = stationDraft

/** The record of that kind and id in the book, tombstones included. */
export const recordOf = (model: BookModel, kind: RecordKind, station: string, own?: string): StoredRecord | undefined =>
  model.records.value.find(record => record.id === recordId(kind, station, own))

/** A tombstone for an existing record. */
export const tombstone = (record: StoredRecord): Draft => ({
  id: record.id,
  kind: record.kind,
  station: record.station,
  place: record.place,
  body: record.body,
  deleted: true,
})

/** The tombstones of those records of a list that are in the book; what is gone already needs none. */
export const tombstones = (model: BookModel, kind: ListKind, station: string, ids: readonly string[]): Draft[] =>
  ids
    .flatMap(id => recordOf(model, kind, station, id) ?? [])
    .filter(record => !record.deleted)
    .map(tombstone)
