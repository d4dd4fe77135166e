/**
 * What the person does with a suspect: dismiss it, look at it again, or accept what it offers. Each is one step
 * that can be undone.
 */
import { withOffer } from '../core/fit/suspects/offer.ts'
import { withDismissed } from '../core/records/dismissed.ts'
import type { StationRecord } from '../core/records/fieldbook.ts'
import { recordsFromBook } from '../core/records/revisions.ts'
import type { Suspect } from '../core/records/solution.ts'
import type { Draft } from '../core/records/stored.ts'
import { fieldBook, newId, stationEntry } from './book.ts'

/** @param back  it was dismissed, and is looked at again */
export const dismiss = (station: StationRecord, s: Suspect, back = false) =>
  fieldBook.keep({ kind: back ? 'look-again' : 'dismiss', place: 'correct', subject: { suspect: s.kind } }, [
    stationEntry(withDismissed(station, s, back)),
  ])

/** Every record that the accepted offer alters, and no other. */
function draftsOf(station: StationRecord, s: Suspect, id: string, note?: string): Draft[] {
  if (s.offer === undefined) return []
  const records = (x: StationRecord) =>
    recordsFromBook({ format: 'moonplumb-fieldbook', version: 1, exportedUtc: '', stations: [x] })
  const before = new Map(records(station).map(r => [r.id, JSON.stringify(r.body)]))
  // An existing record keeps its place, a new one gets the next.
  return records(withOffer(station, s.offer, id, note))
    .filter(r => before.get(r.id) !== JSON.stringify(r.body))
    .map(({ place: _, ...draft }) => draft)
}

export const accept = (station: StationRecord, s: Suspect) =>
  fieldBook.keep(
    { kind: 'accept', place: 'correct', subject: { suspect: s.kind } },
    draftsOf(station, s, newId(), s.text),
  )
