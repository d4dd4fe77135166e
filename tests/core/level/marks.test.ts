import { describe, expect, it } from 'vitest'
import { compareMark, markNames, openRuns } from '../../../src/core/level/marks.ts'
import type { ReferenceRecord, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { smallBook } from '../../helpers/smallbook.ts'

/** A swing jack of about 13 counts a degree at its inner stop, read 3 there on 27 April; one sighting that evening. */
function station(...changes: { utc: string; what: string[] }[]): StationRecord {
  const record = smallBook().stations[0] as StationRecord
  return { ...record, changes: changes.map((c, i) => ({ id: `c${i}`, ...c })) }
}
const read = (reading: number, utc = '2026-05-02T09:00:00Z', mark = 'inner stop'): ReferenceRecord => ({
  id: 'new',
  utc,
  axis: 'upper',
  mark,
  reading,
})

describe('compareMark', () => {
  it('agrees when the stop reads the same again', () => {
    expect(compareMark(station(), read(3))).toMatchObject({ kind: 'agrees', earlier: 1, difference: 0 })
    expect(compareMark(station(), read(4))).toMatchObject({ kind: 'agrees', difference: 1 })
  })
  it('says that 11 counts are missing, since when, and how many sightings lie between', () => {
    const verdict = compareMark(station(), read(-8))
    expect(verdict).toMatchObject({ kind: 'differs', difference: -11 })
    if (verdict.kind !== 'differs') throw new Error(verdict.kind)
    expect(verdict.since.id).toBe('re-1')
    expect(verdict.sightingsBetween).toBe(station().sightings.length)
    // 0.1° at each reading, with 8 to 15 counts a degree, and half a count: 1 to 2.3 counts for the difference.
    expect(verdict.sigma).toBeGreaterThan(1)
    expect(verdict.sigma).toBeLessThan(2.5)
  })
  it('holds nothing against a reading before the counter was reset, but still against one before the base was turned', () => {
    const reset = station({ utc: '2026-05-01T00:00:00Z', what: ['upper-zero'] })
    expect(compareMark(reset, read(-8))).toEqual({ kind: 'first-since', changeUtc: '2026-05-01T00:00:00Z' })
    const turned = station({ utc: '2026-05-01T00:00:00Z', what: ['lower-axis'] })
    expect(compareMark(turned, read(-8)).kind).toBe('differs')
    const later = station({ utc: '2026-05-03T00:00:00Z', what: ['all'] })
    expect(compareMark(later, read(-8)).kind).toBe('differs')
  })
  it('knows another mark and the other axis as others', () => {
    expect(compareMark(station(), read(-8, undefined, 'outer stop')).kind).toBe('first')
    expect(compareMark(station(), { ...read(-8), axis: 'lower' }).kind).toBe('first')
  })
  it('sees a counter that loses two counts a visit, when each visit agrees with the last', () => {
    const record = station()
    const visits = [1, 2, 3, 4].map(k => ({ ...read(3 - 2 * k, `2026-05-0${k}T09:00:00Z`), id: `v${k}` }))
    record.references = [...record.references!, ...visits.slice(0, 3)]
    expect(compareMark(record, visits[1]!).kind).toBe('agrees')
    expect(compareMark(record, visits[3]!)).toMatchObject({ kind: 'differs', difference: -6, since: { id: 'v1' } })
  })
  it('does not compare a reading with itself or with later ones', () => {
    expect(compareMark(station(), { ...read(99), id: 're-1' }).kind).toBe('first')
    expect(compareMark(station(), read(99, '2026-04-01T00:00:00Z')).kind).toBe('first')
  })
  it('says when no triangle closes at the reading', () => {
    expect(compareMark(station(), read(5000)).kind).toBe('outside')
  })
})

describe('markNames', () => {
  it('offers each mark once, the latest read first', () => {
    const record = station()
    record.references!.push(read(800, '2026-05-01T09:00:00Z', 'outer stop'))
    record.references!.push(read(3, '2026-04-28T09:00:00Z'))
    expect(markNames(record, 'upper')).toEqual(['outer stop', 'inner stop'])
    expect(markNames(record, 'lower')).toEqual([])
  })
})

describe('what was lost, between which sightings', () => {
  it('names the first and the last sighting between the two readings', () => {
    const record = station()
    const [one] = record.sightings
    record.sightings = [
      '2026-04-27T18:00:00Z',
      '2026-05-01T20:00:00Z',
      '2026-04-29T20:00:00Z',
      '2026-05-03T00:00:00Z',
    ].map((utc, k) => ({ ...one!, id: `s${k}`, utc }))
    record.references = [{ ...record.references![0]!, utc: '2026-04-28T00:00:00Z' }]
    expect(compareMark(record, read(-8))).toMatchObject({
      sightingsBetween: 2,
      between: { firstUtc: '2026-04-29T20:00:00Z', lastUtc: '2026-05-01T20:00:00Z' },
    })
    expect(compareMark({ ...record, sightings: [] }, read(-8))).toMatchObject({ sightingsBetween: 0, between: null })
  })
})

describe('openRuns', () => {
  const at = (utc: string, visit: 'start' | 'end' | undefined, mark = 'inner stop', id = utc): ReferenceRecord => ({
    ...read(3, utc, mark),
    id,
    ...(visit && { visit }),
  })
  const now = Date.parse('2026-05-02T22:00:00Z')
  const runs = (references: ReferenceRecord[], changes: { utc: string; what: string[] }[] = []) =>
    openRuns({ ...station(...changes), references }, now).map(m => m.id)

  it('is open from the reading at the start until the one at the end', () => {
    expect(runs([at('2026-05-02T09:00:00Z', 'start')])).toEqual(['2026-05-02T09:00:00Z'])
    expect(runs([at('2026-05-02T09:00:00Z', 'start'), at('2026-05-02T21:00:00Z', 'end')])).toEqual([])
  })
  it('stays open when the mark was read in between only, and for each mark by itself', () => {
    const list = [
      at('2026-05-02T09:00:00Z', 'start'),
      at('2026-05-02T12:00:00Z', undefined),
      at('2026-05-02T10:00:00Z', 'start', 'outer stop'),
    ]
    expect(runs(list)).toEqual(['2026-05-02T10:00:00Z', '2026-05-02T09:00:00Z'])
  })
  it('is over with the visit, and with a counter that was set anew', () => {
    expect(runs([at('2026-05-01T09:00:00Z', 'start')])).toEqual([])
    expect(
      runs([at('2026-05-02T09:00:00Z', 'start')], [{ utc: '2026-05-02T15:00:00Z', what: ['upper-zero'] }]),
    ).toEqual([])
    expect(runs([at('2026-05-02T09:00:00Z', 'start')], [{ utc: '2026-05-02T15:00:00Z', what: ['dish'] }])).toHaveLength(
      1,
    )
  })
})
