import { describe, expect, it } from 'vitest'
import { recordId, type StoredRecord } from '../../src/core/records/revisions.ts'
import { exportMarks, needsBackup } from '../../src/store/backup.ts'

const record = (
  kind: 'station' | 'sighting',
  station: string,
  own: string | undefined,
  revision: number,
  deleted = false,
): StoredRecord => ({
  id: recordId(kind, station, own),
  revision,
  kind,
  station,
  deleted,
  place: 0,
  body: {},
  writtenMs: 0,
  app: '',
})

describe('needsBackup', () => {
  const before = [
    record('station', 's', undefined, 1),
    record('sighting', 's', 'a', 2),
    record('station', 't', undefined, 1),
  ]

  it('counts every revision of a station that was never exported', () => {
    expect(needsBackup(before, [])).toEqual([
      { station: 's', changes: 3, lastExportMs: null },
      { station: 't', changes: 1, lastExportMs: null },
    ])
  })

  it('is quiet after an export and counts again from there, deletions too, whatever the clock says', () => {
    const marks = exportMarks(before, ['s', 't'], 9e12)
    expect(needsBackup(before, marks)).toEqual([])
    const after = before.map(r => (r.kind === 'sighting' ? { ...r, revision: 3, deleted: true } : r))
    expect(needsBackup(after, marks)).toEqual([{ station: 's', changes: 1, lastExportMs: 9e12 }])
  })

  it('does not ask for a deleted station', () => {
    expect(needsBackup([record('station', 's', undefined, 2, true)], [])).toEqual([])
  })
})
