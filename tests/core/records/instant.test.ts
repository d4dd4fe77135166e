import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { instantMs, isInstant } from '../../../src/core/records/instant.ts'

describe('isInstant', () => {
  it('takes every instant that a Date writes, from the year 0 to 9999', () => {
    const ms = fc.integer({ min: Date.parse('0000-01-01T00:00:00Z'), max: Date.parse('9999-12-31T23:59:59Z') })
    fc.assert(
      fc.property(ms, t => {
        const text = new Date(t).toISOString()
        expect([text, isInstant(text)]).toEqual([text, true])
      }),
      { seed: 5, numRuns: 1000 },
    )
  })
  it('takes exactly the days that exist: those a Date does not carry over, in 1900, 2000, 2026 and 2028', () => {
    for (const year of [1900, 2000, 2026, 2028]) {
      for (let month = 0; month <= 13; month += 1) {
        for (let day = 0; day <= 32; day += 1) {
          const text = `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}T00:00:00Z`
          const date = new Date(Date.UTC(year, month - 1, day))
          const exists = date.toISOString().startsWith(text.slice(0, 10))
          expect([text, isInstant(text)]).toEqual([text, exists])
        }
      }
    }
  })
  it.each([
    '2026-01-01T00:00Z',
    '2026-01-01',
    '2026-01-01t00:00:00z',
    ' 2026-01-01T00:00:00Z',
    '2026-01-01T00:00:00Z\n',
    '2026-1-1T0:0:0Z',
    '2026-01-01T00:00:00.Z',
    '+002026-01-01T00:00:00Z',
    '2026-01-01T00:60:00Z',
  ])('refuses %j', text => expect(isInstant(text)).toBe(false))
  it('takes a fraction of thirty digits, which Date.parse reads too', () => {
    const text = `2026-01-01T00:00:00.${'123456789012345'.repeat(2)}Z`
    expect(isInstant(text)).toBe(true)
    expect(Date.parse(text)).toBe(Date.parse('2026-01-01T00:00:00.123Z'))
  })
})

describe('a leap second', () => {
  // RFC 3339, 5.7 and 5.8: second 60 at the end of a month; 1990-12-31T23:59:60Z is its own example.
  it.each(['1990-12-31T23:59:60Z', '2016-12-31T23:59:60Z', '2016-12-31T23:59:60.5Z', '2032-06-30T23:59:60Z'])(
    'is an instant: %s',
    text => expect(isInstant(text)).toBe(true),
  )
  it.each([
    '2016-12-31T12:00:60Z',
    '2016-12-31T23:58:60Z',
    '2016-12-31T22:59:60Z',
    '2016-12-30T23:59:60Z',
    '2016-12-31T23:59:61Z',
  ])('is none where no leap second can be: %s', text => expect(isInstant(text)).toBe(false))
  it('is the second that follows', () => {
    expect(instantMs('2016-12-31T23:59:60Z')).toBe(Date.UTC(2017, 0, 1))
    expect(instantMs('2016-12-31T23:59:60.25Z')).toBe(Date.UTC(2017, 0, 1) + 250)
    expect(instantMs('2016-12-31T23:59:59Z')).toBe(Date.UTC(2017, 0, 1) - 1000)
  })
})
