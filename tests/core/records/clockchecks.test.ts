import { describe, expect, it } from 'vitest'
import {
  type ClockCheckRecord,
  checkAt,
  clockChecksOf,
  sightingsBackward,
  trueMsAt,
} from '../../../src/core/records/clockchecks.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const check = (utc: string, offsetS: number, more: Partial<ClockCheckRecord> = {}): ClockCheckRecord => ({
  id: `c${utc}`,
  utc,
  offsetS,
  sigmaS: 0.1,
  by: 'taps',
  ...more,
})
const faults = (entry: unknown): string[] => {
  const book = smallBook()
  book.stations[0].clockChecks = [entry]
  return checkFieldBook(book).map(f => `${f.path.replace('stations[0].', '')} ${f.rule}`)
}

describe('clock checks in a field book', () => {
  it('are legal with all fields, and refused by path when one breaks its rule', () => {
    const whole = check('2026-05-01T12:00:00Z', -0.4, { pips: 'second', wholeS: 0, tapsMs: [1777636800123], note: 'x' })
    expect(faults(whole)).toEqual([])
    expect(faults({ ...whole, utc: 'noon' })[0]).toMatch(/^clockChecks\[0\]\.utc .*real time/)
    expect(faults({ ...whole, sigmaS: 0 })[0]).toMatch(/^clockChecks\[0\]\.sigmaS .*above 0/)
    expect(faults({ ...whole, offsetS: 'fast' })[0]).toMatch(/^clockChecks\[0\]\.offsetS /)
    expect(faults({ ...whole, by: 'ear' })[0]).toMatch(/^clockChecks\[0\]\.by .*"taps" or "typed"/)
    expect(faults({ ...whole, tapsMs: [1, 'x'] })[0]).toMatch(/^clockChecks\[0\]\.tapsMs/)
  })
  it('of another program are kept and not read', () => {
    expect(faults({ id: 'other', offset: 'weird' })).toEqual([])
    expect(
      clockChecksOf({ clockChecks: [{ id: 'other' }, 'odd', null, check('2026-05-01T12:00:00Z', 1)] }),
    ).toHaveLength(1)
  })
})

describe('what a check counts for', () => {
  const clockChecks = [check('2026-05-01T12:00:00Z', 1), check('2026-05-02T12:00:00Z', 2)]
  it('is what follows it within a day, the newest first', () => {
    expect(checkAt({ clockChecks }, '2026-05-02T11:00:00Z')?.offsetS).toBe(1)
    expect(checkAt({ clockChecks }, '2026-05-02T12:00:01Z')?.offsetS).toBe(2)
    expect(checkAt({ clockChecks }, '2026-05-01T11:59:59Z')).toBeNull()
    // The clock is ahead: the true instant is earlier.
    const ms = Date.parse('2026-05-02T11:00:00Z')
    expect([trueMsAt({ clockChecks }, ms), trueMsAt({}, ms)]).toEqual([ms - 1000, ms])
    expect(checkAt({ clockChecks }, '2026-05-03T12:00:01Z')).toBeNull()
  })
  it('backward: sightings stamped in the same visit, as new records; written times and other days stay', () => {
    const station = smallBook().stations[0] as StationRecord
    const [one] = station.sightings
    const at = (id: string, utc: string, more: object = {}) => ({
      ...one!,
      id,
      utc,
      clockOffsetS: 0,
      stamp: {},
      ...more,
    })
    station.sightings = [
      at('now', '2026-05-02T11:00:00Z'),
      at('typed', '2026-05-02T11:10:00Z', { stamp: undefined }),
      at('same', '2026-05-02T11:20:00Z', { clockOffsetS: 2 }),
      at('after', '2026-05-02T12:30:00Z'),
      at('day before', '2026-05-01T12:30:00Z'),
    ]
    const before = JSON.stringify(station)
    const changed = sightingsBackward(station, check('2026-05-02T12:00:00Z', 2.004))
    expect(changed.map(s => [s.id, s.clockOffsetS])).toEqual([['now', 2]])
    expect(JSON.stringify(station)).toBe(before)
  })
})
