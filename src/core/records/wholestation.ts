/**
 * Whether a write would leave its station valid: records written or deleted are checked with the rest of the station,
 * since a sighting may name a feed that an undo takes away. Only new faults count: an old fault elsewhere
 * prevents nothing.
 */
import type { Fault } from './answer.ts'
import { checkFieldBook } from './intake.ts'
import { bookFromRecords, type Draft, type StoredRecord } from './stored.ts'

const FROM = '1970-01-01T00:00:00Z'

/** The record as it would stand; the rules do not look at place and revision. */
const asStored = (draft: Draft, before: StoredRecord | undefined): StoredRecord => ({
  ...draft,
  deleted: draft.deleted ?? false,
  place: draft.place ?? before?.place ?? Number.MAX_SAFE_INTEGER,
  writtenMs: 0,
  revision: (before?.revision ?? 0) + 1,
  app: '',
})

const ownId = (body: unknown): unknown => (body as { id?: unknown } | null)?.id

/**
 * Every rule of the field book that these drafts would break, and that was not broken before. Where the station's own
 * record is not among them only the entries written are looked at: what they must fit has not changed.
 *
 * @param current  current revisions, tombstones included
 * @param strict   what an earlier revision of these records broke already counts too: a form shows all that is wrong with its record
 * @returns        paths as in a book of these records alone
 */
export function faultsOfWriting(current: readonly StoredRecord[], drafts: readonly Draft[], strict = false): Fault[] {
  const known = new Map(current.map(record => [record.id, record]))
  const last = new Map(drafts.map(draft => [draft.id, draft]))
  const stations = new Set([...last.values()].map(draft => draft.station).filter(id => id !== ''))
  const faults: Fault[] = []
  for (const station of stations) {
    const written = [...last.values()].filter(draft => draft.station === station)
    const own = written.find(draft => draft.kind === 'station')
    const isWhole = own !== undefined && !own.deleted
    const ids = new Set(written.map(draft => draft.id))
    const names = new Set(written.filter(draft => !draft.deleted).map(draft => ownId(draft.body)))
    const besides = current.filter(
      record =>
        !record.deleted &&
        !ids.has(record.id) &&
        ((record.station === station && (isWhole || record.kind === 'station')) || names.has(ownId(record.body))),
    )
    if (own?.deleted) {
      const left = current.filter(r => r.station === station && !r.deleted && !ids.has(r.id)).length
      if (left > 0) faults.push({ path: '', rule: `${left} of the station’s records would be left without it` })
      continue
    }
    const before = strict ? [] : written.flatMap(draft => known.get(draft.id) ?? [])
    const after = written.map(draft => asStored(draft, known.get(draft.id)))
    const found = checkFieldBook(bookFromRecords([...besides, ...after], FROM))
    if (found.length === 0) continue
    const old = new Set(checkFieldBook(bookFromRecords([...besides, ...before], FROM)).map(fault => fault.rule))
    faults.push(...found.filter(fault => !old.has(fault.rule)))
  }
  return faults
}
