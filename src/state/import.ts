/**
 * Importing a field book: first what it would do, then, when the person has answered, all of it in one transaction. A book
 * may be large, so it is read, checked and compared in a worker; the plan holds for the book as it stood then, and
 * if that has changed meanwhile the plan is made again.
 */
import type { Fault } from '../core/records/answer.ts'
import type { Digest } from '../core/records/digest.ts'
import { readFieldBook } from '../core/records/intake.ts'
import {
  type Arrival,
  arrivalsFor,
  type Choices,
  faultsAfter,
  openChoices,
  type Plan,
  planFor,
} from '../core/records/plan.ts'
import type { Draft, StoredRecord } from '../core/records/stored.ts'
import { createImporter, type Importer, type Looked, type TellStage } from '../worker/import.ts'
import type { ImportStage } from '../worker/importing.ts'
import { type BookModel, fieldBook, type UndoStep } from './book.ts'

export type { ImportStage, Looked, TellStage }
export { arrivalsFor, type Choices, faultsAfter, openChoices, type Plan, planFor }

export type TextPlan = { kind: 'refused'; faults: readonly Fault[] } | { kind: 'plan'; plan: Plan }

/** A text, checked, and what it would do; on the page's thread, so for a small one. */
export function planOfText(current: readonly StoredRecord[], text: string): TextPlan {
  const read = readFieldBook(text)
  return read.ok ? { kind: 'plan', plan: planFor(current, read.value) } : { kind: 'refused', faults: read.faults }
}

/** As it is handed to the store. */
const draftFrom = ({ revision: _, ...draft }: Arrival): Draft => draft

/** A small plan carried out on the page's thread. @returns whether it is written */
export async function importAtOnce(
  plan: Plan,
  choices: Choices,
  step: UndoStep,
  book: BookModel = fieldBook,
): Promise<boolean> {
  const arrivals = arrivalsFor(plan, choices)
  if (openChoices(plan, choices) > 0 || faultsAfter(book.records.value, arrivals).length > 0) return false
  if (arrivals.length === 0) return true
  return (await book.keep(step, arrivals.map(draftFrom), { checked: true })).kind === 'done'
}

type Imported =
  | { kind: 'done'; count: number }
  /** With these choices the book would be invalid; the plan asks about what is at fault. */
  | { kind: 'illegal'; faults: readonly Fault[]; digest: Digest }
  /** The book here has changed since the plan was made: look again. */
  | { kind: 'changed'; looked: Looked }
  /** Not written; it waits among the unsaved. */
  | { kind: 'unsaved' }
  | { kind: 'stopped' }
  | { kind: 'failed'; message: string }

export interface BookImporting {
  /** What a file or a pasted text would do. Nothing is written. */
  look(source: Blob | string, tell: TellStage): Promise<Looked>
  /** Writes it all, or nothing. @param records  how many the person was told of */
  carryOut(choices: Choices, records: number, tell: TellStage): Promise<Imported>
  /** At any time; what is not written whole by then is not written at all. */
  stop(): void
  /** The person leaves the screen: a look ends, an import that was confirmed goes on. */
  leave(): void
}

export function createImport(book: BookModel = fieldBook, importer: Importer = createImporter()): BookImporting {
  let source: Blob | string = ''
  let seen: readonly StoredRecord[] | null = null
  let writing: AbortController | undefined
  let isCarrying = false
  let hasLeft = false

  const look = (given: Blob | string, tell: TellStage): Promise<Looked> => {
    source = given
    seen = book.records.value
    return importer.look(given, seen, tell)
  }
  async function carryOut(choices: Choices, records: number, tell: TellStage): Promise<Imported> {
    if (book.records.value !== seen) return { kind: 'changed', looked: await look(source, tell) }
    const carried = await importer.carry(choices, tell)
    if (carried.kind !== 'drafts') return carried
    if (carried.drafts.length === 0) return { kind: 'done', count: 0 }
    writing = new AbortController()
    const { signal } = writing
    const kept = await book.keep({ kind: 'bring-in', place: 'book', subject: { records } }, carried.drafts, {
      checked: true,
      signal,
      progress: share => tell('write', share),
    })
    writing = undefined
    if (kept.kind === 'done') {
      importer.stop()
      return { kind: 'done', count: carried.drafts.length }
    }
    return kept.kind === 'stopped' ? { kind: 'stopped' } : { kind: 'unsaved' }
  }
  function stop(): void {
    importer.stop()
    writing?.abort()
  }
  return {
    look,
    async carryOut(choices, records, tell) {
      isCarrying = true
      try {
        return await carryOut(choices, records, tell)
      } finally {
        isCarrying = false
        if (hasLeft) stop()
      }
    },
    stop,
    leave() {
      hasLeft = true
      if (!isCarrying) stop()
    },
  }
}
