/** A calibration put into a station: a revision of the station's own record, which undo takes back. */
import type { Calibrated } from '../core/calibration/calibrate.ts'
import { withCalibration } from '../core/calibration/calibrated.ts'
import type { Fault } from '../core/records/answer.ts'
import type { Axis, PairRecord, StationRecord } from '../core/records/fieldbook.ts'
import { checkFieldBook } from '../core/records/intake.ts'
import { fieldBook, keptRecord, stationEntry } from './book.ts'

export type KeptStation = { kind: 'kept' } | { kind: 'refused'; faults: Fault[] } | { kind: 'unsaved' }

/** Looks at the whole station first: readings far out may lie outside the new triangle. */
export async function keepStation(next: StationRecord, utc: string, what: string): Promise<KeptStation> {
  const book = { format: 'moonplumb-fieldbook', version: 1, exportedUtc: utc, stations: [next] }
  const faults = checkFieldBook(book)
  if (faults.length > 0) return { kind: 'refused', faults }
  const kept = await fieldBook.save(what, [stationEntry(next)])
  return keptRecord(kept)
}

export const putCalibration = (
  station: StationRecord,
  axis: Axis,
  calibrated: Calibrated,
  kept: { utc: string; pairs: readonly PairRecord[] },
  what: string,
): Promise<KeptStation> => keepStation(withCalibration(station, axis, calibrated, kept), kept.utc, what)
