/** The instruments of a station: the phone by its edges and inclinometers by hand; kept, renamed, deleted. */
import type { Edge } from '../core/level/upvector.ts'
import type { StationRecord } from '../core/records/fieldbook.ts'
import { type InstrumentRecord, instrumentsOf } from '../core/records/instruments.ts'
import type { Draft, StoredRecord } from '../core/records/stored.ts'
import type { Kept } from '../store/database.ts'
import { entry, fieldBook, newId, tombstones } from './book.ts'
import { remember, remembered } from './memory.ts'

const PHONE_KEY = 'moonplumb.phone'

/** This phone's own id, so that its bias is not taken off on another one. */
export function thisPhone(): string {
  const known = remembered(PHONE_KEY)
  if (known !== null) return known
  const fresh = newId().slice(0, 8)
  remember(PHONE_KEY, fresh)
  return fresh
}

export const instrumentsAt = (station: StationRecord): InstrumentRecord[] => instrumentsOf(station.instruments)

/** This phone measured by that edge; null until something was kept with it. */
export const phoneInstrument = (station: StationRecord, edge: Edge): InstrumentRecord | null =>
  instrumentsAt(station).find(i => i.type === 'phone' && i.edge === edge && i.phone === thisPhone()) ?? null

export const freshPhone = (edge: Edge, name: string, id: string): InstrumentRecord => ({
  id,
  name,
  type: 'phone',
  edge,
  phone: thisPhone(),
})

/** The name of a level's instrument: of a record, else as it was typed. */
export function instrumentName(station: StationRecord, told: string): string {
  const known = (station.instruments ?? []).find(i => (i as { id?: unknown } | null)?.id === told) as
    | { name?: unknown }
    | undefined
  return typeof known?.name === 'string' ? known.name : told
}

export const instrumentDraft = (station: StationRecord, instrument: InstrumentRecord): Draft =>
  entry('instrument', station.id, instrument)

/** @param what  the instrument as it was made or changed, or its bias found by a reversal */
export const keepInstrument = (
  station: StationRecord,
  instrument: InstrumentRecord,
  what: 'keep-instrument' | 'keep-bias',
): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep({ kind: what, place: 'mount', subject: { id: instrument.id } }, [instrumentDraft(station, instrument)])

export const dropInstrument = (station: StationRecord, id: string): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep(
    { kind: 'remove-instrument', place: 'mount', subject: { id } },
    tombstones(fieldBook, 'instrument', station.id, [id]),
  )
