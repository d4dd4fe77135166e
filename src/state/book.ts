/**
 * The whole book in one signal, and the actions that change it. An action hands its records to the store, and the book
 * changes when they are written, not before. What could not be written stays in `unsaved` until it is, or until the
 * person throws it away.
 */
import { batch, computed, type ReadonlySignal, signal } from '@preact/signals'
import { version } from '../../package.json'
import type { FieldBook, StationRecord } from '../core/records/fieldbook.ts'
import {
  bookFromRecords,
  type Draft,
  type ListKind,
  newsFor,
  nextPlace,
  type RecordKind,
  recordId,
  recordsFromBook,
  type StoredRecord,
} from '../core/records/revisions.ts'
import { type BackupNeed, exportMarks, needsBackup } from '../store/backup.ts'
import type { Kept, KeptCopy, Mark, StoreFailure, Told } from '../store/database.ts'
import { type AppendOptions, openStore, type Store, type Wanted } from '../store/records.ts'
import { askToPersist } from '../store/room.ts'
import { remember, remembered } from './memory.ts'

export type Status = { kind: 'loading' } | { kind: 'ready' } | { kind: 'failed'; failure: StoreFailure }
export type SaveState =
  | { kind: 'idle' }
  | { kind: 'saving' }
  /** On the medium: show the tick now, not earlier. */
  | { kind: 'saved'; atMs: number }
  | { kind: 'unsaved'; failure: StoreFailure }

/** Records that belong together and are not on the medium yet. */
export interface Unsaved {
  /** What the person did, in words, for the undo button and the list. */
  what: string
  drafts: readonly Draft[]
  failure: StoreFailure
}
export type Undone = Kept<StoredRecord[]> | { kind: 'nothing' } | { kind: 'overtaken' }

interface Step {
  what: string
  wanted: Wanted[]
}

export interface BookModel {
  status: ReadonlySignal<Status>
  /** Current revisions, tombstones included. */
  records: ReadonlySignal<readonly StoredRecord[]>
  book: ReadonlySignal<FieldBook>
  stations: ReadonlySignal<readonly StationRecord[]>
  stationId: ReadonlySignal<string | null>
  station: ReadonlySignal<StationRecord | null>
  saving: ReadonlySignal<SaveState>
  unsaved: ReadonlySignal<readonly Unsaved[]>
  /** What `undo` would take back, in words. */
  undoable: ReadonlySignal<string | null>
  backups: ReadonlySignal<readonly BackupNeed[]>
  /** The last thing the database had to say: blocked, closed for a newer tab, dropped, reopened. */
  told: ReadonlySignal<Told | null>
  /** The browser had lost the book, and it came back from the second copy; the person has not read so yet. */
  putBack: ReadonlySignal<boolean>
  seePutBack(): void

  load(): Promise<Kept<void>>
  chooseStation(id: string | null): void
  /** Writes drafts that belong together, in one transaction. */
  save(what: string, drafts: readonly Draft[], options?: AppendOptions): Promise<Kept<StoredRecord[]>>
  retryUnsaved(): Promise<Kept<void>>
  discardUnsaved(unsaved: Unsaved): void
  undo(): Promise<Undone>
  history(id: string): Promise<Kept<StoredRecord[]>>
  /** @param text  the station's exported field book, kept on the phone */
  deleteStation(id: string, text: string | null): Promise<Kept<StoredRecord[]>>
  keptCopies(): Promise<Kept<KeptCopy[]>>
  /** All or nothing; what is already here is not written again. `value` = how many records were new or changed. */
  importBook(book: FieldBook): Promise<Kept<number>>
  /** With revision numbers. @param stations  default: all */
  exportBook(nowMs: number, stations?: readonly string[]): FieldBook
  noteExported(stations: readonly string[], nowMs: number): Promise<Kept<void>>
  /** Looks after the connection and other tabs; returns the way to stop. */
  start(): () => void
}

/** A new id, the same length as those in field books from anywhere. */
export function newId(): string {
  if (typeof crypto.randomUUID === 'function') return crypto.randomUUID()
  const bytes = crypto.getRandomValues(new Uint8Array(16))
  return [...bytes].map(b => b.toString(16).padStart(2, '0')).join('')
}

/** A record of a station's list, to be saved: new, or a new revision of the one with that id. */
export const entry = <T extends { id: string }>(kind: ListKind, station: string, body: T): Draft => ({
  id: recordId(kind, station, body.id),
  kind,
  station,
  body,
})

/** A station without its lists; whatever lists it holds are emptied, their entries are records of their own. */
export const stationEntry = (station: StationRecord): Draft =>
  recordsFromBook({ format: 'moonplumb-fieldbook', version: 1, exportedUtc: '', stations: [station] })
    .filter(draft => draft.kind === 'station')
    .map(({ place: _, ...draft }) => draft)[0]!

const MAX_UNDO = 50
/** So many records are taken in at a time. */
const PIECE = 5000
const STATION_KEY = 'moonplumb.station'

