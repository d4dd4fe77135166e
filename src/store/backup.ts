/**
 * Which stations hold records that no backup has. Counted in records and their revisions, not by the clock: a phone whose clock was
 * set back must still remind.
 */
import type { StoredRecord } from '../core/records/stored.ts'
import type { BackupMark } from './database.ts'

export interface BackupNeed {
  station: string
  /** Records, deleted ones too, that are newer than in the last backup; all of them when there was none. */
  changes: number
  /** Unix ms of the last backup, or null. */
  lastExportMs: number | null
}

const keyOf = (station: string): string => `export:${station}`

/** 32 bits (FNV-1a). Two of 100,000 records share one in 1 of 43,000 cases each: then a reminder counts one too few. */
function hashOf({ id, revision }: StoredRecord): number {
  let hash = 0x811c9dc5
  const key = `${id} ${revision}`
  for (let i = 0; i < key.length; i++) hash = Math.imul(hash ^ key.charCodeAt(i), 0x01000193)
  return hash >>> 0
}

/** The current revisions of each station. */
function byStation(current: Iterable<StoredRecord>): Map<string, StoredRecord[]> {
  const found = new Map<string, StoredRecord[]>()
  for (const record of current) {
    if (record.station === '') continue
    const list = found.get(record.station)
    if (list) list.push(record)
    else found.set(record.station, [record])
  }
  return found
}

/** How many revisions these records have in total: grows with every write. */
const revisionsIn = (records: readonly StoredRecord[]): number => records.reduce((sum, r) => sum + r.revision, 0)

/** The marks to keep when these stations have been backed up as they are in `current`. */
export function exportMarks(
  current: readonly StoredRecord[],
  stations: readonly string[],
  nowMs: number,
): BackupMark[] {
  const found = byStation(current)
  return stations.map(station => {
    const records = found.get(station) ?? []
    return {
      key: keyOf(station),
      ms: nowMs,
      count: revisionsIn(records),
      held: Uint32Array.from(records, hashOf).sort(),
    }
  })
}

function holds(sorted: Uint32Array, hash: number): boolean {
  let [low, high] = [0, sorted.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (sorted[middle]! < hash) low = middle + 1
    else high = middle
  }
  return sorted[low] === hash
}

function newerThan(mark: BackupMark | undefined, records: readonly StoredRecord[]): number {
  const writes = revisionsIn(records) - (mark?.count ?? 0)
  if (!mark || writes <= 0) return writes <= 0 ? 0 : records.filter(record => !record.deleted).length
  const { held } = mark
  // A mark of an older version knows how many writes there were, not which.
  if (held === undefined) return Math.min(writes, records.length)
  return Math.max(1, records.filter(record => !holds(held, hashOf(record))).length)
}

/** The stations, not deleted, that hold records that no backup has. */
export function needsBackup(current: readonly StoredRecord[], marks: readonly BackupMark[]): BackupNeed[] {
  const known = new Map(marks.map(mark => [mark.key, mark]))
  const needs: BackupNeed[] = []
  for (const [station, records] of byStation(current)) {
    if (!records.some(record => record.kind === 'station' && !record.deleted)) continue
    const mark = known.get(keyOf(station))
    const changes = newerThan(mark, records)
    if (changes > 0) needs.push({ station, changes, lastExportMs: mark?.ms ?? null })
  }
  return needs
}
