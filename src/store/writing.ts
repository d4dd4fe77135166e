/**
 * The writing half of the store: append, restore, delete a station. Each call is one transaction, whole or not at all; the
 * next revision number is found inside it, so two tabs cannot take the same one. Loaded once the first screen stands.
 */
import type { IDBPTransaction } from 'idb'
import { currentWithHistory, madeAfter, madeOnUndo, withHistory } from '../core/records/revisions.ts'
import { type Draft, type StoredRecord, sameJson } from '../core/records/stored.ts'
import {
  type Database,
  type Handle,
  inTransaction,
  type Kept,
  type KeptCopy,
  type Schema,
  type StoreName,
  stopped,
} from './database.ts'
import type { SecondCopy } from './secondcopy.ts'
import { revisionsOf, type Store } from './store.ts'

export interface WritingOn {
  database: Database
  second: SecondCopy | undefined
  /** Version of the program, written beside every record. */
  app: string
  clock: () => number
  /** Tells other tabs of what was written. */
  announce: <T>(answer: Kept<T>) => Kept<T>
}

export type Writing = Pick<Store, 'append' | 'restore' | 'deleteStation'>

/** So many records are handed on at a time: a few milliseconds of the page's time. */
const PIECE = 100
/** At most so many entries of the second copy for one transaction. */
const MOST_ENTRIES = 100
/** A slow phone writes a record in this time, ms. */
const SLOWEST_MS = 3
const aMoment = (): Promise<void> => new Promise(resolve => setTimeout(resolve, 0))

type Transaction = IDBPTransaction<Schema, StoreName[], 'readwrite'>

