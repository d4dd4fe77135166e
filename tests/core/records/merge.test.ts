import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { recordId } from '../../../src/core/records/kinds.ts'
import {
  type Arrival,
  type Conflict,
  type Merge,
  merge,
  revisionOf,
  settle,
  withArrivals,
} from '../../../src/core/records/merge.ts'
import { bookForFile } from '../../../src/core/records/revisions.ts'
import { bookFromRecords, type StoredRecord } from '../../../src/core/records/stored.ts'
import { type AnyBook, bareStation, smallBook } from '../../helpers/smallbook.ts'

/** The records as the store would hold them after importing a book into an empty phone. */
const stored = (book: AnyBook): StoredRecord[] => withArrivals([], merge([], book).added, 0, 'test')

/** All of theirs. */
const chosen = (conflict: Conflict): Arrival => settle(conflict, () => 'theirs')

const edited = (change: (station: AnyBook, book: AnyBook) => void): AnyBook => {
  const book = smallBook()
  change(book.stations[0], book)
  return book
}

/** Counts of each outcome. */
const counts = (m: Merge) => Object.fromEntries(Object.entries(m).map(([key, list]) => [key, list.length]))
const nothing = {
  added: 0,
  updated: 0,
  together: 0,
  removed: 0,
  noted: 0,
  older: 0,
  conflicts: 0,
  deletedHere: 0,
}
const SIGHTING = recordId('sighting', 'st-1', 'si-1')
const write = (current: StoredRecord[], m: Merge): StoredRecord[] =>
  withArrivals(current, [...m.added, ...m.updated], 1, 'test')
const deleted = (records: StoredRecord[], id: string): StoredRecord[] =>
  records.map(r => (r.id === id ? { ...r, deleted: true, revision: r.revision + 1 } : r))

