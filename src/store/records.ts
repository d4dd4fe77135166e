/**
 * The records on the phone: the door to them, and what reads. What writes is in `writing.ts`, which is loaded later. Other
 * tabs are told of each writing.
 */
import { currentRevisions, type StoredRecord } from '../core/records/stored.ts'
import {
  type Database,
  type Handle,
  inTransaction,
  type Kept,
  openDatabase,
  type Step,
  type StoreFailure,
  type Told,
} from './database.ts'
import { earlierBook } from './place.ts'
import { type Copied, copyKey, type SecondCopy, secondCopy } from './secondcopy.ts'
import { revisionsOf, type Store } from './store.ts'
import type { Writing } from './writing.ts'

export type { AppendOptions, Expected, Store, Wanted } from './store.ts'

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

const NOT_LOADED: StoreFailure = { kind: 'unavailable', message: 'the part of the program that writes did not load' }

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
  const radio = (): BroadcastChannel | undefined => {
    if (!channel && typeof BroadcastChannel !== 'undefined') {
      channel = new BroadcastChannel(`${name}-changed`)
      channel.onmessage = () => {
        for (const listener of changed) listener()
      }
    }
    return channel
  }
  const announce = <T>(answer: Kept<T>): Kept<T> => {
    if (answer.kind === 'done') radio()?.postMessage('changed')
    return answer
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

  // Not needed for the first screen. A page that cannot load it keeps what was to be written among the unsaved.
  let loading: Promise<Writing | null> | undefined
  function writing(): Promise<Writing | null> {
    loading ??= import('./writing.ts').then(
      ({ createWriting }) => createWriting({ database, second, app: options.app, clock, announce }),
      () => {
        loading = undefined
        return null
      },
    )
    return loading
  }

  return {
    async load() {
      return database.run(async db => {
        const records = await db.getAll('records')
        level(db, records).catch(() => {}) // the next session tries again
        const current = currentRevisions(records)
        if (!current.some(record => record.made === undefined && record.revision > 1)) return current
        // Of programs before version 0.2. Without it a merge asks more than it would have to.
        const older = await import('../core/records/revisions.ts').catch(() => null)
        return older?.currentWithHistory(records) ?? current
      })
    },

    append: async (drafts, how) => (await writing())?.append(drafts, how) ?? NOT_LOADED,
    restore: async wanted => (await writing())?.restore(wanted) ?? NOT_LOADED,
    deleteStation: async (station, copy) => (await writing())?.deleteStation(station, copy) ?? NOT_LOADED,

    async history(id) {
      return database.run(db => db.getAll('records', revisionsOf(id)))
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
      radio()
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
