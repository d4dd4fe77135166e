/**
 * The writing half of the store: append, restore, delete a station. Each call is one transaction, whole or not at all; the
 * next revision number is found inside it, so two tabs cannot take the same one. Loaded once the first screen stands.
 */
import { type IDBPTransaction, unwrap } from 'idb'
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
import { type AppendOptions, revisionsOf, type Store } from './store.ts'

interface WritingOn {
  database: Database
  second: SecondCopy | undefined
  /** Version of the program, written beside every record. */
  app: string
  clock: () => number
  /** Tells other tabs of what was written. */
  announce: <T>(answer: Kept<T>) => Kept<T>
}

export type StoreWriting = Pick<Store, 'append' | 'restore' | 'deleteStation'>

/** Records written at a time: a few milliseconds of the page's thread. */
const PIECE = 100
/** Entries of the second copy for one transaction, at most. */
const MOST_ENTRIES = 100
/** A slow phone writes a record in this time, ms. */
const SLOWEST_MS = 3
/** Settles as the request does. */
const answered = (request: IDBRequest): Promise<void> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve()
    request.onerror = () => reject(request.error)
  })
const aMoment = (): Promise<void> => new Promise(resolve => setTimeout(resolve, 0))

type Transaction = IDBPTransaction<Schema, StoreName[], 'readwrite'>

export function createStoreWriting({ database, second, app, clock, announce }: WritingOn): StoreWriting {
  /** A write counts as kept when it is in the second copy too, or when that one cannot take it. */
  const alsoKept = async <T>(answer: Kept<T>, records: readonly StoredRecord[], copies: readonly KeptCopy[] = []) => {
    const piece = Math.max(4 * PIECE, Math.ceil(records.length / MOST_ENTRIES))
    let before: Promise<unknown> | undefined
    for (let from = 0; from < records.length; from += piece) {
      const mine = second?.keep({ records: records.slice(from, from + piece), copies: from === 0 ? copies : [] })
      await (from === 0 ? aMoment() : before) // two at a time, and the page has its turn
      before = mine
    }
    await before
    return announce(answer)
  }

  const last = async (tx: Transaction, id: string): Promise<StoredRecord | undefined> => {
    const found = (await tx.objectStore('records').openCursor(revisionsOf(id), 'prev'))?.value
    if (found === undefined || found.made !== undefined || found.revision === 1) return found
    return withHistory(await tx.objectStore('records').getAll(revisionsOf(id)))
  }

  /** The revision after `before`; of a retry of what is already there, that one. */
  function following(draft: Draft, before: StoredRecord | undefined, nowMs: number): StoredRecord {
    const deleted = draft.deleted ?? false
    const writtenMs = draft.writtenMs ?? nowMs
    if (before && before.writtenMs === writtenMs && before.deleted === deleted && sameJson(before.body, draft.body))
      return before
    const made = draft.made ?? madeAfter(before, draft)
    return {
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
  }

  /**
   * Adds a revision for each draft, piece by piece: the page can run in between, and the database always has a piece to work on.
   *
   * @param latest  the current revision of each; kept up to date
   */
  async function putAll(
    tx: Transaction,
    drafts: readonly Draft[],
    latest: Map<string, StoredRecord | undefined>,
    nowMs: number,
    { progress, signal }: Pick<AppendOptions, 'progress' | 'signal'> = {},
  ): Promise<StoredRecord[]> {
    // Without idb's wrapping of each request, which cost a third of the time of a large import.
    const into = unwrap(tx.objectStore('records')) as unknown as IDBObjectStore
    const written: StoredRecord[] = []
    let before: Promise<void> | undefined
    for (let from = 0; from < drafts.length; from += PIECE) {
      if (signal?.aborted) throw stopped()
      for (const draft of drafts.slice(from, from + PIECE)) {
        const known = latest.get(draft.id)
        const record = following(draft, known, nowMs)
        // Not awaited: the transaction reports how it went. `add` refuses a revision that exists.
        if (record !== known) into.add(record)
        latest.set(draft.id, record)
        written.push(record)
      }
      progress?.(from / drafts.length)
      if (from + PIECE >= drafts.length) break
      // Something to wait for: a transaction without a request is over.
      const mine = answered(into.getKey(['', 0]))
      mine.catch(() => {}) // when all of it is stopped nobody waits for it
      await before
      before = mine
    }
    return written
  }

  return {
    async append(drafts, { expected, progress, signal } = {}) {
      const own = new Map<string, Draft>()
      for (const [index, draft] of drafts.entries()) {
        assertJson(draft.body, draft.id)
        own.set(draft.id, draft)
        if (index % (20 * PIECE) === 20 * PIECE - 1) await aMoment()
      }
      const nowMs = clock() // once: a retry on a fresh connection carries the same time
      const write = (db: Handle) =>
        inTransaction(db, ['records'], async tx => {
          const latest = new Map<string, StoredRecord | undefined>()
          const ids =
            drafts.length > PIECE
              ? [...(await keysOf(tx))].filter(id => own.has(id) || expected?.has(id))
              : [...new Set([...own.keys(), ...(expected?.keys() ?? [])])]
          for (let from = 0; from < ids.length; from += PIECE) {
            if (signal?.aborted) throw stopped()
            await Promise.all(ids.slice(from, from + PIECE).map(async id => latest.set(id, await last(tx, id))))
          }
          for (const [id, revision] of expected ?? []) {
            const now = latest.get(id)
            if ((now?.revision ?? 0) === revision) continue
            // Our own first try, come through before the connection was lost, does not overtake itself.
            const ours = own.get(id)
            const isOurs =
              now !== undefined &&
              ours !== undefined &&
              now.writtenMs === (ours.writtenMs ?? nowMs) &&
              sameJson(now.body, ours.body)
            if (!isOurs) return 'overtaken' as const
          }
          return putAll(tx, drafts, latest, nowMs, { ...(progress && { progress }), ...(signal && { signal }) })
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
      const answer = await database.run(
        db =>
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
            const drafts = wanted.map(({ id, revision }, index): Draft => {
              const { now, old } = found[index]!
              if (!now || (revision > 0 && !old))
                throw new RangeError(`restore: must be a stored revision, got ${id} revision ${revision}`)
              const { body, deleted } = old ?? { body: now.body, deleted: true }
              const { made: _, arrived: __, ...draft } = now
              const made = madeOnUndo(now, old)
              return { ...draft, body, deleted, writtenMs: nowMs, ...(made && { made }) }
            })
            return putAll(tx, drafts, new Map(found.map(({ now }) => [now!.id, now])), nowMs)
          }),
        wanted.length * SLOWEST_MS,
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
          const drafts = alive.map(({ made: _, arrived: __, ...draft }) => ({
            ...draft,
            deleted: true,
            writtenMs: nowMs,
          }))
          return putAll(tx, drafts, new Map(alive.map(record => [record.id, record])), nowMs)
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
