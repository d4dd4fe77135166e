/** Noise records as the screens need them: kept, taken out, undone; how high Sun or Moon stood; a feed's own temperature. */
import type { Fault } from '../core/records/answer.ts'
import type { FieldBook, StationRecord } from '../core/records/fieldbook.ts'
import { checkFieldBook } from '../core/records/intake.ts'
import { type NoiseRecord, noiseOf } from '../core/records/noise.ts'
import { ask } from '../worker/ask.ts'
import { entry, fieldBook, keptRecord, recordOf, stationEntry, tombstone } from './book.ts'

const own = new Set<string>()
/** True where the step was made here: only those are undone from these screens. */
export const isNoiseStep = (what: string): boolean => own.has(what)

const bookOf = (station: StationRecord, utc: string): FieldBook => ({
  format: 'moonplumb-fieldbook',
  version: 1,
  exportedUtc: utc,
  stations: [station],
})

export const noiseRecord = (station: StationRecord, id: string): NoiseRecord | null =>
  noiseOf(station.noise).find(r => r.id === id) ?? null

export type KeptNoise =
  | { kind: 'kept' }
  /** Against the rules of the book: nothing was written. */
  | { kind: 'refused'; faults: readonly Fault[] }
  /** Not on the medium; it waits among the unsaved. */
  | { kind: 'unsaved' }

/** @param what  what the person did, in words, for the undo button */
export async function keepNoise(station: StationRecord, record: NoiseRecord, what: string): Promise<KeptNoise> {
  const alone = { ...station, noise: [record], sightings: [], scans: [], levels: [] }
  const faults = checkFieldBook(bookOf(alone, record.utc)).filter(f => f.path.startsWith('stations[0].noise[0]'))
  if (faults.length > 0) return { kind: 'refused', faults }
  own.add(what)
  const kept = await fieldBook.save(what, [entry('noise', station.id, record)])
  return keptRecord(kept)
}

/** Takes it away; undo brings it back. @returns false when it could not be written */
export async function dropNoise(station: StationRecord, id: string, what: string): Promise<boolean> {
  const stored = recordOf(fieldBook, 'noise', station.id, id)
  if (!stored) return false
  own.add(what)
  return (await fieldBook.save(what, [tombstone(stored)])).kind === 'done'
}

/** The system temperature found becomes the feed's own: what can be heard is then judged by it. */
export async function takeSystemTemperature(
  station: StationRecord,
  feed: string,
  kelvin: number,
  what: string,
): Promise<boolean> {
  const feeds = station.feeds.map(f => (f.id === feed ? { ...f, systemTemperatureK: kelvin } : f))
  own.add(what)
  return (await fieldBook.save(what, [stationEntry({ ...station, feeds })])).kind === 'done'
}

/** How high Sun or Moon stood here; null when that could not be computed or was overtaken. Degrees. */
export async function elevationAt(station: StationRecord, of: 'sun' | 'moon', utc: string): Promise<number | null> {
  const o = { now: utc, target: { type: of }, stepS: 60, count: 1 } as const
  const asked = await ask('dialTarget', [bookOf(station, utc), o], 'noise-elevation')
  return asked.kind === 'answer' && asked.value.ok ? (asked.value.value.rows[0]?.elDeg ?? null) : null
}
