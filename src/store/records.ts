/**
 * The records on the phone: opening and reading them. Writing is in `writing.ts`, which is loaded later. Other
 * tabs are told of each write.
 */
import type { StoredRecord } from '../core/records/stored.ts'
import {
  type Database,
  type Handle,
  inTransaction,
  type Kept,
  openDatabase,
  type StoreFailure,
  type StoreNotice,
  type UpgradeStep,
} from './database.ts'
import { levelled, levelledApart, putBack } from './levelling.ts'
import { earlierBook } from './place.ts'
import { type SecondCopy, secondCopy } from './secondcopy.ts'
import { bucketOf } from './shelf.ts'
import { revisionsOf, type Store } from './store.ts'
import type { StoreWriting } from './writing.ts'

export type { AppendOptions, ExpectedRevisions, Store, Wanted } from './store.ts'

interface StoreOptions {
  /** Name of the database. */
  name: string
  /** Version of the program, written beside every record. */
  app: string
  /** Unix ms now. */
  clock?: () => number
  ladder?: readonly UpgradeStep[]
  /** Default: in the browser's Cache Storage, where there is one. null: none. */
  second?: SecondCopy | null
  patience?: { blocked?: number; open?: number; work?: number }
}

const NOT_LOADED: StoreFailure = { kind: 'unavailable', message: 'the part of the app that writes did not load' }

/** Records read at a time: a few milliseconds of the page's thread. */
const PIECE = 1000
/** With more records than this, merging the second copy would block the page. */
const MANY = 2000

/** Every revision, and the current ones, in one transaction; the page has its turn after each piece. */
async function readRecords(db: Handle): Promise<{ records: StoredRecord[]; current: StoredRecord[] }> {
  const { store } = db.transaction('records')
  const records: StoredRecord[] = []
  const current = new Map<string, StoredRecord>()
  for (let after: [string, number] | undefined; ; ) {
    const some = await store.getAll(after && IDBKeyRange.lowerBound(after, true), PIECE)
    for (const record of some) {
      records.push(record)
      current.set(record.id, record) // by revision within each id: the last is the highest
    }
    const last = some.at(-1)
    if (last === undefined || some.length < PIECE) return { records, current: [...current.values()] }
    after = [last.id, last.revision]
  }
}

export function openStore(options: StoreOptions): Store {
  const clock = options.clock ?? (() => Date.now())
  const told = new Set<(what: StoreNotice) => void>()
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

  // Opened at first use, so that importing this file has no effect.
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

  /** Once a session database and second copy are brought level. */
  let isLevel = false
  async function level(db: Handle, count: number): Promise<void> {
    if (!second || isLevel) return
    isLevel = true
    const isApart = options.second === undefined && count > MANY && typeof Worker === 'function'
    const cameBack = isApart ? await levelledApart(name, bucketOf(name)) : null
    if (!(cameBack ?? (await levelled(db, second)))) return
    for (const listener of told) listener('put-back')
    for (const listener of changed) listener()
  }

  // Not needed for the first screen. A page that cannot load it keeps what was to be written among the unsaved.
  let loading: Promise<StoreWriting | null> | undefined
  function writing(): Promise<StoreWriting | null> {
    loading ??= import('./writing.ts').then(
      ({ createStoreWriting: createWriting }) => createWriting({ database, second, app: options.app, clock, announce }),
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
        const { records, current } = await readRecords(db)
        level(db, records.length).catch(() => {}) // the next session tries again
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
      isLevel = true
      return database.run(async db => {
        if (second) await levelled(db, second)
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
