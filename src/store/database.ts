/**
 * The connection to the database on the phone: opened when first needed, upgraded step by step, reopened when the
 * system has cut it (iOS does so in the background), with one retry. Whatever happens in the field is an answer with
 * a kind; only a mistake in our own code throws.
 * A transaction counts as written when `done` has resolved, never earlier.
 */
import { type DBSchema, type IDBPDatabase, type IDBPTransaction, wrap } from 'idb'
import type { StoredRecord } from '../core/records/stored.ts'
import { nextShelf, shelfOf } from './shelf.ts'

type StoreFailureKind =
  /** No room left on the phone; nothing was written. */
  | 'full'
  /** Another tab with an older version of the program holds the database open. */
  | 'blocked'
  /** The system cut the connection, and the one retry failed too. */
  | 'dropped'
  /** A newer version of the program has opened the database in another tab: reload this one. */
  | 'newer-tab'
  /** No database here: switched off, refused, or broken. */
  | 'unavailable'
  /** A newer revision than the expected one exists, from another tab or since a form was opened: nothing was written. */
  | 'overtaken'
  /** Against the rules of the whole station; the message says which. Nothing was written. */
  | 'refused'
  /** The person stopped it; nothing was written. */
  | 'stopped'

export interface StoreFailure {
  kind: StoreFailureKind
  message: string
}
export type Kept<T> = { kind: 'done'; value: T } | StoreFailure

/** A copy of a station's field book, kept when the station was deleted. */
export interface KeptCopy {
  key?: number
  station: string
  name: string
  madeMs: number
  text: string
}
export interface BackupMark {
  key: string
  ms: number
  count: number
  /** Which revisions the copy held: a hash of each, ascending. Marks of older versions have none. */
  held?: Uint32Array
}

export interface Schema extends DBSchema {
  records: { key: [string, number]; value: StoredRecord; indexes: { station: string } }
  'kept-copies': { key: number; value: KeptCopy }
  marks: { key: string; value: BackupMark }
}
export type StoreName = 'records' | 'kept-copies' | 'marks'
export type Handle = IDBPDatabase<Schema>
export type UpgradeStep = (db: Handle, tx: IDBPTransaction<Schema, StoreName[], 'versionchange'>) => void

/** Step n leads from version n to n + 1. A step that has been released is never edited. */
export const LADDER: readonly UpgradeStep[] = [
  db => {
    const records = db.createObjectStore('records', { keyPath: ['id', 'revision'] })
    records.createIndex('station', 'station')
    db.createObjectStore('kept-copies', { keyPath: 'key', autoIncrement: true })
    db.createObjectStore('marks', { keyPath: 'key' })
  },
]

/** What the person should be told, apart from answers to what they did. */
export type StoreNotice =
  | 'blocked'
  | 'closed-for-newer'
  | 'dropped'
  | 'reopened'
  /** The browser had lost the database; what was in it came back from the second copy. */
  | 'put-back'

interface DatabaseOptions {
  name: string
  ladder?: readonly UpgradeStep[]
  tell?: (what: StoreNotice) => void
  /** Fills a new database with what an earlier one held; true when there was something. */
  fill?: (db: Handle) => Promise<boolean>
  /** How long to wait, ms: for other tabs to let go, for the database to open, for one piece of work. */
  patience?: { blocked?: number; open?: number; work?: number }
}

export interface Database {
  /**
   * Runs `work` on an open connection, and again on a new one if the connection was lost: `work` must allow that.
   * @param moreMs  extra waiting time for a lot of work
   */
  run<T>(work: (db: Handle) => Promise<T>, moreMs?: number): Promise<Kept<T>>
  /** Deletes the database and opens a new one, filled by `fill`. */
  remake(): Promise<Kept<void>>
  /** Closes the connection; the next `run` opens it again. */
  close(): void
}

class Problem extends Error {
  readonly kind: StoreFailureKind
  constructor(kind: StoreFailureKind, message: string) {
    super(message)
    this.kind = kind
  }
}

