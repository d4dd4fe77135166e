/** Which stations are invented. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { fieldBook } from '../../state/book.ts'
import { isDemo } from '../kit/phrases.ts'

export const demoMark = (station: StationRecord) => isDemo(station)

/** The stations that were not invented. */
export const stationNames = (): ReadonlyMap<string, string> =>
  new Map(fieldBook.stations.value.filter(station => !demoMark(station)).map(station => [station.id, station.name]))
