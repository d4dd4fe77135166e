/**
 * Bringing a field book in: first what it would do, then, when the person has chosen, all of it in one transaction.
 * The plan is pure; it is made again from the book as it stands when it is carried out.
 */
import type { Fault } from '../core/records/answer.ts'
import type { FieldBook } from '../core/records/fieldbook.ts'
import { checkFieldBook, readFieldBook } from '../core/records/intake.ts'
import { type Arrival, type Conflict, chosen, merge, withArrivals } from '../core/records/merge.ts'
import { bookFromRecords, type Draft, type StoredRecord } from '../core/records/revisions.ts'
import { fieldBook } from './book.ts'

export interface Plan {
  book: FieldBook
  added: readonly Arrival[]
  updated: readonly Arrival[]
  same: readonly string[]
  older: readonly string[]
  conflicts: readonly Conflict[]
  /** Deleted here, whether older or newer there: never brought back unasked. */
  deletedHere: readonly Conflict[]
}

export type Look = { kind: 'refused'; faults: readonly Fault[] } | { kind: 'plan'; plan: Plan }

export interface Choices {
  /** By the record's id. */
  sides: Readonly<Record<string, 'mine' | 'theirs'>>
  deleted: 'stay' | 'back' | null
}

/** What a checked book would do. @param current  current revisions, tombstones included */
export function planFor(current: readonly StoredRecord[], book: FieldBook): Plan {
  const found = merge(current, book)
  const known = new Map(current.map(record => [record.id, record]))
  const isGone = (arrival: Arrival) => known.get(arrival.id)?.deleted === true
  const back = found.updated.filter(isGone).map(theirs => ({ id: theirs.id, mine: known.get(theirs.id)!, theirs }))
  return {
    ...found,
    book,
    updated: found.updated.filter(arrival => !isGone(arrival)),
    deletedHere: [...found.deletedHere, ...back],
  }
}

/** A text, checked, and what it would do. */
export function lookAt(current: readonly StoredRecord[], text: string): Look {
  const read = readFieldBook(text)
  return read.ok ? { kind: 'plan', plan: planFor(current, read.value) } : { kind: 'refused', faults: read.faults }
}

/** How many choices the person still has to make. */
export const openChoices = (plan: Plan, choices: Choices): number =>
  plan.conflicts.filter(conflict => !choices.sides[conflict.id]).length +
  (plan.deletedHere.length > 0 && choices.deleted === null ? 1 : 0)

/** What would be written with these choices. */
export const arrivalsFor = (plan: Plan, choices: Choices): Arrival[] => [
  ...plan.added,
  ...plan.updated,
  ...plan.conflicts.filter(conflict => choices.sides[conflict.id] === 'theirs').map(chosen),
  ...(choices.deleted === 'back' ? plan.deletedHere.map(chosen) : []),
]

/** Whether the whole book would still be sound: a sighting may name a feed that the side chosen does not have. */
export const faultsAfter = (current: readonly StoredRecord[], arrivals: readonly Arrival[]): Fault[] =>
  checkFieldBook(bookFromRecords(withArrivals(current, arrivals, 0, ''), '1970-01-01T00:00:00Z'))

/** Each keeps the number that it had where it comes from, so that the next merge knows it again. */
const draftFrom = ({ revision, ...arrival }: Arrival): Draft => ({
  ...arrival,
  body:
    typeof arrival.body === 'object' && arrival.body !== null && !Array.isArray(arrival.body)
      ? { ...arrival.body, revision }
      : arrival.body,
})

export type Brought =
  | { kind: 'done'; count: number }
  | { kind: 'illegal'; faults: readonly Fault[] }
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
  if (faults.length > 0) return { kind: 'illegal', faults }
  const kept = await fieldBook.save(what, arrivals.map(draftFrom), { checked: true })
  return kept.kind === 'done' ? { kind: 'done', count: arrivals.length } : { kind: 'failed' }
}
