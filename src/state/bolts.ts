/** What to turn at the adjusters that the person described; how they are kept; and what was turned, until it is noted. */
import { signal } from '@preact/signals'
import { type AdjusterRecord, knownAdjusters } from '../core/records/adjusters.ts'
import type { PriorRecord, StationRecord } from '../core/records/fieldbook.ts'
import type { StoredRecord } from '../core/records/stored.ts'
import type { Kept } from '../store/database.ts'
import { fieldBook, stationEntry } from './book.ts'
import { answeredOfFeed } from './offeed.ts'

/** Null: no answer yet, or the book is at fault. */
export const bolts = answeredOfFeed('bolts', { ageMs: 600_000 })

export const adjustersOf = (station: StationRecord): AdjusterRecord[] => knownAdjusters(station.adjusters)

/** Replaces the one of that id, or is added after the others; null removes it. Another program's entries stay. */
export function keepAdjuster(
  station: StationRecord,
  id: string,
  adjuster: AdjusterRecord | null,
): Promise<Kept<StoredRecord[]>> {
  const all: readonly unknown[] = station.adjusters ?? []
  const mine = adjustersOf(station).find(a => a.id === id)
  const after = mine
    ? all.flatMap(a => (a !== mine ? [a] : adjuster === null ? [] : [adjuster]))
    : [...all, ...(adjuster === null ? [] : [adjuster])]
  return fieldBook.keep({ kind: 'set-adjuster', place: 'correct', subject: { station: station.id, id } }, [
    stationEntry({ ...station, adjusters: after as StationRecord['adjusters'] & object }),
  ])
}

/** What was turned as advised, on its way to the form of the change. */
const turned = signal<{ station: string; what: string; expect: readonly PriorRecord[] } | null>(null)

/** @param what  as the form's address has it */
export function sayTurned(station: StationRecord, what: string, expect: readonly PriorRecord[]): void {
  turned.value = { station: station.id, what, expect }
}

/** The expected values for a change that names this, if they were handed over just now. */
export const expectedOfTurned = (station: StationRecord, what: string | undefined): PriorRecord[] =>
  turned.value !== null && turned.value.station === station.id && turned.value.what === what
    ? [...turned.value.expect]
    : []

/** Called by the form once it has them. */
export const takeTurned = (): void => {
  turned.value = null
}
