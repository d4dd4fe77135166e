import { describe, expect, it } from 'vitest'
import { compareMark, type MarkRecord, markNames } from '../../../src/core/level/marks.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { smallBook } from '../../helpers/smallbook.ts'

/** A swing jack of about 13 counts a degree at its inner stop, read 3 there on 27 April; one sighting that evening. */
function station(...changes: { utc: string; what: string[] }[]): StationRecord {
  const record = smallBook().stations[0] as StationRecord
  return { ...record, changes: changes.map((c, i) => ({ id: `c${i}`, ...c })) }
}
const read = (reading: number, utc = '2026-05-02T09:00:00Z', mark = 'inner stop'): MarkRecord => ({
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
