/**
 * When the database does not open: the book from the second copy, or an empty one, in a store in memory that stands in for
 * it; and the way back, once it opens, with what was written meanwhile.
 */
import { batch, type ReadonlySignal, signal } from '@preact/signals'
import { version } from '../../package.json'
import { currentRevisions, type Draft } from '../core/records/stored.ts'
import type { BackupMark, Kept, StoreFailure } from '../store/database.ts'
import type { MemoryStore } from '../store/memorystore.ts'
import type { Store } from '../store/records.ts'
import type { Standing } from './bookmodel.ts'
import type { BookRecords } from './bookrecords.ts'
import type { UndoSteps } from './undosteps.ts'
import type { Writing } from './writing.ts'

interface StandIn {
  standing: ReadonlySignal<Standing>
  /** The database, or what stands in for it. */
  store(): Store
  isIn(): boolean
  /** What is written from now on goes into the database later. */
  begin(failure: StoreFailure): Promise<void>
  /** Call when the database may open again; without a stand-in it is only read again. */
  backToDatabase(): Promise<Kept<void>>
}

export function createStandIn(o: {
  database: Store
  clock: () => number
  records: BookRecords
  undo: UndoSteps
  writing: () => Writing
  load: () => Promise<Kept<void>>
  /** The book stands, with these marks of backups; null: as they were. */
  onRead: (marks: readonly BackupMark[] | null) => void
}): StandIn {
  const { database, clock, records, undo } = o
  const standing = signal<Standing>({ kind: 'database' })
  let standIn: MemoryStore | undefined

  let returning: Promise<Kept<void>> | undefined
  async function goBack(from: MemoryStore): Promise<Kept<void>> {
    const wasCopy = standing.value.kind === 'copy'
    // What was written into the second copy meanwhile is taken from there, with its numbers.
    const levelled: Kept<void> = await database.level()
    const found = levelled.kind === 'done' ? await database.load() : levelled
    if (found.kind !== 'done') {
      standing.value = { ...standing.value, failure: found } as Standing
      return found
    }
    const marks = await database.marks()
    batch(() => {
      standIn = undefined
      records.replaceAll(found.value)
      undo.forgetAll() // their revisions may have other numbers there
      standing.value = { kind: 'database' }
      o.onRead(marks.kind === 'done' ? marks.value : null)
    })
    if (!wasCopy)
      await takeOver(currentRevisions(from.writtenHere()).map(({ revision: _, app: __, ...draft }) => draft))
    if (o.writing().unsaved.value.length > 0) await o.writing().retry()
    return { kind: 'done', value: undefined }
  }

  /** Writes what was only in this page's memory. Where the database has the record the person is asked. */
  async function takeOver(drafts: readonly Draft[]): Promise<void> {
    const isKnown = ({ id }: Draft) => records.known(id) !== undefined
    for (const part of [drafts.filter(draft => !isKnown(draft)), drafts.filter(isKnown)])
      if (part.length > 0)
        await o.writing().write({ kind: 'take-over', place: 'book', subject: { records: part.length } }, part, {
          checked: true,
          expected: new Map(part.map(({ id }) => [id, 0])),
        })
  }

  return {
    standing,
    store: () => standIn ?? database,
    isIn: () => standIn !== undefined,
    async begin(failure) {
      const copied = await database.copied()
      const { keepCopy } = database
      const memory = await import('../store/memorystore.ts').catch(() => null)
      if (memory === null) {
        // Not even that code could be loaded: an empty book, and what is entered waits among the unsaved.
        batch(() => {
          standing.value = { kind: 'memory', failure }
          o.onRead(null)
        })
        return
      }
      standIn = memory.openMemoryStore({
        app: version,
        clock,
        from: copied ?? { records: [], copies: [] },
        ...(copied && keepCopy && { keep: what => keepCopy(what) }),
      })
      const found = await standIn.load()
      batch(() => {
        if (found.kind === 'done') records.takeIn(found.value)
        standing.value =
          copied === null ? { kind: 'memory', failure } : { kind: 'copy', failure, records: copied.records.length }
        o.onRead(null)
      })
    },
    backToDatabase() {
      if (!standIn) return o.load()
      returning ??= goBack(standIn).finally(() => {
        returning = undefined
      })
      return returning
    },
  }
}
