/** A calibration put into a station: a revision of the station's own record, which can be undone. */
import type { Calibrated } from '../core/calibration/calibrate.ts'
import { withCalibration } from '../core/calibration/calibrated.ts'
import type { Axis, PairRecord, StationRecord } from '../core/records/fieldbook.ts'
import type { StoredRecord } from '../core/records/stored.ts'
import type { Kept } from '../store/database.ts'
import { fieldBook, stationEntry } from './book.ts'

/** Refused where readings far out would lie outside the new triangle. */
export const putCalibration = (
  station: StationRecord,
  axis: Axis,
  calibrated: Calibrated,
  kept: { utc: string; pairs: readonly PairRecord[] },
): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep({ kind: 'calibrate', place: 'mount', subject: { axis } }, [
    stationEntry(withCalibration(station, axis, calibrated, kept)),
  ])