export function createBook(store: Store, clock: () => number = Date.now): BookModel {
  const status = signal<Status>({ kind: 'loading' })
  const byId = signal<ReadonlyMap<string, StoredRecord>>(new Map())
  const marks = signal<readonly Mark[]>([])
  const saving = signal<SaveState>({ kind: 'idle' })
  const unsaved = signal<readonly Unsaved[]>([])
  const undoSteps = signal<readonly Step[]>([])
  const told = signal<Told | null>(null)
  const putBack = signal(false)
  const chosen = signal<string | null>(remembered(STATION_KEY))
  let asked = false

  const records = computed(() => [...byId.value.values()])
  const book = computed(() => bookFromRecords(records.value, '1970-01-01T00:00:00Z'))
  const stations = computed(() => book.value.stations)
  const station = computed(() => stations.value.find(s => s.id === chosen.value) ?? stations.value[0] ?? null)
  const stationId = computed(() => station.value?.id ?? null)

  /** Takes in what was read or written; an older revision never replaces a newer one. */
  function takeIn(fresh: readonly StoredRecord[]): void {
    const known = byId.peek()
    const news = fresh.filter(record => record.revision > (known.get(record.id)?.revision ?? 0))
    if (news.length === 0) return // nothing is computed again
    const next = new Map(known)
    for (const record of news) if (record.revision > (next.get(record.id)?.revision ?? 0)) next.set(record.id, record)
    byId.value = next
  }

  /** The same for very many, piece by piece, so that the page stays awake. */
  async function takeInMany(fresh: readonly StoredRecord[]): Promise<void> {
    const known = byId.peek()
    const next = new Map(known)
    for (const [index, record] of fresh.entries()) {
      if (record.revision > (next.get(record.id)?.revision ?? 0)) next.set(record.id, record)
      if (index % PIECE === PIECE - 1) await new Promise(resolve => setTimeout(resolve, 0))
    }
    if (byId.peek() === known) byId.value = next // else something else was written meanwhile: `takeIn` has it all
  }

  function keepUnsaved(what: string, drafts: readonly Draft[], failure: StoreFailure): void {
    batch(() => {
      unsaved.value = [...unsaved.value, { what, drafts, failure }]
      saving.value = { kind: 'unsaved', failure }
    })
  }

  function written(what: string, fresh: readonly StoredRecord[]): void {
    batch(() => {
      takeIn(fresh)
      const wanted = fresh.map(({ id, revision }) => ({ id, revision: revision - 1, expect: revision }))
      if (wanted.length > 0) undoSteps.value = [...undoSteps.value, { what, wanted }].slice(-MAX_UNDO)
      saving.value = unsaved.value.length > 0 ? saving.value : { kind: 'saved', atMs: clock() }
    })
    if (!asked) {
      asked = true
      void askToPersist()
    }
  }

  async function write(what: string, drafts: readonly Draft[], options?: AppendOptions): Promise<Kept<StoredRecord[]>> {
    if (saving.value.kind !== 'unsaved') saving.value = { kind: 'saving' }
    let answer: Kept<StoredRecord[]>
    try {
      answer = await store.append(drafts, options)
    } catch (error) {
      keepUnsaved(what, drafts, { kind: 'unavailable', message: String(error) })
      throw error // a mistake of ours; the record is kept on the screen all the same
    }
    if (answer.kind === 'done') {
      if (answer.value.length > PIECE) await takeInMany(answer.value)
      written(what, answer.value)
    } else if (answer.kind === 'stopped') saving.value = { kind: 'idle' }
    else keepUnsaved(what, drafts, answer)
    return answer
  }

  /** Another tab may write faster than we read: one reading at a time, and one more after it if news came. */
  let reading: Promise<Kept<void>> | undefined
  let more: Promise<Kept<void>> | undefined
  function load(): Promise<Kept<void>> {
    const begin = (): Promise<Kept<void>> => {
      more = undefined
      reading = read().finally(() => {
        reading = undefined
      })
      return reading
    }
    if (!reading) return begin()
    more ??= reading.then(begin, begin)
    return more
  }

  async function read(): Promise<Kept<void>> {
    const [found, readMarks] = [await store.load(), await store.marks()]
    if (found.kind !== 'done') {
      // What is on the screen stays there; only a first load that fails leaves nothing to show.
      if (status.value.kind !== 'ready') status.value = { kind: 'failed', failure: found }
      return found
    }
    batch(() => {
      takeIn(found.value)
      if (readMarks.kind === 'done') marks.value = readMarks.value
      status.value = { kind: 'ready' }
    })
    return { kind: 'done', value: undefined }
  }

  return {
    status,
    records,
    book,
    stations,
    stationId,
    station,
    saving,
    unsaved,
    undoable: computed(() => undoSteps.value.at(-1)?.what ?? null),
    backups: computed(() => needsBackup(records.value, marks.value)),
    told,
    putBack,
    seePutBack: () => {
      putBack.value = false
    },
    load,

    chooseStation(id) {
      chosen.value = id
      remember(STATION_KEY, id)
    },

    async save(what, drafts, options) {
      const nowMs = clock()
      const next = new Map<string, number>()
      const placed = drafts.map(draft => {
        const ready = { ...draft, writtenMs: draft.writtenMs ?? nowMs }
        if (draft.place !== undefined || byId.peek().has(draft.id)) return ready
        const list = `${draft.kind}:${draft.kind === 'station' ? '' : draft.station}`
        const place = next.get(list) ?? nextPlace(records.peek(), draft.kind, draft.station)
        next.set(list, place + 1)
        return { ...ready, place }
      })
      return write(what, placed, options)
    },

    async retryUnsaved() {
      const waiting = unsaved.value
      unsaved.value = []
      let outcome: Kept<void> = { kind: 'done', value: undefined }
      for (const { what, drafts } of waiting) {
        const answer = await write(what, drafts)
        if (answer.kind !== 'done') outcome = answer
      }
      if (outcome.kind === 'done') saving.value = { kind: 'saved', atMs: clock() }
      return outcome
    },

    discardUnsaved(gone) {
      unsaved.value = unsaved.value.filter(one => one !== gone)
      if (unsaved.value.length === 0) saving.value = { kind: 'idle' }
    },

    async undo() {
      const step = undoSteps.value.at(-1)
      if (!step) return { kind: 'nothing' }
      const answer = await store.restore(step.wanted)
      if (answer.kind !== 'done') return answer
      const { value } = answer
      const rest = undoSteps.value.filter(other => other !== step)
      if (value === 'overtaken') {
        undoSteps.value = rest
        await load()
        return { kind: 'overtaken' }
      }
      // The revision just written says what an older one said: steps below that expect the older one now expect it.
      const now = new Map(step.wanted.map(({ id, revision }, index) => [`${id} ${revision}`, value[index]!.revision]))
      batch(() => {
        takeIn(value)
        undoSteps.value = rest.map(other => ({
          ...other,
          wanted: other.wanted.map(w => ({ ...w, expect: now.get(`${w.id} ${w.expect}`) ?? w.expect! })),
        }))
        saving.value = { kind: 'saved', atMs: clock() }
      })
      return { kind: 'done', value }
    },

    history: id => store.history(id),

    async deleteStation(id, text) {
      const name = stations.value.find(s => s.id === id)?.name ?? id
      const answer = await store.deleteStation(id, text === null ? null : { name, text })
      if (answer.kind === 'done') written(`delete ${name}`, answer.value)
      return answer
    },

    keptCopies: () => store.keptCopies(),

    async importBook(incoming) {
      const news = newsFor(records.value, recordsFromBook(incoming))
      if (news.length === 0) return { kind: 'done', value: 0 }
      const nowMs = clock()
      const answer = await store.append(news.map(draft => ({ ...draft, writtenMs: nowMs })))
      if (answer.kind !== 'done') return answer // the file is still there: nothing to keep
      written('import', answer.value)
      return { kind: 'done', value: answer.value.length }
    },

    exportBook: (nowMs, ids) =>
      bookFromRecords(records.value, new Date(nowMs).toISOString(), { numbers: true, ...(ids && { stations: ids }) }),

    async noteExported(ids, nowMs) {
      const fresh = exportMarks(records.value, ids, nowMs)
      const answer = await store.putMarks(fresh)
      if (answer.kind === 'done') {
        const changed = new Set(fresh.map(mark => mark.key))
        marks.value = [...marks.value.filter(mark => !changed.has(mark.key)), ...fresh]
      }
      return answer
    },

    start() {
      const hear = (what: Told) => {
        told.value = what
        if (what === 'put-back') putBack.value = true
      }
      const stops = [store.onChanged(() => void load()), store.onTold(hear)]
      const back = () => {
        if (document.visibilityState === 'visible') void store.probe().then(() => load())
      }
      const leaving = (event: BeforeUnloadEvent) => {
        if (unsaved.value.length > 0) event.preventDefault()
      }
      document.addEventListener('visibilitychange', back)
      window.addEventListener('pageshow', back)
      window.addEventListener('beforeunload', leaving)
      return () => {
        for (const stop of stops) stop()
        document.removeEventListener('visibilitychange', back)
        window.removeEventListener('pageshow', back)
        window.removeEventListener('beforeunload', leaving)
      }
    },
  }
}

/** The record of that kind and id in the book, tombstones included. */
export const recordOf = (model: BookModel, kind: RecordKind, station: string, own?: string): StoredRecord | undefined =>
  model.records.value.find(record => record.id === recordId(kind, station, own))

/** A tombstone for a record that is there. */
export const tombstone = (record: StoredRecord): Draft => ({
  id: record.id,
  kind: record.kind,
  station: record.station,
  place: record.place,
  body: record.body,
  deleted: true,
})

/** The book of this phone. */
export const fieldBook: BookModel = createBook(openStore({ name: 'moonplumb', app: version }))
