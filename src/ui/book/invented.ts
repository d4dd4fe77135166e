/** Which stations are invented, and what their line in a list says. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { fieldBook } from '../../state/book.ts'
import { isInvented } from '../kit/phrases.ts'
import { BOOK } from './words.ts'

export const inventedWord = (station: StationRecord): string | null =>
  station.rehearsal === true ? BOOK.rehearsal : isInvented(station) ? BOOK.demo : null

/** The stations that were not invented. */
export const stationNames = (): ReadonlyMap<string, string> =>
  new Map(fieldBook.stations.value.filter(station => !isInvented(station)).map(station => [station.id, station.name]))
