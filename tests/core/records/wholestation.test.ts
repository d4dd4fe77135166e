import { describe, expect, it } from 'vitest'
import type { FieldBook } from '../../../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { recordsFromBook } from '../../../src/core/records/revisions.ts'
import { bookFromRecords, type StoredRecord } from '../../../src/core/records/stored.ts'
import { faultsOfWriting } from '../../../src/core/records/wholestation.ts'
import { smallBook } from '../../helpers/smallbook.ts'
import { someOf } from '../../helpers/some.ts'

const stored = (book: FieldBook): StoredRecord[] =>
  recordsFromBook(book).map(draft => ({
    ...draft,
    deleted: false,
    place: draft.place ?? 0,
    revision: 1,
    writtenMs: 0,
    app: '',
  }))
const records = stored(smallBook() as FieldBook)
const one = (kind: string): StoredRecord => records.find(r => r.kind === kind)!
const station = one('station')
const withFeeds = (feeds: unknown[]) => ({ ...station, body: { ...(station.body as object), feeds } })

describe('faultsOfWriting', () => {
  it('is silent about every record of a sound book, written again', () => {
    expect(faultsOfWriting(records, records)).toEqual([])
    for (const record of someOf(records)) expect(faultsOfWriting(records, [record])).toEqual([])
  })

  it('names the sightings that would be left without their feed', () => {
    const [, second] = (station.body as { feeds: unknown[] }).feeds
    const faults = faultsOfWriting(records, [withFeeds([second])])
    expect(faults.length).toBeGreaterThan(0)
    expect(faults[0]!.rule).toMatch(/there is no feed/)
  })

  it('refuses a sighting of a feed that is not there, looking at that sighting alone', () => {
    const sighting = one('sighting')
    const body = { ...(sighting.body as object), feed: 'nowhere' }
    expect(faultsOfWriting(records, [{ ...sighting, body }]).map(f => f.rule)).toEqual([
      expect.stringMatching(/there is no feed "nowhere"/),
    ])
  })

  it('refuses a station taken back from under its records, and lets all of them go together', () => {
    const gone = { ...station, deleted: true }
    expect(faultsOfWriting(records, [gone])[0]!.rule).toMatch(/would be left without it/)
    expect(
      faultsOfWriting(
        records,
        records.map(r => ({ ...r, deleted: true })),
      ),
    ).toEqual([])
  })

  it('lets what was broken before stand in nobody’s way', () => {
    const sighting = one('sighting')
    const broken = { ...sighting, body: { ...(sighting.body as object), feed: 'nowhere' } }
    const already = records.map(r => (r.id === broken.id ? broken : r))
    expect(faultsOfWriting(already, [station])).toEqual([])
    expect(faultsOfWriting(already, [one('level')])).toEqual([])
  })

  it('refuses an id that another record of the file has', () => {
    const level = one('level')
    const twice = {
      ...level,
      id: `${level.id}x`,
      body: { ...(level.body as object), id: (one('sighting').body as { id: string }).id },
    }
    expect(faultsOfWriting(records, [twice])[0]!.rule).toMatch(/unique/)
  })

  it('refuses the id of a record of another station, and lets each station have a feed or an instrument of that name', () => {
    const [first] = (smallBook() as FieldBook).stations
    const other = { ...first!, id: 'elsewhere', name: 'Elsewhere' }
    const two = stored({ ...(smallBook() as FieldBook), stations: [{ ...other, sightings: [] }] })
    const sighting = one('sighting')
    const moved = { ...sighting, id: `${sighting.id}y`, station: 'elsewhere' }
    expect(faultsOfWriting([...records, ...two.filter(r => r.kind === 'station')], [moved])).toEqual([
      { path: 'id', rule: expect.stringMatching(/unique in the file.*another station/) },
    ])
  })

  it('names the key from the record on', () => {
    const sighting = one('sighting')
    const body = { ...(sighting.body as object), lower: 'x' }
    expect(faultsOfWriting(records, [{ ...sighting, body }]).map(f => f.path)).toEqual(['lower'])
  })

  it('lets a record’s own old fault stand, unless all that is wrong with it is asked for', () => {
    const sighting = one('sighting')
    const broken = { ...sighting, body: { ...(sighting.body as object), feed: 'nowhere' } }
    const already = records.map(r => (r.id === broken.id ? broken : r))
    const again = { ...broken, body: { ...broken.body, note: 'looked at' } }
    expect(faultsOfWriting(already, [again])).toEqual([])
    expect(faultsOfWriting(already, [again], true).map(f => f.path)).toEqual(['feed'])
    const worse = { ...broken, body: { ...broken.body, lower: 'x' } }
    expect(faultsOfWriting(already, [worse]).map(f => f.path)).toEqual(['lower'])
  })

  it('finds an entry at fault where the whole book would be, mutated in every key', () => {
    const whole = (body: unknown, of: StoredRecord) =>
      checkFieldBook(
        bookFromRecords(
          records.map(r => (r.id === of.id ? { ...r, body } : r)),
          '1970-01-01T00:00:00Z',
        ),
      )
    let faulty = 0
    const entries = records.filter(r => r.kind !== 'station' && r.kind !== 'book')
    for (const record of entries)
      for (const key of Object.keys(record.body as object))
        for (const value of [undefined, null, -1e9, 'x', [], {}, true]) {
          const body = { ...(record.body as object), [key]: value }
          const [found, expected] = [faultsOfWriting(records, [{ ...record, body }]), whole(body, record)]
          if (expected.length > 0) faulty += 1
          expect([record.kind, key, value, found.map(f => f.rule)]).toEqual([
            record.kind,
            key,
            value,
            expected.map(f => f.rule),
          ])
        }
    expect(faulty).toBeGreaterThan(entries.length)
  })

  it('reads the station once for thousands of records, not once for each', () => {
    const sighting = one('sighting')
    let reads = 0
    const many = Array.from({ length: 3000 }, (_, k) => ({
      ...sighting,
      id: `sighting:st-1/m${k}`,
      station: station.station,
      body: Object.defineProperty({ ...(sighting.body as object) }, 'id', {
        enumerable: true,
        get() {
          reads += 1
          return `m${k}`
        },
      }),
    }))
    expect(faultsOfWriting(records, many)).toEqual([])
    expect(reads).toBeGreaterThan(3000)
    expect(reads / many.length).toBeLessThan(30)
  })
})
