/**
 * How drafts get into the store: checked by the rules (`steprules.ts`), with the revisions that they count on,
 * and with a question to the person where somebody was faster. What could not be written stays in `unsaved` until it is, or until
 * the person discards it.
 */
import { batch, type ReadonlySignal, signal } from '@preact/signals'
import { version } from '../../package.json'
import type { Fault } from '../core/records/answer.ts'
import { recordId } from '../core/records/kinds.ts'
import { type Draft, nextPlace, type StoredRecord, sameJson } from '../core/records/stored.ts'
import type { Kept, StoreFailure } from '../store/database.ts'
import type { Store } from '../store/records.ts'
import { askToPersist } from '../store/room.ts'
import type { Clash, KeepOptions, Rules, SaveState } from './bookmodel.ts'
import { aMoment, type BookRecords, isPieceDone } from './bookrecords.ts'
import type { Unsaved } from './outbox.ts'
import type { UndoStep } from './steps.ts'
import type { UndoSteps } from './undosteps.ts'

/** The failure of a write that the page did not live to finish. */
const CUT_OFF: StoreFailure = { kind: 'dropped', message: 'the page was left in the middle of the writing' }

/** Another tab may write between our read and our write, but hardly this often. */
const MAX_TRIES = 8

/** Loaded when first needed. A page that cannot load it still writes. */
export const stepRules: Rules = async (current, drafts, step) => {
  const rules = await import('./steprules.ts').catch(() => null)
  return rules === null ? [] : rules.faultsOfStep(current, drafts, step)
}

export const refusedFor = (faults: readonly Fault[]): StoreFailure => ({
  kind: 'refused',
  message: [...new Set(faults.map(fault => fault.rule))].slice(0, 5).join('. '),
})

interface Writes extends KeepOptions {
  /** Of an earlier try. */
  expected?: Map<string, number>
}

export interface Writing {
  saving: ReadonlySignal<SaveState>
  unsaved: ReadonlySignal<readonly Unsaved[]>
  /** Kept at once, or being retried: not lost if the page ends in the middle of it. */
  underWay: ReadonlySignal<readonly Unsaved[]>
  clash: ReadonlySignal<Clash | null>
  openForm(id: string, revision: number): () => void
  write(step: UndoStep, drafts: readonly Draft[], how?: Writes): Promise<Kept<StoredRecord[]>>
  /** The revisions that a write counts on: of its records, and of the station whose rules they must fit. */
  countedOn(drafts: readonly Draft[]): Promise<Map<string, number>>
  /** Call when it is on the medium: takes the records in and adds a step to undo. */
  written(step: UndoStep, fresh: readonly StoredRecord[]): Promise<void>
  /** As `written`, where it is not a step of its own. */
  showSaved(): void
  retry(): Promise<Kept<void>>
  discard(gone: Unsaved): void
  /** Puts what waited over a reload first. */
  takeWaiting(waiting: readonly Unsaved[]): void
  /** The records with what waits to be written. */
  withUnsaved(): StoredRecord[]
}

