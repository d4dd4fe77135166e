/**
 * Whether a write would leave its station valid: an entry by the check of one record (`checkrecord.ts`), a station's own record with all
 * its entries, since a sighting may name a feed that an undo takes away. Only new faults count: an old fault elsewhere
 * prevents nothing.
 */
import type { Fault } from './answer.ts'
import { recordCheck } from './checkrecord.ts'
import { checkFieldBook } from './intake.ts'
import { type AnyList, rulesOfList } from './kinds.ts'
import { shown } from './shown.ts'
import { bookFromRecords, type Draft, LISTS, type StoredRecord } from './stored.ts'

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
const listOf = (kind: string): AnyList | undefined => LISTS.find(([, its]) => its === kind)?.[0]

/** The drafts of one station, none of them twice, beside the book as it stands. */
interface Written {
  station: string
  drafts: readonly Draft[]
  /** The record that a draft replaces. */
  known: ReadonlyMap<string, StoredRecord>
  /** Of the whole book: what stays as it is, tombstones left out. */
  staying: readonly StoredRecord[]
  strict: boolean
}

const withoutOld = (found: readonly Fault[], old: readonly Fault[]): Fault[] => {
  const rules = new Set(old.map(fault => fault.rule))
  return found.filter(fault => !rules.has(fault.rule))
}

/** The station's own record is written: everything at the station must fit it. */
function faultsOfStation({ station, drafts, known, staying, strict }: Written): Fault[] {
  const besides = staying.filter(record => record.station === station)
  const after = drafts.map(draft => asStored(draft, known.get(draft.id)))
  const found = checkFieldBook(bookFromRecords([...besides, ...after], FROM))
  if (found.length === 0) return []
  const before = strict ? [] : drafts.flatMap(draft => known.get(draft.id) ?? [])
  return withoutOld(found, checkFieldBook(bookFromRecords([...besides, ...before], FROM)))
}

/** Only entries are written: what they must fit has not changed, and no other entry is looked at but for its id. */
function faultsOfEntries({ station, drafts, known, staying, strict }: Written): Fault[] {
  const kept = drafts.filter(draft => !draft.deleted)
  const names = new Set(kept.map(draft => ownId(draft.body)))
  const besides = staying.filter(r => r.station === station && (r.kind === 'station' || names.has(ownId(r.body))))
  const others = staying.filter(r => r.station !== station && names.has(ownId(r.body)))
  const taken = new Set(others.map(r => ownId(r.body)))
  const after = kept.map(draft => asStored(draft, known.get(draft.id)))
  const [at] = bookFromRecords([...besides, ...after], FROM).stations
  if (at === undefined) return []
  const check = recordCheck(at)
  return kept.flatMap(draft => {
    const list = listOf(draft.kind)
    if (list === undefined) return []
    const id = ownId(draft.body)
    const found = check(list, draft.body)
    if (rulesOfList(list).ids === undefined && taken.has(id))
      found.push({
        path: 'id',
        rule: `id must be unique in the file, but ${shown(id)} is also the id of a record of another station`,
      })
    const old = strict ? undefined : known.get(draft.id)
    return old === undefined || found.length === 0 ? found : withoutOld(found, check(list, old.body))
  })
}

/**
 * Every rule of the field book that these drafts would break, and that was not broken before. Where the station's own
 * record is not among them only the entries written are looked at.
 *
 * @param current  current revisions, tombstones included
 * @param strict   what an earlier revision of these records broke already counts too: a form shows all that is wrong with its record
 * @returns        an entry's paths from the record on, `shadow.rightMm`; a station's as in a book of this station alone
 */
export function faultsOfWriting(current: readonly StoredRecord[], drafts: readonly Draft[], strict = false): Fault[] {
  const known = new Map(current.map(record => [record.id, record]))
  const last = new Map(drafts.map(draft => [draft.id, draft]))
  const stations = new Set([...last.values()].map(draft => draft.station).filter(id => id !== ''))
  const faults: Fault[] = []
  for (const station of stations) {
    const written = [...last.values()].filter(draft => draft.station === station)
    const ids = new Set(written.map(draft => draft.id))
    const staying = current.filter(record => !record.deleted && !ids.has(record.id))
    const own = written.find(draft => draft.kind === 'station')
    if (own?.deleted) {
      const left = staying.filter(record => record.station === station).length
      if (left > 0) faults.push({ path: '', rule: `${left} of the station’s records would be left without it` })
      continue
    }
    const here: Written = { station, drafts: written, known, staying, strict }
    faults.push(...(own === undefined ? faultsOfEntries(here) : faultsOfStation(here)))
  }
  return faults
}
