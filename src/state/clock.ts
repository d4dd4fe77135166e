/** Clock checks as the screens need them: how one is kept, counted backward, and deleted. */
import { type ClockCheckRecord, sightingsBackward } from '../core/records/clockchecks.ts'
import type { StationRecord } from '../core/records/fieldbook.ts'
import type { StoredRecord } from '../core/records/stored.ts'
import type { Kept } from '../store/database.ts'
import { entry, fieldBook, tombstones, type UndoStep } from './book.ts'
import { clockCompared } from './now.ts'

/** A comparison includes earlier steps of the clock: so `clockCompared` is called whether the record is kept now or waits. */
export async function keepCheck(station: StationRecord, check: ClockCheckRecord): Promise<Kept<StoredRecord[]>> {
  const step: UndoStep = { kind: 'check-clock', place: 'mount', subject: { id: check.id } }
  const kept = await fieldBook.keep(step, [entry('clock-check', station.id, check)])
  if (kept.kind !== 'refused') clockCompared()
  return kept
}

/** New revisions of the sightings timed before in the same visit, in one step that can be undone. */
export const countBackward = (station: StationRecord, check: ClockCheckRecord): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep(
    { kind: 'count-backward', place: 'mount', subject: { id: check.id } },
    sightingsBackward(station, check).map(s => entry('sighting', station.id, s)),
  )

export const dropCheck = (station: StationRecord, id: string): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep(
    { kind: 'remove-clock-check', place: 'mount', subject: { id } },
    tombstones(fieldBook, 'clock-check', station.id, [id]),
  )