describe('merge', () => {
  it('adds everything to an empty phone, and the book can be put together again', () => {
    const records = stored(smallBook())
    expect(bookFromRecords(records, smallBook().exportedUtc)).toEqual(smallBook())
  })

  it('finds nothing new in the same book', () => {
    const records = stored(smallBook())
    expect(counts(merge(records, smallBook()))).toEqual({ ...nothing, same: records.length })
  })

  it('does not take an export with its numbers for another content', () => {
    const records = stored(smallBook())
    const out = bookForFile(records, '2026-06-01T00:00:00Z')
    expect(out.stations[0]!.sightings[0]).toHaveProperty('revision', 1)
    expect(counts(merge(records, out))).toEqual({ ...nothing, same: records.length })
  })

  it('does not take an empty list for another content than none', () => {
    const empty = edited(s => {
      s.checks = []
    })
    const without = edited(s => {
      delete s.checks
    })
    expect(counts(merge(stored(without), empty))).toMatchObject(nothing)
    expect(counts(merge(stored(empty), without))).toMatchObject(nothing)
  })

  it('adds a sighting that is new, after those already there', () => {
    const more = edited(s => s.sightings.push({ ...s.sightings[0], id: 'si-9' }))
    const m = merge(stored(smallBook()), more)
    expect(counts(m)).toMatchObject({ ...nothing, added: 1 })
    const book = bookFromRecords(write(stored(smallBook()), m), '2026-06-01T00:00:00Z')
    expect(book.stations[0]!.sightings.map(s => s.id)).toEqual(['si-1', 'si-2', 'si-3', 'si-4', 'si-5', 'si-9'])
  })

  it('adds a second station beside the first', () => {
    const two = { ...smallBook(), stations: [bareStation('st-2')] }
    const book = bookFromRecords(write(stored(smallBook()), merge(stored(smallBook()), two)), '2026-06-01T00:00:00Z')
    expect(book.stations.map(s => s.id)).toEqual(['st-1', 'st-2'])
  })

  it('takes a higher revision, keeps mine against a lower one', () => {
    const newer = edited(s => Object.assign(s.sightings[0], { lower: 33, revision: 2 }))
    const m = merge(stored(smallBook()), newer)
    expect(m.updated.map(a => [a.id, a.revision])).toEqual([[SIGHTING, 2]])
    expect(m.conflicts).toEqual([])
    expect(merge(stored(newer), smallBook()).older).toEqual([SIGHTING])
  })

  it('calls different content under the same number a conflict, and shows both', () => {
    const other = edited(s => Object.assign(s.sightings[0], { lower: 33 }))
    const { conflicts, updated, added } = merge(stored(smallBook()), other)
    expect([updated, added]).toEqual([[], []])
    expect(conflicts).toHaveLength(1)
    expect(conflicts[0]!.mine.body).toMatchObject({ lower: 31.2 })
    expect(conflicts[0]!.theirs.body).toMatchObject({ lower: 33 })
  })

  it('stays with the choice: after theirs was chosen the same file brings no conflict', () => {
    const other = edited(s => Object.assign(s.sightings[0], { lower: 33 }))
    const mine = stored(smallBook())
    const next = withArrivals(mine, merge(mine, other).conflicts.map(chosen), 1, 'test')
    expect(next.find(r => r.id === SIGHTING)).toMatchObject({ revision: 2, body: { lower: 33 } })
    expect(counts(merge(next, other))).toMatchObject(nothing)
    // And my own old copy does not undo it.
    expect(counts(merge(next, smallBook()))).toMatchObject({ ...nothing, older: 1 })
  })

  it('does not bring a deleted record back by itself, but offers it', () => {
    const mine = deleted(stored(smallBook()), SIGHTING)
    const m = merge(mine, smallBook())
    expect(counts(m)).toMatchObject({ ...nothing, deletedHere: 1 })
    const next = withArrivals(mine, m.deletedHere.map(chosen), 1, 'test')
    expect(next.find(r => r.id === SIGHTING)).toMatchObject({ revision: 3, deleted: false })
    expect(counts(merge(next, smallBook()))).toMatchObject(nothing)
  })

  it('brings a whole deleted station back from its exported copy', () => {
    const gone = stored(smallBook()).map(r => ({ ...r, deleted: true, revision: 2 }))
    const m = merge(gone, smallBook())
    expect(m.deletedHere).toHaveLength(gone.length)
    const back = bookFromRecords(withArrivals(gone, m.deletedHere.map(chosen), 1, 'test'), smallBook().exportedUtc)
    expect(back).toEqual(smallBook())
  })

  it('keeps unknown fields at the top of the book', () => {
    const odd = { ...smallBook(), 'club notes': [1, { a: null }] }
    expect(bookFromRecords(stored(odd), odd.exportedUtc)).toEqual(odd)
  })

  it('takes 1 for a revision number that is none', () => {
    const none = [undefined, null, 'x', {}, { revision: 0 }, { revision: 1.5 }, { revision: '7' }, { revision: 1e300 }]
    expect(none.map(revisionOf)).toEqual(Array(8).fill(1))
    expect(revisionOf({ revision: 7 })).toBe(7)
  })

  // Two phones that started from one book and each went their own way.
  const anyEdit = fc.record({
    record: fc.nat(4),
    what: fc.constantFrom('lower', 'note', 'delete', 'add'),
    value: fc.integer({ min: 0, max: 3 }),
    bump: fc.boolean(),
  })
  const anyBook = fc.array(anyEdit, { maxLength: 6 }).map(edits =>
    edited(s => {
      for (const { record, what, value, bump } of edits) {
        const sighting = s.sightings[record]
        const id = `si-x${value}`
        if (what === 'add') {
          if (s.sightings.every((x: AnyBook) => x.id !== id)) s.sightings.push({ ...s.sightings[0], id, upper: record })
        } else if (sighting !== undefined) {
          if (what === 'delete') s.sightings.splice(record, 1)
          else sighting[what] = what === 'note' ? `n${value}` : value
          if (bump) sighting.revision = (sighting.revision ?? 1) + 1
        }
      }
    }),
  )
  const contentOf = (records: StoredRecord[]) => bookFromRecords(records, '2026-06-01T00:00:00Z')

  it('changes nothing when done twice, whatever two phones did', () => {
    fc.assert(
      fc.property(anyBook, anyBook, (here, there) => {
        const mine = stored(here)
        const once = merge(mine, there)
        const next = write(mine, once)
        const twice = merge(next, there)
        expect(counts(twice)).toMatchObject({ added: 0, updated: 0, deletedHere: 0, conflicts: once.conflicts.length })
        expect(write(next, twice)).toEqual(next)
        const ids = contentOf(next).stations[0]!.sightings.map(s => s.id)
        expect(new Set(ids).size).toBe(ids.length)
      }),
      { seed: 6, numRuns: 60 },
    )
  })

  it('loses no record: every id of either side is there afterwards', () => {
    fc.assert(
      fc.property(anyBook, anyBook, (here, there) => {
        const next = write(stored(here), merge(stored(here), there))
        const idsOf = (b: AnyBook): string[] => b.stations[0].sightings.map((s: AnyBook) => s.id)
        expect(new Set(idsOf(contentOf(next)))).toEqual(new Set([...idsOf(here), ...idsOf(there)]))
      }),
      { seed: 7, numRuns: 60 },
    )
  })

  it('accounts for every record of the incoming book exactly once', () => {
    fc.assert(
      fc.property(anyBook, anyBook, (here, there) => {
        const m = merge(stored(here), there)
        const idOf = (x: string | Arrival | { id: string }) => (typeof x === 'string' ? x : x.id)
        const told = Object.values(m).flatMap(list => (list as (string | { id: string })[]).map(idOf))
        expect(told.sort()).toEqual(
          stored(there)
            .map(r => r.id)
            .sort(),
        )
      }),
      { seed: 8, numRuns: 60 },
    )
  })
})
