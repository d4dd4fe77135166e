/**
 * The whole book in one signal, and the acts that change it. An act hands its records to the store, and the book changes
 * when they are written, not before. How they are written is in `writing.ts`, what replaces a database that does not
 * open in `standin.ts`, what can be undone in `undosteps.ts`.
 */
import { batch, computed, effect, signal } from '@preact/signals'
import { version } from '../../package.json'
import { bookFromRecords } from '../core/records/stored.ts'
import { exportMarks, needsBackup } from '../store/backup.ts'
import type { BackupMark, Kept, StoreNotice } from '../store/database.ts'
import { bookName } from '../store/place.ts'
import { openStore, type Store } from '../store/records.ts'
import type { BookModel, Rules, Status, Undone } from './bookmodel.ts'
import { createBookRecords } from './bookrecords.ts'
import { remember, remembered } from './memory.ts'
import { phoneMs } from './now.ts'
import { putOutbox, takeOutbox } from './outbox.ts'
import { createStandIn } from './standin.ts'
import { createUndoSteps, type UndoWay } from './undosteps.ts'
import { createWriting, refusedFor, stepRules } from './writing.ts'

export type { Kept } from '../store/database.ts'
export type { BookModel, Clash, KeepOptions, SaveState, Standing, Status, Undone } from './bookmodel.ts'
export { entry, newId, recordOf, stationEntry, tombstone, tombstones } from './drafts.ts'
export type { Unsaved } from './outbox.ts'
export type { UndoStep } from './steps.ts'

const STATION_KEY = 'moonplumb.station'

export function createBook(database: Store, clock: () => number = phoneMs, rulesOf: Rules = stepRules): BookModel {
  const status = signal<Status>({ kind: 'loading' })
  const isTakenOver = signal(false)
  const marks = signal<readonly BackupMark[]>([])
  const told = signal<StoreNotice | null>(null)
  const putBack = signal(false)
  const chosen = signal<string | null>(remembered(STATION_KEY))

  const known = createBookRecords()
  const { records } = known
  const undo = createUndoSteps()
  const standIn = createStandIn({
    database,
    clock,
    records: known,
    undo,
    writing: () => writing,
    load,
    onRead(read) {
      if (read !== null) marks.value = read
      status.value = { kind: 'ready' }
      if (standIn.standing.value.kind === 'database') putBack.value = false
    },
  })
  const { standing, store } = standIn
  const writing = createWriting({ records: known, undo, store, load, clock, rulesOf })

  const book = computed(() => bookFromRecords(records.value, '1970-01-01T00:00:00Z'))
  const stations = computed(() => book.value.stations)
  const station = computed(() => stations.value.find(s => s.id === chosen.value) ?? stations.value[0] ?? null)
  const stationId = computed(() => station.value?.id ?? null)

  /** Another tab may write faster than we read: one read at a time, and one more after it if there was news. */
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
    const [found, readMarks] = [await store().load(), await store().marks()]
    if (found.kind !== 'done') {
      // What is on the screen stays there; if the first load fails the second copy is read.
      if (status.value.kind === 'ready') return found
      await standIn.begin(found)
      return found
    }
    await known.prepare(found.value)
    batch(() => {
      known.takeIn(found.value)
      if (readMarks.kind === 'done') marks.value = readMarks.value
      status.value = { kind: 'ready' }
    })
    return { kind: 'done', value: undefined }
  }

  /** Undoes the last step, or redoes the one undone last. */
  async function stepThat(way: UndoWay): Promise<Undone> {
    const next = undo.next(way, known.known)
    if (!next) return { kind: 'nothing' }
    const faults = await rulesOf(records.peek(), next.drafts, null)
    if (faults.length > 0) return refusedFor(faults)
    const answer = await store().restore(next.wanted)
    if (answer.kind !== 'done') return answer
    const { value } = answer
    if (value === 'overtaken') {
      undo.done(way, next.taken, null)
      await load()
      return { kind: 'overtaken' }
    }
    batch(() => {
      known.takeIn(value)
      undo.done(way, next.taken, value)
      writing.showSaved()
    })
    return { kind: 'done', value }
  }

  let isReloading = false

  return {
    status,
    standing,
    isTakenOver,
    clash: writing.clash,
    records,
    book,
    stations,
    stationId,
    station,
    saving: writing.saving,
    unsaved: writing.unsaved,
    underWay: writing.underWay,
    undoable: computed(() => undo.last.value?.step ?? null),
    undoAt: undo.last,
    redoAt: undo.again,
    backups: computed(() => needsBackup(records.value, marks.value)),
    told,
    putBack,
    seePutBack: () => {
      putBack.value = false
    },
    load,
    tryAgain: standIn.backToDatabase,
    async remake() {
      const made = await database.remake()
      return made.kind === 'done' ? standIn.backToDatabase() : made
    },

    openForm: writing.openForm,

    chooseStation(id) {
      chosen.value = id
      remember(STATION_KEY, id)
    },

    keep: writing.write,
    retryUnsaved: writing.retry,
    discardUnsaved: writing.discard,

    undo: () => stepThat('back'),
    redo: () => stepThat('forth'),

    history: id => store().history(id),

    async deleteStation(id, text) {
      const name = stations.value.find(s => s.id === id)?.name ?? id
      const answer = await store().deleteStation(id, text === null ? null : { name, text })
      if (answer.kind === 'done')
        await writing.written({ kind: 'delete-station', place: 'book', subject: { station: id, name } }, answer.value)
      return answer
    },

    keptCopies: () => store().keptCopies(),

    outgoing: writing.withUnsaved,

    marksFor: (ids, nowMs) => exportMarks(records.value, ids, nowMs),

    async noteExported(fresh) {
      const answer = await store().putMarks(fresh)
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
      const hear = (what: StoreNotice) => {
        told.value = what
        if (what === 'put-back') putBack.value = true
        if (what === 'closed-for-newer') isTakenOver.value = true
      }
      const waiting = takeOutbox()
      if (waiting.length > 0) {
        writing.takeWaiting(waiting)
        void load().then(read => (read.kind === 'done' && standing.value.kind === 'database' ? writing.retry() : read))
      }
      const stops = [
        database.onChanged(() => void load()),
        database.onTold(hear),
        effect(() => putOutbox([...writing.underWay.value, ...writing.unsaved.value])),
      ]
      const back = () => {
        if (document.visibilityState !== 'visible') return
        if (standIn.isIn()) void standIn.backToDatabase()
        else
          void store()
            .probe()
            .then(() => load())
      }
      const leaving = (event: BeforeUnloadEvent) => {
        const isLost = standing.value.kind === 'memory' && needsBackup(records.value, marks.value).length > 0
        if (!isReloading && (writing.unsaved.value.length > 0 || isLost)) event.preventDefault()
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

/** The book of this phone. */
export const fieldBook: BookModel = createBook(openStore({ name: bookName(), app: version }))
