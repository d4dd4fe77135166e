/** What was taped on a dish goes into the book: readings and what follows from them in one step, undone as one. */
import type { DishMeasuresRecord } from '../core/records/dishmeasure.ts'
import type { StationRecord } from '../core/records/fieldbook.ts'
import type { StoredRecord } from '../core/records/stored.ts'
import { withDishMeasures } from '../core/tape/measured.ts'
import type { Kept } from '../store/database.ts'
import { entry, fieldBook, stationEntry, type UndoStep } from './book.ts'

type DishStep = Extract<UndoStep, { place: 'dish' }>

/** @param feeds  whose places are taken over */
export function applyDish(
  station: StationRecord,
  measures: DishMeasuresRecord,
  feeds: 'all' | readonly string[],
  step: DishStep,
): Promise<Kept<StoredRecord[]>> {
  const next = withDishMeasures(station, measures, feeds)
  const before = new Set<unknown>(station.changes ?? [])
  const changed = (next.changes ?? []).filter(c => !before.has(c))
  const drafts = [stationEntry(next), ...changed.map(change => entry('change', station.id, change))]
  return fieldBook.keep(step, drafts)
}