export function createWriting(o: {
  records: BookRecords
  undo: UndoSteps
  /** The database, or what stands in for it. */
  store: () => Store
  load: () => Promise<Kept<void>>
  clock: () => number
  rulesOf: Rules
}): Writing {
  const { records, undo, clock } = o
  const saving = signal<SaveState>({ kind: 'idle' })
  const unsaved = signal<readonly Unsaved[]>([])
  const underWay = signal<readonly Unsaved[]>([])
  const clash = signal<Clash | null>(null)
  /** Of the forms that are open: the revision that each was opened on. */
  const bases = new Map<string, number>()
  let asked = false

  const showSaved = () => {
    saving.value = { kind: 'saved', atMs: clock() }
  }

  function keepUnsaved(one: Unsaved): void {
    batch(() => {
      unsaved.value = [...unsaved.value, one]
      saving.value = { kind: 'unsaved', failure: one.failure }
    })
  }

  async function written(step: UndoStep, fresh: readonly StoredRecord[]): Promise<void> {
    const news: StoredRecord[] = []
    const before: (StoredRecord | undefined)[] = []
    for (const [index, record] of fresh.entries()) {
      const { id, revision } = record
      if (bases.has(id)) bases.set(id, revision)
      if (records.revisionKnown(id) < revision) {
        news.push(record)
        before.push(records.known(id))
      }
      if (isPieceDone(index)) await aMoment()
    }
    await records.prepare(fresh)
    batch(() => {
      records.takeIn(fresh)
      undo.add(step, news, before)
      if (unsaved.value.length === 0) showSaved()
    })
    if (!asked) {
      asked = true
      void askToPersist()
    }
  }

  async function countedOn(drafts: readonly Draft[]): Promise<Map<string, number>> {
    const expected = new Map<string, number>()
    for (const station of new Set(drafts.map(draft => draft.station))) {
      const id = recordId('station', station)
      if (records.known(id)) expected.set(id, records.revisionKnown(id))
    }
    for (const [index, { id }] of drafts.entries()) {
      expected.set(id, bases.get(id) ?? records.revisionKnown(id))
      if (isPieceDone(index)) await aMoment()
    }
    return expected
  }

  /** Asks the person, one clash after the other. */
  let asking: Promise<unknown> = Promise.resolve()
  function decide(step: UndoStep, mine: readonly Draft[]): Promise<'mine' | 'theirs' | 'back'> {
    const ask = () =>
      new Promise<'mine' | 'theirs' | 'back'>(resolve => {
        const theirs = mine.flatMap(({ id }) => records.known(id) ?? [])
        clash.value = {
          step,
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
      if (draft.place === undefined && !records.known(draft.id)) {
        const list = `${draft.kind}:${draft.kind === 'station' ? '' : draft.station}`
        one.place = next.get(list) ?? nextPlace(records.records.peek(), draft.kind, draft.station)
        next.set(list, one.place + 1)
      }
      ready.push(one)
      if (isPieceDone(index)) await aMoment()
    }
    return ready
  }

  /** The drafts whose record was written elsewhere meanwhile with other content. */
  const clashingOf = (drafts: readonly Draft[], expected: ReadonlyMap<string, number>): Draft[] =>
    drafts.filter(draft => {
      const now = records.known(draft.id)
      if (records.revisionKnown(draft.id) === expected.get(draft.id)) return false
      return !now || now.deleted !== (draft.deleted ?? false) || !sameJson(now.body, draft.body, 'revision')
    })

  async function write(step: UndoStep, wished: readonly Draft[], how: Writes = {}): Promise<Kept<StoredRecord[]>> {
    if (how.atOnce !== true) return writeNow(step, wished, how)
    // With the time of the first try: by it the store recognises what it has already.
    const writtenMs = clock()
    const drafts = wished.map(draft => ({ writtenMs, ...draft }))
    const expected = drafts.map(({ id }) => [id, bases.get(id) ?? records.revisionKnown(id)] as const)
    const mine: Unsaved = { step, drafts, failure: CUT_OFF, expected }
    underWay.value = [...underWay.value, mine]
    try {
      return await writeNow(step, drafts, how)
    } finally {
      // Where it failed it is among the unsaved by now.
      underWay.value = underWay.value.filter(other => other !== mine)
    }
  }

  async function writeNow(step: UndoStep, wished: readonly Draft[], how: Writes): Promise<Kept<StoredRecord[]>> {
    if (wished.length === 0) return { kind: 'done', value: [] }
    const nowMs = clock()
    const rest = saving.value
    if (rest.kind !== 'unsaved') saving.value = { kind: 'saving' }
    const settle = <T extends StoreFailure>(failure: T): T => {
      if (saving.value.kind === 'saving') saving.value = rest.kind === 'saving' ? { kind: 'idle' } : rest
      return failure
    }
    const { progress, signal: abort } = how
    let { expected, checked } = how
    for (let tries = 1; ; tries++) {
      const drafts = await placed(wished, nowMs)
      expected ??= await countedOn(drafts)
      const faults = checked ? [] : await o.rulesOf(records.records.peek(), drafts, step)
      if (faults.length > 0) return settle(refusedFor(faults))
      const waits = (failure: StoreFailure): Unsaved => ({ step, drafts, failure, expected: [...expected!] })
      let answer: Kept<StoredRecord[]>
      try {
        answer = await o
          .store()
          .append(drafts, { expected, ...(progress && { progress }), ...(abort && { signal: abort }) })
      } catch (error) {
        keepUnsaved(waits({ kind: 'unavailable', message: String(error) }))
        throw error // a mistake of ours; the record is kept on the screen all the same
      }
      if (answer.kind === 'done') {
        await written(step, answer.value)
        return answer
      }
      if (answer.kind === 'stopped') return settle(answer)
      if (answer.kind !== 'overtaken' || tries > MAX_TRIES) {
        keepUnsaved(waits(answer))
        return answer
      }
      const read = await o.load()
      if (read.kind !== 'done') {
        keepUnsaved(waits(read))
        return read
      }
      checked = false
      const clashing = clashingOf(drafts, expected)
      for (const { id } of drafts)
        if (bases.has(id) && !clashing.some(c => c.id === id)) bases.set(id, records.revisionKnown(id))
      expected = undefined
      // Where only the station went on, it is enough to check the rules again.
      if (clashing.length === 0) continue
      const choice = await decide(step, clashing)
      if (choice === 'back') return settle({ kind: 'overtaken', message: 'changed since the form was opened' })
      for (const { id } of clashing) if (bases.has(id)) bases.set(id, records.revisionKnown(id))
      if (choice === 'mine') continue
      showSaved()
      return { kind: 'done', value: clashing.flatMap(({ id }) => records.known(id) ?? []) }
    }
  }

  async function retry(): Promise<Kept<void>> {
    const waiting = unsaved.value
    batch(() => {
      underWay.value = [...underWay.value, ...waiting]
      unsaved.value = []
    })
    if (saving.value.kind === 'unsaved') saving.value = { kind: 'idle' }
    let outcome: Kept<void> = { kind: 'done', value: undefined }
    for (const one of waiting) {
      const { step, drafts, expected } = one
      const answer = await write(step, drafts, { ...(expected && { expected: new Map(expected) }) })
      if (answer.kind !== 'done') outcome = answer
      // Asked or refused: it is not written, and it is not lost either.
      if (answer.kind === 'overtaken' || answer.kind === 'refused') keepUnsaved({ step, drafts, failure: answer })
      underWay.value = underWay.value.filter(other => other !== one)
    }
    if (outcome.kind === 'done') showSaved()
    return outcome
  }

  return {
    saving,
    unsaved,
    underWay,
    clash,
    openForm(id, revision) {
      bases.set(id, revision)
      return () => bases.delete(id)
    },
    write,
    countedOn,
    written,
    showSaved,
    retry,
    discard(gone) {
      unsaved.value = unsaved.value.filter(one => one !== gone)
      if (unsaved.value.length === 0) saving.value = { kind: 'idle' }
    },
    takeWaiting(waiting) {
      const [first] = waiting
      if (first === undefined) return
      batch(() => {
        unsaved.value = [...waiting, ...unsaved.value]
        saving.value = { kind: 'unsaved', failure: first.failure }
      })
    },
    withUnsaved() {
      const all = new Map(records.records.value.map(record => [record.id, record]))
      for (const draft of [...underWay.value, ...unsaved.value].flatMap(one => one.drafts)) {
        const before = all.get(draft.id)
        const { deleted = before?.deleted ?? false, place = before?.place ?? 0, writtenMs = clock() } = draft
        all.set(draft.id, { ...draft, deleted, place, writtenMs, revision: (before?.revision ?? 0) + 1, app: version })
      }
      return [...all.values()]
    },
  }
}
