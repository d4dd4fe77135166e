/**
 * The records on the phone: append, restore, history, delete a station. Each call is one transaction, whole or not at
 * all; the next revision number is found inside it, so two tabs cannot take the same one. Other tabs are told.
 */
import type { IDBPTransaction } from 'idb'
import {
  currentWithHistory,
  type Draft,
  madeAfter,
  madeOnUndo,
  type StoredRecord,
  sameJson,
  withHistory,
} from '../core/records/revisions.ts'
import {
  type BackupMark,
  type Database,
  type Handle,
  inTransaction,
  type Kept,
  type KeptCopy,
  openDatabase,
  type Schema,
  type Step,
  type StoreName,
  stopped,
  type Told,
} from './database.ts'
import { earlierBook } from './place.ts'
import { type Copied, copyKey, type SecondCopy, secondCopy } from './secondcopy.ts'

export interface StoreOptions {
  /** Name of the database. */
  name: string
  /** Version of the program, written beside every record. */
  app: string
  /** Unix ms now. */
  clock?: () => number
  ladder?: readonly Step[]
  /** Default: in the browser's Cache Storage, where there is one. null: none. */
  second?: SecondCopy | null
  patience?: { blocked?: number; open?: number; work?: number }
}

/** Bring `id` back to what it was at `revision`; 0 is before it existed. */
export interface Wanted {
  id: string
  revision: number
  /** The revision that is expected to be the current one; another tab may have gone on. */
  expect?: number
}

/** By a record's id, the revision that the writer takes for the current one; 0: it does not exist yet. */
export type Expected = ReadonlyMap<string, number>

export interface AppendOptions {
  /** 'overtaken' when one is no longer the current one; looked at inside the transaction, so that no other tab can come in between. */
  expected?: Expected
  /** @param share  of the drafts handed to the database, 0 to 1 */
  progress?: (share: number) => void
  /** Aborted: 'stopped', and nothing is written. */
  signal?: AbortSignal
}

export interface Store {
  /** The current revision of every record, tombstones included. */
  load(): Promise<Kept<StoredRecord[]>>
  /**
   * Adds one revision for each draft, all in one transaction. A draft handed in again with the same `writtenMs`
   * (a retry) is not written twice. Many drafts go in piece by piece, so that the page stays awake.
   * @throws RangeError  a body that is not plain JSON
   */
  append(drafts: readonly Draft[], options?: AppendOptions): Promise<Kept<StoredRecord[]>>
  /** Undo: new revisions with old bodies. 'overtaken' when an expected revision is no longer the current one. */
  restore(wanted: readonly Wanted[]): Promise<Kept<StoredRecord[] | 'overtaken'>>
  /** Every revision of one record, oldest first. */
  history(id: string): Promise<Kept<StoredRecord[]>>
  /** Tombstones for a station and all that belongs to it; in the same transaction its exported copy is kept. */
  deleteStation(station: string, copy: { name: string; text: string } | null): Promise<Kept<StoredRecord[]>>
  keptCopies(): Promise<Kept<KeptCopy[]>>
  marks(): Promise<Kept<BackupMark[]>>
  putMarks(marks: readonly BackupMark[]): Promise<Kept<void>>
  /** Reads one key: finds a cut connection before the person meets it. Call it when the page comes back. */
  probe(): Promise<Kept<void>>
  /** All that the second copy holds, every revision; null where the browser has no place for one. */
  copied(): Promise<Copied | null>
  /** Writes into the second copy alone. False when it could not. */
  keepCopy?(written: Copied): Promise<boolean>
  /** Brings database and second copy level, once more in this session; silent about what came back. */
  level(): Promise<Kept<void>>
  /** Throws the database away and makes it new from the second copy. The old one is gone even where this fails later. */
  remake(): Promise<Kept<void>>
  /** Called when another tab has written. Returns the way to stop. */
  onChanged(listener: () => void): () => void
  onTold(listener: (what: Told) => void): () => void
  close(): void
}

/** So many records are handed on at a time: a few milliseconds of the page's time. */
const PIECE = 100
/** At most so many entries of the second copy for one transaction. */
const MOST_ENTRIES = 100
/** A slow phone writes a record in this time, ms. */
const SLOWEST_MS = 3
const aMoment = (): Promise<void> => new Promise(resolve => setTimeout(resolve, 0))

type Writing = IDBPTransaction<Schema, StoreName[], 'readwrite'>

