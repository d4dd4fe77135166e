/**
 * Importing, on the worker's side: a field book is read, checked and compared with the records that are here, and after the
 * person's answers the drafts go back in small pieces. Everything slow happens here.
 */
import type { Fault } from '../core/records/answer.ts'
import { type Digest, digestOf } from '../core/records/digest.ts'
import type { FieldBook } from '../core/records/fieldbook.ts'
import { LARGEST_FILE, readFieldBook, tooLarge } from '../core/records/intake.ts'
import { arrivalsFor, type Choices, faultsAfter, type Plan, planFor, recordsAtFault } from '../core/records/plan.ts'
import type { Draft, StoredRecord } from '../core/records/stored.ts'

export type ImportStage = 'read' | 'check' | 'compare' | 'write'

/** From the page. */
export type FromPage =
  /** A part of the records that are here, before `look`. */
  | { kind: 'here'; records: readonly StoredRecord[] }
  | { kind: 'look'; source: Blob | string }
  | { kind: 'carry'; choices: Choices }

/** To the page. */
export type ToPage =
  | { kind: 'progress'; stage: ImportStage; share: number }
  | { kind: 'refused'; faults: readonly Fault[] }
  /** Not text in UTF-8, or the file could not be read. */
  | { kind: 'unreadable' }
  | { kind: 'plan'; digest: Digest }
  | { kind: 'illegal'; faults: readonly Fault[]; digest: Digest }
  /** In order; the last message has `isLast`. */
  | { kind: 'drafts'; drafts: readonly Draft[]; isLast: boolean }
  | { kind: 'failed'; message: string }

/** Records in a message: reading it costs the page a few milliseconds. */
export const PIECE = 400

export function createImporting(say: (said: ToPage) => void): (told: FromPage) => Promise<void> {
  const here: StoredRecord[] = []
  let plan: Plan | null = null

  async function textOf(source: Blob | string): Promise<string> {
    if (typeof source === 'string') return source
    const decoder = new TextDecoder('utf-8', { fatal: true })
    const reader = source.stream().getReader()
    let [text, bytes] = ['', 0]
    for (;;) {
      const { done, value } = await reader.read()
      if (done) return text + decoder.decode()
      text += decoder.decode(value, { stream: true })
      bytes += value.byteLength
      say({ kind: 'progress', stage: 'read', share: bytes / source.size })
    }
  }

  const show = (next: Plan): Digest => {
    plan = next
    return digestOf(next)
  }
  const compared = (book: FieldBook, forced?: ReadonlySet<string>) =>
    planFor(here, book, {
      ...(forced && { forced }),
      progress: share => say({ kind: 'progress', stage: 'compare', share }),
    })

  async function look(source: Blob | string): Promise<void> {
    if (typeof source !== 'string' && source.size > LARGEST_FILE) {
      say({ kind: 'refused', faults: [tooLarge(source.size)] })
      return
    }
    let text: string
    try {
      text = await textOf(source)
    } catch {
      say({ kind: 'unreadable' })
      return
    }
    // The number of records is not known before they are read: guessed from their usual length.
    const guess = Math.max(1, text.length / 200)
    say({ kind: 'progress', stage: 'check', share: 0 })
    const read = readFieldBook(text, records =>
      say({ kind: 'progress', stage: 'check', share: Math.min(1, records / guess) }),
    )
    if (read.ok) say({ kind: 'plan', digest: show(compared(read.value)) })
    else say({ kind: 'refused', faults: read.faults })
  }

  function carry(choices: Choices): void {
    if (plan === null) throw new RangeError('carry: must come after look')
    const arrivals = arrivalsFor(plan, choices)
    const isDecided = plan.conflicts.length > 0 || choices.deleted === 'back'
    // What nobody had to decide was looked at when the plan was made.
    const faults = isDecided || plan.why.length > 0 ? faultsAfter(here, arrivals) : []
    if (faults.length > 0) {
      const forced = recordsAtFault(here, plan, faults, choices)
      say({ kind: 'illegal', faults, digest: show(compared(plan.book, forced)) })
      return
    }
    const drafts = arrivals.map(({ revision: _, ...draft }): Draft => draft)
    for (let from = 0; from === 0 || from < drafts.length; from += PIECE)
      say({ kind: 'drafts', drafts: drafts.slice(from, from + PIECE), isLast: from + PIECE >= drafts.length })
  }

  return async told => {
    try {
      if (told.kind === 'here') here.push(...told.records)
      else if (told.kind === 'look') await look(told.source)
      else carry(told.choices)
    } catch (error) {
      say({ kind: 'failed', message: error instanceof Error ? `${error.name}: ${error.message}` : String(error) })
    }
  }
}
