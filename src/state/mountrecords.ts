/**
 * Levels, references and changes as the screens need them: one list, newest first; how one is looked at, kept and taken
 * away; and where the mount stood before an instant.
 */
import { stationBefore } from '../core/level/carryover.ts'
import type { ChangeRecord, LevelRecord, ReferenceRecord, StationRecord } from '../core/records/fieldbook.ts'
import { instantMs } from '../core/records/instant.ts'
import type { SolvedParameter } from '../core/records/solution.ts'
import type { Draft, StoredRecord } from '../core/records/stored.ts'
import type { Kept } from '../store/database.ts'
import { ask, valueTold } from './ask.ts'
import { entry, fieldBook, tombstones } from './book.ts'

export type MountEntry =
  | { kind: 'level'; record: LevelRecord }
  | { kind: 'reference'; record: ReferenceRecord }
  | { kind: 'change'; record: ChangeRecord }

/** All of a station, newest first. */
export function mountEntries(station: StationRecord): MountEntry[] {
  const all: MountEntry[] = [
    ...(station.levels ?? []).map(record => ({ kind: 'level' as const, record })),
    ...(station.references ?? []).map(record => ({ kind: 'reference' as const, record })),
    ...(station.changes ?? []).map(record => ({ kind: 'change' as const, record })),
  ]
  return all.sort((a, b) => instantMs(b.record.utc) - instantMs(a.record.utc))
}

export const mountEntry = (station: StationRecord, kind: string, id: string): MountEntry | null =>
  mountEntries(station).find(e => e.kind === kind && e.record.id === id) ?? null

const subjectOf = (item: MountEntry) => ({ record: item.kind, id: item.record.id })

/** @param also  what is written in the same step, and undone with it */
export const keepMountRecord = (
  station: StationRecord,
  item: MountEntry,
  also: readonly Draft[] = [],
): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep({ kind: 'keep-record', place: 'mount', subject: subjectOf(item) }, [
    entry(item.kind, station.id, item.record),
    ...also,
  ])

/** Deletes it; undo restores it. */
export const dropMountRecord = (station: StationRecord, item: MountEntry): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep(
    { kind: 'remove-record', place: 'mount', subject: subjectOf(item) },
    tombstones(fieldBook, item.kind, station.id, [item.record.id]),
  )

/** The parameters as solved from what was measured before an instant; null when that could not be computed or was overtaken. */
export async function solvedBefore(
  station: StationRecord,
  utc: string,
  except?: string,
): Promise<SolvedParameter[] | null> {
  const before = stationBefore(station, utc, except)
  return valueTold(await ask(before, 'solve', {}, { topic: 'before-change', at: utc }))?.parameters ?? null
}
