/** The guided alignment of the station that is shown, with the feed in use, asked for while something watches; and what the person adds to it. */
import { computed, type ReadonlySignal } from '@preact/signals'
import type { AlignmentJson } from '../core/alignment/json.ts'
import type { AlignmentRecord, AlignmentStep } from '../core/records/alignment.ts'
import type { StationRecord } from '../core/records/fieldbook.ts'
import type { StoredRecord } from '../core/records/stored.ts'
import type { Kept } from '../store/database.ts'
import { ask, soundValue, takeUtc, watched } from './ask.ts'
import { entry, fieldBook, tombstones } from './book.ts'
import { feedHere } from './chosenfeed.ts'

const asked = watched({
  about: station => ({ feed: feedHere(station) }),
  ask: (station, about) => ask(station, 'alignment', about),
  ageMs: 600_000,
})

/** `stale`: what is shown does not include the latest records yet. Null: no answer yet, or the book is at fault. */
export const alignmentNow: ReadonlySignal<{
  station: string | null
  value: AlignmentJson | null
  stale: boolean
  failed: boolean
}> = computed(() => {
  const { station, stale, faults, failure } = asked.held.value
  const failed = faults.length > 0 || failure !== null
  return { station: station?.id ?? null, value: soundValue(asked.held.value), stale, failed }
})

const keepAct = (
  station: StationRecord,
  kind: 'leave-out-step' | 'set-by-hand' | 'carry-over',
  record: AlignmentRecord,
): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep({ kind, place: 'align', subject: { id: record.id, step: record.step ?? 'carry' } }, [
    entry('alignment', station.id, record),
  ])

export const leaveOutStep = (station: StationRecord, id: string, step: AlignmentStep, note: string) =>
  keepAct(station, 'leave-out-step', { id, utc: takeUtc(), what: 'left-out', step, ...(note !== '' && { note }) })

/** Set by hand, with nothing that measures it. */
export const setByHand = (station: StationRecord, id: string, step: AlignmentStep) =>
  keepAct(station, 'set-by-hand', { id, utc: takeUtc(), what: 'set', step })

/** @param numbers  the solution's, as they were put into the program */
export const markCarriedOver = (
  station: StationRecord,
  id: string,
  feed: string,
  numbers: AlignmentJson['numbers'],
  note: string,
) =>
  keepAct(station, 'carry-over', { id, utc: takeUtc(), what: 'carried', feed, numbers, ...(note !== '' && { note }) })

/** A step that was left out is taken up again. Every entry that left it out is deleted, or an older one would still apply. */
export function takeUp(station: StationRecord, step: AlignmentStep): Promise<Kept<StoredRecord[]>> {
  const ids = ((station.alignment ?? []) as AlignmentRecord[])
    .filter(r => r.what === 'left-out' && r.step === step)
    .map(r => r.id)
  return fieldBook.keep(
    { kind: 'take-up-step', place: 'align', subject: { id: ids.at(-1) ?? '', step } },
    tombstones(fieldBook, 'alignment', station.id, ids),
  )
}
