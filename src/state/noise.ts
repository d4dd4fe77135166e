/** Noise records as the screens need them: kept, deleted, undone; how high Sun or Moon stood; a feed's own temperature. */
import type { StationRecord } from '../core/records/fieldbook.ts'
import { type NoiseRecord, type NoiseRowRecord, noiseOf, noiseRowsOf } from '../core/records/noise.ts'
import type { StoredRecord } from '../core/records/stored.ts'
import type { Kept } from '../store/database.ts'
import { ask, type Told } from './ask.ts'
import { entry, fieldBook, stationEntry, tombstones } from './book.ts'

export const noiseRecord = (station: StationRecord, id: string): NoiseRecord | null =>
  noiseOf(station.noise).find(r => r.id === id) ?? null

export const keepNoise = (station: StationRecord, record: NoiseRecord): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep(
    {
      kind: noiseRecord(station, record.id) === null ? 'keep-noise' : 'change-noise',
      place: 'noise',
      subject: { id: record.id },
    },
    [entry('noise', station.id, record)],
  )

export const noiseRowRecord = (station: StationRecord, id: string): NoiseRowRecord | null =>
  noiseRowsOf(station.noise).find(r => r.id === id) ?? null

export const keepNoiseRow = (station: StationRecord, record: NoiseRowRecord): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep(
    {
      kind: noiseRowRecord(station, record.id) === null ? 'keep-noise' : 'change-noise',
      place: 'noise',
      subject: { id: record.id },
    },
    [entry('noise', station.id, record)],
  )

/** Deletes it; undo restores it. */
export const dropNoise = (station: StationRecord, id: string): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep(
    { kind: 'remove-noise', place: 'noise', subject: { id } },
    tombstones(fieldBook, 'noise', station.id, [id]),
  )

/** The system temperature found becomes the feed's own, by which it is judged what can be heard. */
export function takeSystemTemperature(
  station: StationRecord,
  feed: string,
  kelvin: number,
): Promise<Kept<StoredRecord[]>> {
  const feeds = station.feeds.map(f => (f.id === feed ? { ...f, systemTemperatureK: kelvin } : f))
  return fieldBook.keep({ kind: 'take-temperature', place: 'noise', subject: { feed } }, [
    stationEntry({ ...station, feeds }),
  ])
}

/** How high Sun or Moon stood here at an instant, degrees. */
export async function elevationAt(
  station: StationRecord,
  of: 'sun' | 'moon',
  utc: string,
): Promise<Told<number | null>> {
  const about = { target: { type: of }, stepS: 60, count: 1 } as const
  const told = await ask(station, 'dialTarget', about, { topic: 'noise-elevation', at: utc })
  return told?.kind === 'told' ? { kind: 'told', value: told.value.rows[0]?.elDeg ?? null } : told
}
