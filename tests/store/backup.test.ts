import { describe, expect, it } from 'vitest'
import { recordId } from '../../src/core/records/kinds.ts'
import type { StoredRecord } from '../../src/core/records/stored.ts'
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

  it('counts the records of a station that was never backed up, not how often each was written', () => {
    expect(needsBackup(before, [])).toEqual([
      { station: 's', changes: 2, lastExportMs: null },
      { station: 't', changes: 1, lastExportMs: null },
    ])
  })

  it('is quiet after a backup and counts again from there, deletions too, whatever the clock says', () => {
    const marks = exportMarks(before, ['s', 't'], 9e12)
    expect(needsBackup(before, marks)).toEqual([])
    const after = before.map(r => (r.kind === 'sighting' ? { ...r, revision: 3, deleted: true } : r))
    expect(needsBackup(after, marks)).toEqual([{ station: 's', changes: 1, lastExportMs: 9e12 }])
  })

  it('counts 18 writes of 3 sightings, one of them new, as 3 records', () => {
    const marks = exportMarks(before, ['s'], 1)
    const after = [
      record('station', 's', undefined, 1),
      ...['a', 'b', 'c'].map(own => record('sighting', 's', own, own === 'a' ? 8 : 6)),
    ]
    expect(needsBackup(after, marks)).toEqual([{ station: 's', changes: 3, lastExportMs: 1 }])
  })

  it('reads the mark of an older version, which knows writes alone, as at most the records that there are', () => {
    const old = [{ key: 'export:s', ms: 1, count: 3 }]
    const after = [record('station', 's', undefined, 1), record('sighting', 's', 'a', 20)]
    expect(needsBackup(after, old)).toEqual([{ station: 's', changes: 2, lastExportMs: 1 }])
  })

  it('does not ask for a deleted station', () => {
    expect(needsBackup([record('station', 's', undefined, 2, true)], [])).toEqual([])
  })
})
