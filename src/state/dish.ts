/** What was taped on a dish goes into the book: readings and what follows from them in one step, undone as one. */

import type { Fault } from '../core/records/answer.ts'
import type { DishMeasuresRecord } from '../core/records/dishmeasure.ts'
import type { FieldBook, StationRecord } from '../core/records/fieldbook.ts'
import { checkFieldBook } from '../core/records/intake.ts'
import { withDishMeasures } from '../core/tape/measured.ts'
import { entry, fieldBook, keptRecord, stationEntry } from './book.ts'
import { now } from './now.ts'

export type AppliedDish =
  | { kind: 'kept' }
  /** Against the rules of the book: nothing was written. */
  | { kind: 'refused'; faults: readonly Fault[] }
  /** Not on the medium; it waits among the unsaved. */
  | { kind: 'unsaved' }

/**
 * @param feeds  whose places are taken over
 * @param what   what the person did, in words, for the undo button
 */
export async function applyDish(
  station: StationRecord,
  measures: DishMeasuresRecord,
  feeds: 'all' | readonly string[],
  what: string,
): Promise<AppliedDish> {
  const next = withDishMeasures(station, measures, feeds)
  const book: FieldBook = { format: 'moonplumb-fieldbook', version: 1, exportedUtc: measures.utc, stations: [next] }
  const faults = checkFieldBook(book)
  if (faults.length > 0) return { kind: 'refused', faults }
  const before = new Set<unknown>(station.changes ?? [])
  const changed = (next.changes ?? []).filter(c => !before.has(c))
  const kept = await fieldBook.save(what, [
    stationEntry(next),
    ...changed.map(change => entry('change', station.id, change)),
  ])
  return keptRecord(kept)
}

/** The present instant as it is kept, to the second. */
export const nowUtc = (): string => `${new Date(now.peek()).toISOString().slice(0, 19)}Z`
