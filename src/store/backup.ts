/**
 * Which stations have changed since they were last exported. Counted in revisions, not by the clock: a phone whose
 * clock was set back must not forget to remind.
 */
import type { StoredRecord } from '../core/records/revisions.ts'
import type { Mark } from './database.ts'

export interface BackupNeed {
  station: string
  /** Revisions written since the last export; all of them when there was none. */
  changes: number
  /** Unix ms of the last export, or null. */
  lastExportMs: number | null
}

const keyOf = (station: string): string => `export:${station}`

/** How many revisions each station has seen. @param current  current revisions, tombstones included */
function revisionCounts(current: Iterable<StoredRecord>): Map<string, number> {
  const counts = new Map<string, number>()
  for (const record of current)
    if (record.station !== '') counts.set(record.station, (counts.get(record.station) ?? 0) + record.revision)
  return counts
}

/** What to remember when these stations have been exported. */
export function exportMarks(current: readonly StoredRecord[], stations: readonly string[], nowMs: number): Mark[] {
  const counts = revisionCounts(current)
  return stations.map(station => ({ key: keyOf(station), ms: nowMs, count: counts.get(station) ?? 0 }))
}

/** The stations, not deleted, that hold something no export has. */
export function needsBackup(current: readonly StoredRecord[], marks: readonly Mark[]): BackupNeed[] {
  const counts = revisionCounts(current)
  const known = new Map(marks.map(mark => [mark.key, mark]))
  const needs: BackupNeed[] = []
  for (const record of current) {
    if (record.kind !== 'station' || record.deleted) continue
    const mark = known.get(keyOf(record.station))
    const changes = (counts.get(record.station) ?? 0) - (mark?.count ?? 0)
    if (changes > 0) needs.push({ station: record.station, changes, lastExportMs: mark?.ms ?? null })
  }
  return needs
}
