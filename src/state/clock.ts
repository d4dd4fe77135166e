/** Clock checks as the screens need them: how one is kept, counted backward, and taken away. */
import { type ClockCheckRecord, sightingsBackward } from '../core/records/clockchecks.ts'
import type { StationRecord } from '../core/records/fieldbook.ts'
import { checkFieldBook } from '../core/records/intake.ts'
import { entry, fieldBook, type KeptRecord, keptRecord, recordOf, tombstone } from './book.ts'
import { clockCompared } from './now.ts'

/** Looks at the check first, then writes it. */
export async function keepCheck(station: StationRecord, check: ClockCheckRecord, what: string): Promise<KeptRecord> {
  const own = { ...station, clockChecks: [check] }
  const book = { format: 'moonplumb-fieldbook', version: 1, exportedUtc: check.utc, stations: [own] }
  const faults = checkFieldBook(book).filter(f => f.path.startsWith('stations[0].clockChecks'))
  if (faults.length > 0) return { kind: 'refused', faults }
  const kept = await fieldBook.save(what, [entry('clock-check', station.id, check)])
  clockCompared()
  return keptRecord(kept)
}

/** New revisions of the sightings stamped before in the same visit, in one step that undo takes back. */
export async function countBackward(station: StationRecord, check: ClockCheckRecord, what: string): Promise<boolean> {
  const drafts = sightingsBackward(station, check).map(s => entry('sighting', station.id, s))
  return drafts.length > 0 && (await fieldBook.save(what, drafts)).kind === 'done'
}

export async function dropCheck(station: StationRecord, id: string, what: string): Promise<boolean> {
  const stored = recordOf(fieldBook, 'clock-check', station.id, id)
  return stored !== undefined && (await fieldBook.save(what, [tombstone(stored)])).kind === 'done'
}