/** Thrown inside a transaction that the person stops. */
export const stopped = (): Error => new Problem('stopped', 'stopped')

/** One opening of the database. `held` once another tab is known to block its upgrade. */
interface Opening {
  ready: Promise<Handle>
  blocked: Promise<never>
  held: boolean
}

export function openDatabase(options: DatabaseOptions): Database {
  const ladder = options.ladder ?? LADDER
  const tell = options.tell ?? (() => {})
  const patience = { blocked: 2_000, open: 5_000, work: 30_000, ...options.patience }
  let current: Opening | undefined
  let lost = false
  let everOpened = false

  const shelf = () => shelfOf(options.name)
  const drop = (which: Opening | undefined) => {
    if (!which || which !== current) return
    current = undefined
    // An opening that answers late is closed: it would hold up a later upgrade.
    which.ready.then(
      db => db.close(),
      () => {},
    )
  }

  function start(): Opening {
    let refuse: (problem: Problem) => void = () => {}
    const blocked = new Promise<never>((_, reject) => {
      refuse = reject
    })
    blocked.catch(() => {})
    let isNew = false
    const ready = openOn(shelf(), options.name, ladder.length, {
      upgrade(db, from, _to, tx) {
        tx.done.catch(() => {}) // the opening itself reports a failed upgrade
        isNew = from === 0
        for (const step of ladder.slice(from)) step(db, tx as never)
      },
      blocked() {
        // The opening goes on: it succeeds by itself as soon as the other tab is gone.
        mine.held = true
        tell('blocked')
        setTimeout(() => refuse(new Problem('blocked', 'another tab holds an older database open')), patience.blocked)
      },
      blocking(_from, to) {
        drop(mine)
        if (to !== null) tell('closed-for-newer')
      },
      terminated() {
        lost = true
        drop(mine)
        tell('dropped')
      },
    }).then(async db => {
      if (isNew && (await options.fill?.(db))) tell('put-back')
      return db
    })
    const mine: Opening = { ready, blocked, held: false }
    ready.then(
      () => {
        if (lost) tell('reopened')
        lost = false
        everOpened = true
      },
      () => drop(mine),
    )
    return mine
  }

  async function opened(): Promise<Handle> {
    current ??= start()
    const mine = current
    return inTime(Promise.race([mine.ready, mine.blocked]), patience.open, () => {
      if (mine.held) return new Problem('blocked', 'another tab holds an older database open')
      drop(mine)
      return new Problem('dropped', 'the database did not open in time')
    })
  }

  async function run<T>(work: (db: Handle) => Promise<T>, moreMs = 0): Promise<Kept<T>> {
    for (let attempt = 0; ; attempt++) {
      try {
        const db = await opened()
        const late = () => new Problem('dropped', 'the database did not answer in time')
        return { kind: 'done', value: await inTime(work(db), patience.work + moreMs, late) }
      } catch (error) {
        const failure = failureOf(error)
        if (failure.kind !== 'dropped') return failure
        lost = true
        drop(current)
        if (attempt === 0) tell('dropped')
        else return everOpened ? failure : { kind: 'unavailable', message: failure.message }
      }
    }
  }

  return {
    run,
    async remake() {
      drop(current)
      let failure: StoreFailure
      try {
        let isBlocked = false
        const deleted = deleteOn(shelf(), options.name, () => {
          isBlocked = true
        })
        await inTime(deleted, patience.open, () =>
          isBlocked
            ? new Problem('blocked', 'another tab holds the database open')
            : new Problem('dropped', 'the database was not deleted in time'),
        )
        const made = await run(async () => {})
        if (made.kind === 'done') return made
        failure = made
      } catch (error) {
        failure = failureOf(error)
      }
      // Files that do not open cannot be deleted either: the new database gets its own files.
      const isBroken = failure.kind === 'dropped' || failure.kind === 'unavailable'
      return isBroken && (await nextShelf(options.name)) ? run(async () => {}) : failure
    },
    close: () => drop(current),
  }
}