export function createWriting({ database, second, app, clock, announce }: WritingOn): Writing {
  /** What is written counts as kept when it is in the second copy too, or when that one can't take it. */
  const alsoKept = async <T>(answer: Kept<T>, records: readonly StoredRecord[], copies: readonly KeptCopy[] = []) => {
    const piece = Math.max(4 * PIECE, Math.ceil(records.length / MOST_ENTRIES))
    for (let from = 0; from < records.length; from += piece)
      await second?.keep({ records: records.slice(from, from + piece), copies: from === 0 ? copies : [] })
    return announce(answer)
  }

  const last = async (tx: Transaction, id: string): Promise<StoredRecord | undefined> => {
    const found = (await tx.objectStore('records').openCursor(revisionsOf(id), 'prev'))?.value
    if (found === undefined || found.made !== undefined || found.revision === 1) return found
    return withHistory(await tx.objectStore('records').getAll(revisionsOf(id)))
  }

  /** Adds a revision after `before`; a retry of what is already there adds nothing. */
  function put(tx: Transaction, draft: Draft, before: StoredRecord | undefined, nowMs: number): StoredRecord {
    const deleted = draft.deleted ?? false
    const writtenMs = draft.writtenMs ?? nowMs
    if (before && before.writtenMs === writtenMs && before.deleted === deleted && sameJson(before.body, draft.body))
      return before
    const made = draft.made ?? madeAfter(before, draft)
    const record: StoredRecord = {
      id: draft.id,
      revision: (before?.revision ?? 0) + 1,
      kind: draft.kind,
      station: draft.station,
      deleted,
      place: draft.place ?? before?.place ?? 0,
      body: draft.body,
      writtenMs,
      app,
      ...(made && { made }),
      ...(draft.arrived && { arrived: true }),
    }
    // Not awaited: the transaction tells how it went. `add` refuses a revision that exists.
    tx.objectStore('records')
      .add(record)
      .catch(() => {})
    return record
  }

  return {
    async append(drafts, { expected, progress, signal } = {}) {
      for (const [index, draft] of drafts.entries()) {
        assertJson(draft.body, draft.id)
        if (index % (20 * PIECE) === 20 * PIECE - 1) await aMoment()
      }
      const nowMs = clock() // once: a retry on a fresh connection carries the same time
      const own = new Map(drafts.map(draft => [draft.id, draft]))
      const write = (db: Handle) =>
        inTransaction(db, ['records'], async tx => {
          const latest = new Map<string, StoredRecord | undefined>()
          const known = drafts.length > PIECE ? await keysOf(tx) : null
          const ids = [...new Set([...own.keys(), ...(expected?.keys() ?? [])])].filter(id => known?.has(id) ?? true)
          for (let from = 0; from < ids.length; from += PIECE) {
            if (signal?.aborted) throw stopped()
            await Promise.all(ids.slice(from, from + PIECE).map(async id => latest.set(id, await last(tx, id))))
          }
          for (const [id, revision] of expected ?? []) {
            const now = latest.get(id)
            // Our own first try, come through before the connection was lost, does not overtake itself.
            const ours = own.get(id)
            const isOurs =
              now !== undefined &&
              ours !== undefined &&
              now.writtenMs === (ours.writtenMs ?? nowMs) &&
              sameJson(now.body, ours.body)
            if ((now?.revision ?? 0) !== revision && !isOurs) return 'overtaken' as const
          }
          const written: StoredRecord[] = []
          for (let from = 0; from < drafts.length; from += PIECE) {
            if (signal?.aborted) throw stopped()
            for (const draft of drafts.slice(from, from + PIECE)) {
              const record = put(tx, draft, latest.get(draft.id), nowMs)
              latest.set(draft.id, record)
              written.push(record)
            }
            progress?.(from / drafts.length)
            // Something to wait for, so that the page has its turn: a transaction without a request is over.
            if (from + PIECE < drafts.length) await tx.objectStore('records').getKey(['', 0])
          }
          return written
        })
      const answer = await database.run(write, drafts.length * SLOWEST_MS)
      if (answer.kind !== 'done') return answer
      const { value } = answer
      if (value === 'overtaken') return { kind: 'overtaken', message: 'changed since' }
      return alsoKept({ kind: 'done', value }, value)
    },

    async restore(wanted) {
      const nowMs = clock()
      let tries = 0
      const answer = await database.run(db =>
        inTransaction(db, ['records'], async tx => {
          const found: { now: StoredRecord | undefined; old: StoredRecord | undefined }[] = []
          for (let from = 0; from < wanted.length; from += PIECE) {
            const some = wanted.slice(from, from + PIECE).map(async ({ id, revision }) => ({
              now: await last(tx, id),
              old: revision > 0 ? await tx.objectStore('records').get([id, revision]) : undefined,
            }))
            found.push(...(await Promise.all(some)))
          }
          // Our own first try, come through before the connection was lost, does not overtake itself.
          const again = tries++ > 0
          const overtaken = wanted.some(({ expect }, index) => {
            const { now } = found[index]!
            return expect !== undefined && now?.revision !== expect && !(again && now?.writtenMs === nowMs)
          })
          if (overtaken) return 'overtaken' as const
          const written = wanted.map(({ id, revision }, index) => {
            const { now, old } = found[index]!
            if (!now || (revision > 0 && !old))
              throw new RangeError(`restore: must be a stored revision, got ${id} revision ${revision}`)
            const { body, deleted } = old ?? { body: now.body, deleted: true }
            const { made: _, arrived: __, ...draft } = now
            const made = madeOnUndo(now, old)
            return put(tx, { ...draft, body, deleted, writtenMs: nowMs, ...(made && { made }) }, now, nowMs)
          })
          return written
        }),
      )
      return alsoKept(answer, answer.kind === 'done' && answer.value !== 'overtaken' ? answer.value : [])
    },

    async deleteStation(station, copy) {
      const nowMs = clock()
      let kept: KeptCopy[] = []
      const answer = await database.run(db =>
        inTransaction(db, ['records', 'kept-copies'], async tx => {
          const all = await tx.objectStore('records').index('station').getAll(station)
          const alive = currentWithHistory(all).filter(record => !record.deleted)
          kept = copy && alive.length > 0 ? [{ station, name: copy.name, madeMs: nowMs, text: copy.text }] : []
          for (const one of kept)
            tx.objectStore('kept-copies')
              .add({ ...one })
              .catch(() => {})
          return alive.map(record => {
            const { made: _, arrived: __, ...draft } = record
            return put(tx, { ...draft, deleted: true, writtenMs: nowMs }, record, nowMs)
          })
        }),
      )
      return alsoKept(answer, answer.kind === 'done' ? answer.value : [], kept)
    },
  }
}

/** The ids of all records that there are, read in pieces. */
async function keysOf(tx: Transaction): Promise<Set<string>> {
  const ids = new Set<string>()
  let after: [string, number] = ['', 0]
  for (;;) {
    const keys = await tx.objectStore('records').getAllKeys(IDBKeyRange.lowerBound(after, true), 16 * PIECE)
    for (const [id] of keys) ids.add(id)
    const end = keys.at(-1)
    if (end === undefined) return ids
    after = end
  }
}

/**
 * Only plain JSON goes into the database: a NaN would become null in the next export, a Blob can take the connection
 * down on iOS. A key that is undefined counts as left out.
 */
function assertJson(value: unknown, where: string): void {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return
  if (typeof value === 'number' && Number.isFinite(value)) return
  if (Array.isArray(value)) {
    for (const [index, item] of value.entries()) assertJson(item, `${where}[${index}]`)
    return
  }
  const proto = typeof value === 'object' ? Object.getPrototypeOf(value) : undefined
  if (proto === Object.prototype || proto === null) {
    for (const [key, item] of Object.entries(value as object))
      if (item !== undefined) assertJson(item, `${where}.${key}`)
    return
  }
  throw new RangeError(`append: a record must be plain JSON, got ${String(value)} at ${where}`)
}
