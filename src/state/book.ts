/**
 * The whole book in one signal, and the actions that change it. An action hands its records to the store, and the book
 * changes when they are written, not before. What could not be written stays in `unsaved` until it is, or until the
 * person throws it away. Where the database does not open the book is read from the second copy, and a store in memory
 * stands in for it (`standing`).
 */
import { batch, computed, effect, type ReadonlySignal, signal } from '@preact/signals'
import { version } from '../../package.json'
import type { Fault } from '../core/records/answer.ts'
import type { FieldBook, StationRecord } from '../core/records/fieldbook.ts'
import { type ListKind, type RecordKind, recordId } from '../core/records/kinds.ts'
import {
  bookFromRecords,
  currentRevisions,
  type Draft,
  nextPlace,
  type StoredRecord,
  sameJson,
  stationDraft,
} from '../core/records/stored.ts'
import { type BackupNeed, exportMarks, needsBackup } from '../store/backup.ts'
import type { Kept, KeptCopy, Mark, StoreFailure, Told } from '../store/database.ts'
import type { MemoryStore } from '../store/memorystore.ts'
import { bookName } from '../store/place.ts'
import { type AppendOptions, openStore, type Store, type Wanted } from '../store/records.ts'
import { askToPersist } from '../store/room.ts'
import { remember, remembered } from './memory.ts'
import { putOutbox, takeOutbox, type Unsaved } from './outbox.ts'

export type { Unsaved }

export type Status = { kind: 'loading' } | { kind: 'ready' }
/** Where the book is read from and written to. */
export type Standing =
  | { kind: 'database' }
  /** The database does not open: the second copy alone, which is written as well. */
  | { kind: 'copy'; failure: StoreFailure; records: number }
  /** Neither: this page's memory, gone with the page. */
  | { kind: 'memory'; failure: StoreFailure }
export type SaveState =
  | { kind: 'idle' }
  | { kind: 'saving' }
  /** On the medium: show the tick now, not earlier. */
  | { kind: 'saved'; atMs: number }
  | { kind: 'unsaved'; failure: StoreFailure }

export type Undone = Kept<StoredRecord[]> | { kind: 'nothing' } | { kind: 'overtaken' }

interface Step {
  what: string
  wanted: Wanted[]
  /** What was there before; nothing where the record was new. */
  before: readonly (StoredRecord | undefined)[]
}

/** A newer revision is there than the one that a form was opened on. */
export interface Clash {
  what: string
  mine: readonly Draft[]
  /** The records as they are now. */
  theirs: readonly StoredRecord[]
  /** mine: written as a further revision; theirs: nothing is written, and the act counts as done; back: to the form. */
  answer: (choice: 'mine' | 'theirs' | 'back') => void
}

export interface SaveOptions extends Omit<AppendOptions, 'expected'> {
  /** The rules of the whole station were looked at already. */
  checked?: boolean
}
/** Which rules of the field book a writing would break. */
export type Rules = (current: readonly StoredRecord[], drafts: readonly Draft[]) => Promise<readonly Fault[]>