export function openStore(options: StoreOptions): Store {
  const clock = options.clock ?? (() => Date.now())
  const told = new Set<(what: Told) => void>()
  const changed = new Set<() => void>()
  const { name, ladder, patience } = options
  const second = options.second === undefined ? secondCopy(name) : (options.second ?? undefined)
  const database: Database = openDatabase({
    name,
    ...(ladder && { ladder }),
    ...(patience && { patience }),
    tell: what => {
      for (const listener of told) listener(what)
    },
    async fill(db) {
      const before = await second?.all()
      if (before !== undefined && (await putBack(db, before))) return true
      const earlier = await earlierBook(name)
      if (earlier) await putBack(db, earlier)
      for (const mark of earlier?.marks ?? []) await db.put('marks', mark)
      return false
    },
  })

  // Opened with the first use, so that importing this file has no effect.
  let channel: BroadcastChannel | undefined
  const channelToTabs = (): BroadcastChannel | undefined => {
    if (!channel && typeof BroadcastChannel !== 'undefined') {
      channel = new BroadcastChannel(`${name}-changed`)
      channel.onmessage = () => {
        for (const listener of changed) listener()
      }
    }
    return channel
  }
  const announce = <T>(answer: Kept<T>): Kept<T> => {
    if (answer.kind === 'done') channelToTabs()?.postMessage('changed')
    return answer
  }

  /** What is written counts as kept when it is in the second copy too, or when that one can't take it. */
  const alsoKept = async <T>(answer: Kept<T>, records: readonly StoredRecord[], copies: readonly KeptCopy[] = []) => {
    const piece = Math.max(4 * PIECE, Math.ceil(records.length / MOST_ENTRIES))
    for (let from = 0; from < records.length; from += piece)
      await second?.keep({ records: records.slice(from, from + piece), copies: from === 0 ? copies : [] })
    return announce(answer)
  }

  /** Once a session: what one of the two has and the other has not goes over. */
  let levelled = false
  async function level(db: Handle, records: readonly StoredRecord[]): Promise<void> {
    if (!second || levelled) return
    levelled = true
    const lacking = await second.level({ records, copies: await db.getAll('kept-copies') })
    if (!(await putBack(db, lacking))) return
    for (const listener of told) listener('put-back')
    for (const listener of changed) listener()
  }

  const last = async (tx: Writing, id: string): Promise<StoredRecord | undefined> => {
    const found = (await tx.objectStore('records').openCursor(revisionsOf(id), 'prev'))?.value
    if (found === undefined || found.made !== undefined || found.revision === 1) return found
    return withHistory(await tx.objectStore('records').getAll(revisionsOf(id)))
  }

  /** Adds a revision after `before`; a retry of what is already there adds nothing. */
  function put(tx: Writing, draft: Draft, before: StoredRecord | undefined, nowMs: number): StoredRecord {
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
      app: options.app,
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
    async load() {
      return database.run(async db => {
        const records = await db.getAll('records')
        level(db, records).catch(() => {}) // the next session tries again
        return currentWithHistory(records)
      })
    },

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

    async history(id) {
      return database.run(db => db.getAll('records', revisionsOf(id)))
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

    async keptCopies() {
      return database.run(db => db.getAll('kept-copies'))
    },

    async marks() {
      return database.run(db => db.getAll('marks'))
    },

    async putMarks(marks) {
      return announce(
        await database.run(db =>
          inTransaction(db, ['marks'], async tx => {
            for (const mark of marks)
              tx.objectStore('marks')
                .put(mark)
                .catch(() => {})
          }),
        ),
      )
    },

    async probe() {
      return database.run(async db => {
        await db.getKey('marks', 'probe')
      })
    },

    copied: async () => (await second?.all()) ?? null,
    ...(second && { keepCopy: written => second.keep(written) }),
    async level() {
      levelled = true
      return database.run(async db => {
        const stored = { records: await db.getAll('records'), copies: await db.getAll('kept-copies') }
        if (second) await putBack(db, await second.level(stored))
      })
    },
    remake: () => database.remake(),

    onChanged(listener) {
      channelToTabs()
      changed.add(listener)
      return () => changed.delete(listener)
    },

    onTold(listener) {
      told.add(listener)
      return () => told.delete(listener)
    },

    close() {
      channel?.close()
      channel = undefined
      database.close()
    },
  }
}

/** Adds what is not there, in one transaction; true when there was something to add. */
async function putBack(db: Handle, { records, copies }: Copied): Promise<boolean> {
  if (records.length === 0 && copies.length === 0) return false
  return inTransaction(db, ['records', 'kept-copies'], async tx => {
    const [into, copiesInto] = [tx.objectStore('records'), tx.objectStore('kept-copies')]
    const there = await Promise.all(records.map(record => into.getKey([record.id, record.revision])))
    const fresh = records.filter((_, index) => there[index] === undefined)
    for (const record of fresh) into.add(record).catch(() => {})
    const known = new Set((await copiesInto.getAll()).map(copyKey))
    const freshCopies = copies.filter(copy => !known.has(copyKey(copy)))
    for (const { key: _, ...copy } of freshCopies) copiesInto.add(copy).catch(() => {})
    return fresh.length + freshCopies.length > 0
  })
}

/** The ids of all records that there are, read in pieces. */
async function keysOf(tx: Writing): Promise<Set<string>> {
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

const revisionsOf = (id: string): IDBKeyRange => IDBKeyRange.bound([id, 0], [id, Number.POSITIVE_INFINITY])

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
