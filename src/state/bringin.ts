/**
 * Bringing a field book in: first what it would do, then, when the person has chosen, all of it in one transaction.
 * The plan is pure; it is made again from the book as it stands when it is carried out.
 */
import type { Fault } from '../core/records/answer.ts'
import { readFieldBook } from '../core/records/intake.ts'
import { type Arrival, arrivalsFor, type Choices, faultsAfter, openChoices, type Plan, planFor, recordsAtFault } from '../core/records/plan.ts'
import type { Draft, StoredRecord } from '../core/records/revisions.ts'
import { fieldBook } from './book.ts'

export { arrivalsFor, type Choices, faultsAfter, openChoices, type Plan, planFor }

export type Look = { kind: 'refused'; faults: readonly Fault[] } | { kind: 'plan'; plan: Plan }

/** A text, checked, and what it would do. */
export function lookAt(current: readonly StoredRecord[], text: string): Look {
  const read = readFieldBook(text)
  return read.ok ? { kind: 'plan', plan: planFor(current, read.value) } : { kind: 'refused', faults: read.faults }
}

/** As it is handed to the store. */
export const draftFrom = ({ revision: _, ...draft }: Arrival): Draft => draft

export type Brought =
  | { kind: 'done'; count: number }
  /** With these choices the book would not be sound; the plan asks about what is at fault. */
  | { kind: 'illegal'; faults: readonly Fault[]; plan: Plan }
  /** The book here has changed since the plan was made: look again. */
  | { kind: 'changed'; plan: Plan }
  /** Not written; it waits among the unsaved. */
  | { kind: 'failed' }

export async function bringIn(plan: Plan, choices: Choices, what: string): Promise<Brought> {
  const current = fieldBook.records.value
  const again = planFor(current, plan.book)
  if (openChoices(again, choices) > 0) return { kind: 'changed', plan: again }
  const arrivals = arrivalsFor(again, choices)
  if (arrivals.length === 0) return { kind: 'done', count: 0 }
  const faults = faultsAfter(current, arrivals)
  if (faults.length > 0) {
    const forced = recordsAtFault(current, again, faults, choices)
    return { kind: 'illegal', faults, plan: planFor(current, plan.book, { forced }) }
  }
  const kept = await fieldBook.save(what, arrivals.map(draftFrom))
  return kept.kind === 'done' ? { kind: 'done', count: arrivals.length } : { kind: 'failed' }
}
