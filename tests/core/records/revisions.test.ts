import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { FieldBook } from '../../../src/core/records/fieldbook.ts'
import { RECORD_LISTS, recordId } from '../../../src/core/records/kinds.ts'
import { bookForFile, recordsFromBook } from '../../../src/core/records/revisions.ts'
import {
  bookFromRecords,
  currentRevisions,
  type Draft,
  type StoredRecord,
  sameJson,
} from '../../../src/core/records/stored.ts'
import { gravelPit } from '../../helpers/stations.ts'

const stored = (draft: Draft, revision = 1): StoredRecord => ({
  deleted: false,
  place: 0,
  writtenMs: 1,
  ...draft,
  revision,
  app: 'test',
})

const station = (id: string, more: object = {}) => gravelPit({ id, name: `Dish ${id}`, ...more })
const book = (stations: object[], more: object = {}): FieldBook =>
  ({ format: 'moonplumb-fieldbook', version: 1, exportedUtc: '2026-05-01T12:00:00Z', stations, ...more }) as never

const there = (whole: FieldBook) =>
  bookFromRecords(
    recordsFromBook(whole).map(d => stored(d)),
    whole.exportedUtc,
  )

/** JSON values with keys that bite: __proto__, constructor, empty, lone surrogates, right-to-left marks. */
const json = fc.jsonValue({ maxDepth: 3, noUnicodeString: false })
const oddKey = fc.constantFrom('__proto__', 'constructor', '', 'toString', 'x/y', '\ud800', '\u202eabc', 'revision')
const unknown = fc.dictionary(fc.oneof(oddKey, fc.string({ minLength: 3 })), json, { maxKeys: 4 })
const item = fc.oneof(
  { weight: 4, arbitrary: fc.tuple(fc.uuid(), unknown).map(([id, rest]) => ({ ...rest, id })) },
  { weight: 1, arbitrary: json.filter(v => typeof (v as { id?: unknown } | null)?.id !== 'string') },
)
const lists = fc.record(
  Object.fromEntries(Object.keys(RECORD_LISTS).map(list => [list, fc.array(item, { maxLength: 5 })])),
  { requiredKeys: ['sightings'] },
)
const anyBook = fc
  .tuple(fc.array(fc.tuple(fc.uuid(), unknown, lists), { maxLength: 3 }), unknown)
  .map(([stations, top]) =>
    book(
      stations.map(([id, odd, records]) => ({ ...odd, ...station(id, records) })),
      top,
    ),
  )

describe('recordsFromBook and bookFromRecords', () => {
  it('give back any book exactly, unknown fields, unknown entries and the order of lists included', () => {
    fc.assert(
      fc.property(anyBook, whole => {
        expect(there(whole)).toEqual(whole)
        for (const [index, back] of there(whole).stations.entries())
          expect(JSON.stringify(back)).toBe(JSON.stringify(whole.stations[index])) // keys in their order too
      }),
      { numRuns: 100, seed: 3 },
    )
  })

  it('do not depend on the order in which the records come back', () => {
    fc.assert(
      fc.property(
        anyBook.chain(whole =>
          fc.tuple(
            fc.constant(whole),
            fc.shuffledSubarray(recordsFromBook(whole), { minLength: recordsFromBook(whole).length }),
          ),
        ),
        ([whole, shuffled]) => {
          expect(
            bookFromRecords(
              shuffled.map(d => stored(d)),
              whole.exportedUtc,
            ),
          ).toEqual(whole)
        },
      ),
      { numRuns: 50, seed: 4 },
    )
  })

  it('keep an unknown list in the station, and entries without an id by their place', () => {
    const whole = book([
      station('s', { polarDiary: [{ id: 'p' }, 3], scans: [{ a: 1 }, { id: '#0' }, 7], noise: 'none' }),
    ])
    const drafts = recordsFromBook(whole)
    expect(drafts.map(d => d.id)).toEqual(['station:s', 'scan:s/#1', 'scan:s/#0', 'scan:s/#2'])
    expect((drafts[0]!.body as { polarDiary: unknown }).polarDiary).toEqual([{ id: 'p' }, 3])
    expect(there(whole)).toEqual(whole)
  })

  it('tell two hand-written books apart whose sightings are both called 1', () => {
    expect(recordId('sighting', 'a', 'b/c')).not.toBe(recordId('sighting', 'a/b', 'c'))
    expect(recordId('sighting', 'north', '1')).not.toBe(recordId('sighting', 'south', '1'))
    expect(recordId('sighting', 'a%2Fb', '1')).not.toBe(recordId('sighting', 'a/b', '1'))
  })

  it('refuse the same id twice in one list', () => {
    expect(() => recordsFromBook(book([station('s', { levels: [{ id: 'x' }, { id: 'x' }] })]))).toThrow(RangeError)
  })

  it('leave out tombstones, and everything of a deleted station', () => {
    const records = recordsFromBook(book([station('s', { sightings: [{ id: '1' }, { id: '2' }] }), station('t')])).map(
      d => stored(d),
    )
    const gone = records.map(r => (r.id === 'sighting:s/1' || r.id === 'station:t' ? { ...r, deleted: true } : r))
    const left = bookFromRecords(gone, '2026-05-01T12:00:00Z')
    expect(left.stations.map(s => [s.id, s.sightings.map(x => x.id)])).toEqual([['s', ['2']]])
  })

  it('write the revision beside each record when asked, and can pick stations', () => {
    const records = recordsFromBook(book([station('s', { sightings: [{ id: '1' }] }), station('t')])).map((d, n) =>
      stored(d, n + 1),
    )
    const out = bookForFile(records, '2026-05-01T12:00:00Z', ['s'])
    expect(out.stations).toHaveLength(1)
    expect(out.stations[0]).toMatchObject({ revision: 1, sightings: [{ id: '1', revision: 2 }] })
  })
})

describe('currentRevisions', () => {
  it('is the highest revision of each id, whatever the clock said', () => {
    const draft = recordsFromBook(book([station('s')]))[0]!
    const late = { ...stored(draft, 3), writtenMs: 10 } // the clock was set back before it was written
    expect(currentRevisions([stored(draft, 1), late, { ...stored(draft, 2), writtenMs: 99 }])).toEqual([late])
  })
})

describe('sameJson', () => {
  it('ignores the order of keys and absent ones, and nothing else', () => {
    expect(sameJson({ a: 1, b: [1, { c: null }] }, { b: [1, { c: null }], a: 1, d: undefined })).toBe(true)
    expect(sameJson({ a: 1 }, { a: 2 })).toBe(false)
    expect(sameJson({ toString: 1 }, {})).toBe(false)
    expect(sameJson([1, 2], [2, 1])).toBe(false)
    expect(sameJson({ revision: 1, a: { revision: 1 } }, { a: { revision: 1 } }, 'revision')).toBe(true)
  })
})