interface Callbacks {
  upgrade: (
    db: Handle,
    from: number,
    to: number | null,
    tx: IDBPTransaction<Schema, StoreName[], 'versionchange'>,
  ) => void
  blocked: () => void
  blocking: (from: number, to: number | null) => void
  terminated: () => void
}
type Shelf = ReturnType<typeof shelfOf>

/** As idb's openDB, on databases of our choice. */
async function openOn(shelf: Shelf, name: string, version: number, on: Callbacks): Promise<Handle> {
  const factory = shelf instanceof Promise ? await shelf : shelf
  if (factory === undefined) throw new Problem('unavailable', 'this browser has no IndexedDB')
  const request = factory.open(name, version)
  request.addEventListener('upgradeneeded', event => {
    on.upgrade(wrap(request.result) as never, event.oldVersion, event.newVersion, wrap(request.transaction!) as never)
  })
  request.addEventListener('blocked', on.blocked)
  const opening = wrap(request) as unknown as Promise<Handle>
  return opening.then(db => {
    db.addEventListener('close', on.terminated)
    db.addEventListener('versionchange', event => on.blocking(event.oldVersion, event.newVersion))
    return db
  })
}

async function deleteOn(shelf: Shelf, name: string, blocked: () => void): Promise<void> {
  const factory = shelf instanceof Promise ? await shelf : shelf
  if (factory === undefined) throw new Problem('unavailable', 'this browser has no IndexedDB')
  const request = factory.deleteDatabase(name)
  request.addEventListener('blocked', blocked)
  await (wrap(request) as unknown as Promise<void>)
}

/**
 * One transaction, flushed to the medium before it counts (`strict`; browsers default to relaxed). Resolves only when
 * it is complete; otherwise nothing of it is stored, and the reason is thrown: a full disk is reported by the
 * transaction only, its requests just say that they were aborted.
 */
export async function inTransaction<T>(
  db: Handle,
  stores: StoreName[],
  work: (tx: IDBPTransaction<Schema, StoreName[], 'readwrite'>) => Promise<T>,
): Promise<T> {
  const tx = db.transaction(stores, 'readwrite', { durability: 'strict' })
  const ended = tx.done.then(
    () => undefined,
    (error: unknown) => ({ error }),
  )
  let value: T
  try {
    value = await work(tx)
  } catch (error) {
    try {
      tx.abort()
    } catch {
      // already over
    }
    const end = await ended
    throw end && nameOf(end.error) !== 'AbortError' ? end.error : error
  }
  const end = await ended
  if (end) throw end.error
  return value
}

function inTime<T>(promise: Promise<T>, ms: number, late: () => Error): Promise<T> {
  let timer: ReturnType<typeof setTimeout> | undefined
  const limit = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(late()), ms)
  })
  return Promise.race([promise, limit]).finally(() => clearTimeout(timer))
}

const nameOf = (error: unknown): string => (error as { name?: string } | null)?.name ?? ''

/** What the browsers throw when the connection is gone. WebKit: UnknownError; Chromium: UnknownError, AbortError. */
const GONE = new Set(['InvalidStateError', 'UnknownError', 'AbortError', 'TimeoutError', 'NotFoundError'])
const OUR_MISTAKE = new Set([
  'ConstraintError',
  'DataCloneError',
  'DataError',
  'InvalidAccessError',
  'ReadOnlyError',
  'SyntaxError',
  'TransactionInactiveError',
])

/** The kind of a failure. A mistake in our own code is rethrown. */
export function failureOf(error: unknown): StoreFailure {
  if (error instanceof Problem) return { kind: error.kind, message: error.message }
  const name = nameOf(error)
  const message = `${name}: ${(error as { message?: string } | null)?.message ?? String(error)}`
  if (name === 'QuotaExceededError') return { kind: 'full', message }
  if (name === 'VersionError') return { kind: 'newer-tab', message }
  if (GONE.has(name) || /Indexed Database server lost|opening backing store/i.test(message))
    return { kind: 'dropped', message }
  if (error instanceof DOMException && !OUR_MISTAKE.has(name)) return { kind: 'unavailable', message }
  throw error
}
