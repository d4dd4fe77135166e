/** A field book brought into the book on the phone as an import does it, without a question and whatever its rules say. */
import type { FieldBook } from '../../src/core/records/fieldbook.ts'
import type { BookModel } from '../../src/state/book.ts'
import { arrivalsFor, type Choices, planFor } from '../../src/state/import.ts'
import { did } from './steps.ts'

/** What differs is taken from the file, and what was deleted here comes back. */
const TAKE_ALL: Choices = { sides: {}, rest: 'theirs', deleted: 'back' }

/** @returns how many records are new or changed; null where it was not written */
export async function bringIn(model: BookModel, book: FieldBook): Promise<number | null> {
  const arrivals = arrivalsFor(planFor(model.records.value, book), TAKE_ALL)
  const drafts = arrivals.map(({ revision: _, ...draft }) => draft)
  const kept = await model.keep(did('import'), drafts, { checked: true })
  return kept.kind === 'done' ? kept.value.length : null
}
