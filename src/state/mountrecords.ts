/**
 * Levels, references and changes as the screens need them: one list, newest first; how one is looked at, kept and taken
 * away; and where the mount stood before an instant.
 */

import { stationBefore } from '../core/level/carryover.ts'
import { checkRecord } from '../core/records/checkrecord.ts'
import type { ChangeRecord, FieldBook, LevelRecord, ReferenceRecord, StationRecord } from '../core/records/fieldbook.ts'
import { instantMs } from '../core/records/instant.ts'
import type { ListName } from '../core/records/kinds.ts'
import type { Draft } from '../core/records/revisions.ts'
import type { SolvedParameter } from '../core/records/solution.ts'
import { ask } from '../worker/ask.ts'
import { entry, fieldBook, type KeptRecord, keptRecord, recordOf, tombstone } from './book.ts'

export type MountEntry =
  | { kind: 'level'; record: LevelRecord }
  | { kind: 'reference'; record: ReferenceRecord }
  | { kind: 'change'; record: ChangeRecord }
export type MountRecordKind = MountEntry['kind']

const LIST: Readonly<Record<MountRecordKind, ListName>> = {
  level: 'levels',
  reference: 'references',
  change: 'changes',
}

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

/**
 * Looks at the record in its station, then writes it.
 *
 * @param what  what the person did, in words, for the undo button
 * @param also  what is written in the same step, and undone with it
 */
export async function keepMountRecord(
  station: StationRecord,
  item: MountEntry,
  what: string,
  also: readonly Draft[] = [],
): Promise<KeptRecord> {
  const faults = checkRecord(LIST[item.kind], item.record, station)
  if (faults.length > 0) return { kind: 'refused', faults }
  const kept = await fieldBook.save(what, [entry(item.kind, station.id, item.record), ...also])
  return keptRecord(kept)
}

/** Takes it away; undo brings it back. @returns false when it could not be written */
export async function dropMountRecord(station: StationRecord, item: MountEntry, what: string): Promise<boolean> {
  const stored = recordOf(fieldBook, item.kind, station.id, item.record.id)
  if (!stored) return false
  return (await fieldBook.save(what, [tombstone(stored)])).kind === 'done'
}

/** The parameters as solved from what was measured before an instant; null when that could not be computed or was overtaken. */
export async function solvedBefore(
  station: StationRecord,
  utc: string,
  except?: string,
): Promise<SolvedParameter[] | null> {
  const book: FieldBook = {
    format: 'moonplumb-fieldbook',
    version: 1,
    exportedUtc: utc,
    stations: [stationBefore(station, utc, except)],
  }
  const asked = await ask('solve', [book, { now: utc }], 'before-change')
  return asked.kind === 'answer' && asked.value.ok ? asked.value.value.parameters : null
}
