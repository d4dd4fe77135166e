import { describe, expect, it } from 'vitest'
import type { FieldBook } from '../../../src/core/records/fieldbook.ts'
import { recordsFromBook } from '../../../src/core/records/revisions.ts'
import type { StoredRecord } from '../../../src/core/records/stored.ts'
import { faultsOfWriting } from '../../../src/core/records/wholestation.ts'
import { smallBook } from '../../helpers/smallbook.ts'

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
    for (const record of records) expect(faultsOfWriting(records, [record])).toEqual([])
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
})