export interface BookModel {
  status: ReadonlySignal<Status>
  standing: ReadonlySignal<Standing>
  /** A newer version in another tab has taken the database: this page can keep nothing more. */
  isTakenOver: ReadonlySignal<boolean>
  /** What the person must decide before it is written. */
  clash: ReadonlySignal<Clash | null>
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
  /** Opens the database once more, and takes over into it what was written meanwhile. */
  tryAgain(): Promise<Kept<void>>
  /** Deletes the database and makes it new from the second copy. */
  remake(): Promise<Kept<void>>
  chooseStation(id: string | null): void
  /** A form was opened on that revision of a record (0: none yet); returns the way to close it. */
  openForm(id: string, revision: number): () => void
  /**
   * Writes drafts that belong together, in one transaction. 'refused': against the rules of the station. Where a record
   * has a newer revision than its form was opened on, the person is asked first (`clash`).
   */
  save(what: string, drafts: readonly Draft[], options?: SaveOptions): Promise<Kept<StoredRecord[]>>
  retryUnsaved(): Promise<Kept<void>>
  discardUnsaved(unsaved: Unsaved): void
  undo(): Promise<Undone>
  history(id: string): Promise<Kept<StoredRecord[]>>
  /** @param text  the station's exported field book, kept on the phone */
  deleteStation(id: string, text: string | null): Promise<Kept<StoredRecord[]>>
  keptCopies(): Promise<Kept<KeptCopy[]>>
  /** All or nothing; what is already here is not written again. `value` = how many records were new or changed. */
  importBook(book: FieldBook): Promise<Kept<number>>
  /** All records as they go out (`bookForFile`), with what waits to be written: it may be all that is left of it. */
  outgoing(): StoredRecord[]
  /** What to remember of a backup made now, once it is known to be one. */
  marksFor(stations: readonly string[], nowMs: number): Mark[]
  noteExported(marks: readonly Mark[]): Promise<Kept<void>>
  /** Loads the page again, without a question: what waits to be written, and what is typed, is kept over it. */
  reloadPage(): void
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
export const stationEntry = stationDraft

const MAX_UNDO = 50
/** Of very many records so many are handled at a time; then the page has its turn. */
const PIECE = 5000
const isPieceDone = (index: number): boolean => index % PIECE === PIECE - 1
const aMoment = (): Promise<void> => new Promise(resolve => setTimeout(resolve, 0))
/** Another tab may go on between every reading and writing of ours, but hardly so often. */
const MAX_TRIES = 8
const STATION_KEY = 'moonplumb.station'

/** Loaded when first needed, since it knows the whole file format. A page that cannot load it still writes. */
const wholeStation: Rules = async (current, drafts) => {
  const rules = await import('../core/records/wholestation.ts').catch(() => null)
  return rules === null ? [] : rules.faultsOfWriting(current, drafts)
}
const refusedFor = (faults: readonly Fault[]): StoreFailure => ({
  kind: 'refused',
  message: [...new Set(faults.map(fault => fault.rule))].slice(0, 5).join('. '),
})

export function createBook(database: Store, clock: () => number = Date.now, rulesOf: Rules = wholeStation): BookModel {
  /** The database, or what stands in for it. */
  let store: Store = database
  let standIn: MemoryStore | undefined
  const standing = signal<Standing>({ kind: 'database' })
  const isTakenOver = signal(false)
  const clash = signal<Clash | null>(null)
  /** Of the forms that are open: the revision that each was opened on. */
  const bases = new Map<string, number>()
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
      if (isPieceDone(index)) await aMoment()
    }
    if (byId.peek() === known) byId.value = next // else something else was written meanwhile: `takeIn` has it all
  }

  function keepUnsaved(one: Unsaved): void {
    batch(() => {
      unsaved.value = [...unsaved.value, one]
      saving.value = { kind: 'unsaved', failure: one.failure }
    })
  }

  function written(what: string, fresh: readonly StoredRecord[]): void {
    const news = fresh.filter(({ id, revision }) => (byId.peek().get(id)?.revision ?? 0) < revision)
    const before = news.map(({ id }) => byId.peek().get(id))
    batch(() => {
      takeIn(fresh)
      const wanted = news.map(({ id, revision }) => ({ id, revision: revision - 1, expect: revision }))
      if (wanted.length > 0) undoSteps.value = [...undoSteps.value, { what, wanted, before }].slice(-MAX_UNDO)
      saving.value = unsaved.value.length > 0 ? saving.value : { kind: 'saved', atMs: clock() }
    })
    for (const { id, revision } of fresh) if (bases.has(id)) bases.set(id, revision)
    if (!asked) {
      asked = true
      void askToPersist()
    }
  }

  const revisionKnown = (id: string): number => byId.peek().get(id)?.revision ?? 0

  /** The revisions that a writing counts on: of its records, and of the station whose rules they must fit. */
  async function countedOn(drafts: readonly Draft[]): Promise<Map<string, number>> {
    const expected = new Map<string, number>()
    for (const station of new Set(drafts.map(draft => draft.station))) {
      const id = recordId('station', station)
      if (byId.peek().has(id)) expected.set(id, revisionKnown(id))
    }
    for (const [index, { id }] of drafts.entries()) {
      expected.set(id, bases.get(id) ?? revisionKnown(id))
      if (isPieceDone(index)) await aMoment()
    }
    return expected
  }

  /** Asks the person, one clash after the other. */
  let asking: Promise<unknown> = Promise.resolve()
  function decide(what: string, mine: readonly Draft[]): Promise<'mine' | 'theirs' | 'back'> {
    const ask = () =>
      new Promise<'mine' | 'theirs' | 'back'>(resolve => {
        const theirs = mine.flatMap(({ id }) => byId.peek().get(id) ?? [])
        clash.value = {
          what,
          mine,
          theirs,
          answer(choice) {
            clash.value = null
            resolve(choice)
          },
        }
      })
    const answer = asking.then(ask)
    asking = answer
    return answer
  }

  /** Gives each new record its place, and each that came with numbers the next one. */
  async function placed(drafts: readonly Draft[], nowMs: number): Promise<Draft[]> {
    const next = new Map<string, number>()
    const ready: Draft[] = []
    for (const [index, draft] of drafts.entries()) {
      const one = { ...draft, writtenMs: draft.writtenMs ?? nowMs }
      if (draft.place === undefined && !byId.peek().has(draft.id)) {
        const list = `${draft.kind}:${draft.kind === 'station' ? '' : draft.station}`
        one.place = next.get(list) ?? nextPlace(records.peek(), draft.kind, draft.station)
        next.set(list, one.place + 1)
      }
      ready.push(one)
      if (isPieceDone(index)) await aMoment()
    }
    return ready
  }

  interface Writing extends SaveOptions {
    /** Of an earlier try. */
    expected?: Map<string, number>
  }
  async function write(what: string, wished: readonly Draft[], how: Writing = {}): Promise<Kept<StoredRecord[]>> {
    const nowMs = clock()
    const rest = saving.value
    if (rest.kind !== 'unsaved') saving.value = { kind: 'saving' }
    const settle = <T extends StoreFailure>(failure: T): T => {
      if (saving.value.kind === 'saving') saving.value = rest.kind === 'saving' ? { kind: 'idle' } : rest
      return failure
    }
    const { progress, signal } = how
    let { expected, checked } = how
    for (let tries = 1; ; tries++) {
      const drafts = await placed(wished, nowMs)
      expected ??= await countedOn(drafts)
      const faults = checked ? [] : await rulesOf(records.peek(), drafts)
      if (faults.length > 0) return settle(refusedFor(faults))
      let answer: Kept<StoredRecord[]>
      try {
        answer = await store.append(drafts, { expected, ...(progress && { progress }), ...(signal && { signal }) })
      } catch (error) {
        keepUnsaved({ what, drafts, failure: { kind: 'unavailable', message: String(error) }, expected: [...expected] })
        throw error // a mistake of ours; the record is kept on the screen all the same
      }
      if (answer.kind === 'done') {
        if (answer.value.length > PIECE) await takeInMany(answer.value)
        written(what, answer.value)
        return answer
      }
      if (answer.kind === 'stopped') return settle(answer)
      if (answer.kind !== 'overtaken' || tries > MAX_TRIES) {
        keepUnsaved({ what, drafts, failure: answer, expected: [...expected] })
        return answer
      }
      const read = await load()
      if (read.kind !== 'done') {
        keepUnsaved({ what, drafts, failure: read, expected: [...expected] })
        return read
      }
      checked = false
      const clashing = drafts.filter(draft => {
        const now = byId.peek().get(draft.id)
        if (revisionKnown(draft.id) === expected!.get(draft.id)) return false
        return !now || now.deleted !== (draft.deleted ?? false) || !sameJson(now.body, draft.body, 'revision')
      })
      for (const { id } of drafts)
        if (bases.has(id) && !clashing.some(c => c.id === id)) bases.set(id, revisionKnown(id))
      expected = undefined
      // Where only the station went on, the rules are looked at once more and that is all.
      if (clashing.length === 0) continue
      const choice = await decide(what, clashing)
      if (choice === 'back') return settle({ kind: 'overtaken', message: 'changed since the form was opened' })
      for (const { id } of clashing) if (bases.has(id)) bases.set(id, revisionKnown(id))
      if (choice === 'mine') continue
      saving.value = { kind: 'saved', atMs: clock() }
      return { kind: 'done', value: clashing.flatMap(({ id }) => byId.peek().get(id) ?? []) }
    }
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
      // What is on the screen stays there; a first load that fails is read from the second copy.
      if (status.value.kind === 'ready') return found
      await standInFor(found)
      return found
    }
    batch(() => {
      takeIn(found.value)
      if (readMarks.kind === 'done') marks.value = readMarks.value
      status.value = { kind: 'ready' }
    })
    return { kind: 'done', value: undefined }
  }

  /** The book from the second copy, or an empty one in memory; what is written from now on is taken over later. */
  async function standInFor(failure: StoreFailure): Promise<void> {
    const copied = await database.copied()
    const { keepCopy } = database
    const memory = await import('../store/memorystore.ts').catch(() => null)
    if (memory === null) {
      // Not even that part came: an empty book, and what is entered waits among the unsaved.
      batch(() => {
        standing.value = { kind: 'memory', failure }
        status.value = { kind: 'ready' }
      })
      return
    }
    standIn = memory.openMemoryStore({
      app: version,
      clock,
      from: copied ?? { records: [], copies: [] },
      ...(copied && keepCopy && { keep: what => keepCopy(what) }),
    })
    store = standIn
    const found = await standIn.load()
    batch(() => {
      if (found.kind === 'done') takeIn(found.value)
      standing.value =
        copied === null ? { kind: 'memory', failure } : { kind: 'copy', failure, records: copied.records.length }
      status.value = { kind: 'ready' }
    })
  }

  /** Once the database opens: what was written without it goes in, and the book is read from it again. */
  let returning: Promise<Kept<void>> | undefined
  function backToDatabase(): Promise<Kept<void>> {
    if (!standIn) return load()
    returning ??= goBack(standIn).finally(() => {
      returning = undefined
    })
    return returning
  }
  async function goBack(from: MemoryStore): Promise<Kept<void>> {
    const wasCopy = standing.value.kind === 'copy'
    // What went into the second copy meanwhile comes from there, with its numbers.
    const levelled: Kept<void> = await database.level()
    const found = levelled.kind === 'done' ? await database.load() : levelled
    if (found.kind !== 'done') {
      standing.value = { ...standing.value, failure: found } as Standing
      return found
    }
    const readMarks = await database.marks()
    batch(() => {
      store = database
      standIn = undefined
      byId.value = new Map(found.value.map(record => [record.id, record]))
      if (readMarks.kind === 'done') marks.value = readMarks.value
      undoSteps.value = [] // their revisions may have other numbers there
      standing.value = { kind: 'database' }
      putBack.value = false
    })
    if (!wasCopy) await takeOver(currentRevisions(from.writtenHere()))
    if (unsaved.value.length > 0) await retry()
    return { kind: 'done', value: undefined }
  }

  /** What lay in this page's memory alone. Where the database knows the record the person is asked. */
  async function takeOver(meanwhile: readonly StoredRecord[]): Promise<void> {
    const drafts = meanwhile.map(({ revision: _, app: __, ...draft }): Draft => draft)
    const isKnown = ({ id }: Draft) => byId.peek().has(id)
    for (const part of [drafts.filter(draft => !isKnown(draft)), drafts.filter(isKnown)])
      if (part.length > 0)
        await write('keep what was written without the database', part, {
          checked: true,
          expected: new Map(part.map(({ id }) => [id, 0])),
        })
  }

  /** Being written once more: not lost if the page ends in the middle of it. */
  const underWay = signal<readonly Unsaved[]>([])

  async function retry(): Promise<Kept<void>> {
    const waiting = unsaved.value
    batch(() => {
      underWay.value = [...underWay.value, ...waiting]
      unsaved.value = []
    })
    if (saving.value.kind === 'unsaved') saving.value = { kind: 'idle' }
    let outcome: Kept<void> = { kind: 'done', value: undefined }
    for (const one of waiting) {
      const { what, drafts, expected } = one
      const answer = await write(what, drafts, { ...(expected && { expected: new Map(expected) }) })
      if (answer.kind !== 'done') outcome = answer
      // Asked or refused: it is not written, and it is not lost either.
      if (answer.kind === 'overtaken' || answer.kind === 'refused') keepUnsaved({ what, drafts, failure: answer })
      underWay.value = underWay.value.filter(other => other !== one)
    }
    if (outcome.kind === 'done') saving.value = { kind: 'saved', atMs: clock() }
    return outcome
  }

  function withUnsaved(): StoredRecord[] {
    const all = new Map(byId.value)
    for (const draft of unsaved.value.flatMap(one => one.drafts)) {
      const before = all.get(draft.id)
      const { deleted = before?.deleted ?? false, place = before?.place ?? 0, writtenMs = clock() } = draft
      all.set(draft.id, { ...draft, deleted, place, writtenMs, revision: (before?.revision ?? 0) + 1, app: version })
    }
    return [...all.values()]
  }

  let isReloading = false

  return {
    status,
    standing,
    isTakenOver,
    clash,
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
    tryAgain: backToDatabase,
    async remake() {
      const made = await database.remake()
      return made.kind === 'done' ? backToDatabase() : made
    },

    openForm(id, revision) {
      bases.set(id, revision)
      return () => bases.delete(id)
    },

    chooseStation(id) {
      chosen.value = id
      remember(STATION_KEY, id)
    },

    save: write,
    retryUnsaved: retry,

    discardUnsaved(gone) {
      unsaved.value = unsaved.value.filter(one => one !== gone)
      if (unsaved.value.length === 0) saving.value = { kind: 'idle' }
    },

    async undo() {
      const step = undoSteps.value.at(-1)
      if (!step) return { kind: 'nothing' }
      const back = step.wanted.flatMap(({ id }, index): Draft[] => {
        const now = byId.peek().get(id)
        const old = step.before[index]
        return old ? [old] : now ? [{ ...now, deleted: true }] : []
      })
      const faults = await rulesOf(records.peek(), back)
      if (faults.length > 0) return refusedFor(faults)
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
      const { newsFor, recordsFromBook } = await import('../core/records/revisions.ts')
      const news = newsFor(records.value, recordsFromBook(incoming))
      if (news.length === 0) return { kind: 'done', value: 0 }
      const nowMs = clock()
      const drafts = news.map(draft => ({ ...draft, writtenMs: nowMs }))
      const answer = await store.append(drafts, { expected: await countedOn(drafts) })
      if (answer.kind !== 'done') return answer // the file is still there: nothing to keep
      written('import', answer.value)
      return { kind: 'done', value: answer.value.length }
    },

    outgoing: withUnsaved,

    marksFor: (ids, nowMs) => exportMarks(records.value, ids, nowMs),

    async noteExported(fresh) {
      const answer = await store.putMarks(fresh)
      if (answer.kind === 'done') {
        const changed = new Set(fresh.map(mark => mark.key))
        marks.value = [...marks.value.filter(mark => !changed.has(mark.key)), ...fresh]
      }
      return answer
    },

    reloadPage() {
      isReloading = true
      location.reload()
    },

    start() {
      const hear = (what: Told) => {
        told.value = what
        if (what === 'put-back') putBack.value = true
        if (what === 'closed-for-newer') isTakenOver.value = true
      }
      const waiting = takeOutbox()
      if (waiting.length > 0) {
        batch(() => {
          unsaved.value = [...waiting, ...unsaved.value]
          saving.value = { kind: 'unsaved', failure: waiting[0]!.failure }
        })
        void load().then(read => (read.kind === 'done' && standing.value.kind === 'database' ? retry() : read))
      }
      const stops = [
        database.onChanged(() => void load()),
        database.onTold(hear),
        effect(() => putOutbox([...underWay.value, ...unsaved.value])),
      ]
      const back = () => {
        if (document.visibilityState !== 'visible') return
        if (standIn) void backToDatabase()
        else void store.probe().then(() => load())
      }
      const leaving = (event: BeforeUnloadEvent) => {
        const isLost = standing.value.kind === 'memory' && needsBackup(records.value, marks.value).length > 0
        if (!isReloading && (unsaved.value.length > 0 || isLost)) event.preventDefault()
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

export type KeptRecord =
  | { kind: 'kept' }
  /** Against the rules of the book: nothing was written. */
  | { kind: 'refused'; faults: Fault[] }
  /** Not on the medium; it waits among the unsaved, or the person went back to the form. */
  | { kind: 'unsaved' }

/** What became of a writing, as a form needs it. */
export const keptRecord = (answer: Kept<unknown>): KeptRecord =>
  answer.kind === 'done'
    ? { kind: 'kept' }
    : answer.kind === 'refused'
      ? { kind: 'refused', faults: [{ path: '', rule: answer.message }] }
      : { kind: 'unsaved' }

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
export const fieldBook: BookModel = createBook(openStore({ name: bookName(), app: version }))
