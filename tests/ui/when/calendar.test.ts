/** Days and months as the person counts them, in zones that change their clock, and in those that do not. */
import fc from 'fast-check'
import { afterEach, describe, expect, it } from 'vitest'
import {
  changedDays,
  comingSpan,
  dayOfKey,
  monthKey,
  monthOfKey,
  monthOfText,
  monthOn,
  monthSpan,
  spanWish,
} from '../../../src/ui/when/calendar.ts'
import { someOf } from '../../helpers/some.ts'

const zone = process.env.TZ
afterEach(() => {
  process.env.TZ = zone
})
const utc = (ms: number) => new Date(ms).toISOString()

describe('the days from today', () => {
  it('begin at the midnight of the place, whatever the day is in Greenwich', () => {
    process.env.TZ = 'America/Los_Angeles'
    const span = comingSpan(Date.UTC(2026, 10, 29, 5, 30))
    expect(span.days).toHaveLength(28)
    expect([utc(span.fromMs), utc(span.toMs)]).toEqual(['2026-11-28T08:00:00.000Z', '2026-12-26T08:00:00.000Z'])
    expect([span.days[0]!.key, span.days[1]!.isSunday, span.days[27]!.key]).toEqual(['2026-11-28', true, '2026-12-25'])
    expect(spanWish(span)).toEqual({ fromUtc: '2026-11-28T08:00:00.000Z', days: 28 })
  })

  it('follow each other without a gap, over a change of the clock too', () => {
    process.env.TZ = 'Europe/Berlin'
    const span = comingSpan(Date.UTC(2026, 9, 20, 12))
    for (const [k, day] of someOf(span.days.slice(1).entries())) expect(day.fromMs).toBe(span.days[k]!.toMs)
    expect(changedDays(span).map(({ day, hours }) => [day.key, hours])).toEqual([['2026-10-25', 25]])
    expect(spanWish(span).days).toBeCloseTo(28 + 1 / 24, 12)
    expect(changedDays(comingSpan(Date.UTC(2026, 11, 1)))).toEqual([])
  })
})

describe('a month', () => {
  it('has its own days, leap years too', () => {
    const lengths = ['2026-02', '2028-02', '2026-11', '2026-12'].map(k => monthSpan(monthOfKey(k)!).days.length)
    expect(lengths).toEqual([28, 29, 30, 31])
    const december = monthSpan(monthOfKey('2026-12')!)
    expect([utc(december.fromMs), december.days.at(-1)!.key]).toEqual(['2026-12-01T00:00:00.000Z', '2026-12-31'])
  })

  it('has one before and one after, as far as the almanac is good', () => {
    const key = (text: string, on: number) => {
      const month = monthOn(monthOfKey(text)!, on)
      return month && monthKey(month)
    }
    expect([key('2026-12', 1), key('2026-01', -1), key('2180-12', 1), key('1900-01', -1)]).toEqual([
      '2027-01',
      '2025-12',
      null,
      null,
    ])
  })

  it('is read as people write it', () => {
    const read = (text: string) => {
      const month = monthOfText(text)
      return month && monthKey(month)
    }
    for (const text of ['Dec 2026', ' december 2026 ', '2026-12', '12/2026', '12.2026', '12 2026', 'dec. 2026'])
      expect([text, read(text)]).toEqual([text, '2026-12'])
    for (const text of ['', '2026', 'Dec', '13/2026', '2026-00', 'Xyz 2026', 'Dec 1850', 'Dec 26', '1 Dec 2026'])
      expect([text, read(text)]).toEqual([text, null])
  })
})

describe('the day of an address', () => {
  it('is that day in every zone, and comes back as the same key', () => {
    const zones = ['UTC', 'Pacific/Kiritimati', 'America/St_Johns', 'Europe/Berlin', 'Pacific/Pago_Pago']
    fc.assert(
      fc.property(fc.constantFrom(...zones), fc.integer({ min: 0, max: 36_524 }), (name, days) => {
        process.env.TZ = name
        const key = new Date(Date.UTC(2000, 0, 1) + 86_400_000 * days).toISOString().slice(0, 10)
        const day = dayOfKey(key)
        expect(day?.key).toBe(key)
        const hours = (day!.toMs - day!.fromMs) / 3_600_000
        expect(hours).toBeGreaterThanOrEqual(23)
        expect(hours).toBeLessThanOrEqual(25)
      }),
      { numRuns: 200 },
    )
  })

  it('is none for what is not a day', () => {
    for (const key of ['', '2026-11', '2026-02-30', '2026-13-01', '1850-01-01', 'today'])
      expect([key, dayOfKey(key)]).toEqual([key, null])
  })
})
