import { describe, expect, it } from 'vitest'
import { parseUtc } from '../../../src/ui/kit/utcfield.ts'

const at = Date.UTC(2026, 3, 27, 20, 14, 5)

describe('parseUtc', () => {
  it.each([
    ['2026-04-27 20:14:05', at],
    ['2026-04-27T20:14:05Z', at],
    ['27 Apr 2026, 20:14:05 UTC', at],
    ['2026-04-27 20.14.05', at],
    ['27 April 2026 20:14', at - 5000],
    ['2026-04-27 20:14:05,250', at + 250],
    ['2024-02-29 0:00', Date.UTC(2024, 1, 29)],
  ])('reads %j', (text, utcMs) => expect(parseUtc(text)).toMatchObject({ kind: 'value', utcMs }))
  it('puts a time alone on the day that the field names', () => {
    expect(parseUtc('20:14:05', at - 3e7)).toMatchObject({ utcMs: at })
    expect(parseUtc('20:14:05')).toMatchObject({ kind: 'not-a-time', why: expect.stringContaining('date is missing') })
  })
  it.each([
    ['27/04/2026 20:14', /both ways/],
    ['27.04.2026 20:14', /both ways/],
    ['2026-02-29 00:00', /does not have that day/],
    ['2026-13-01 00:00', /Months/],
    ['2026-04-27 24:00', /Hours/],
    ['2026-04-27 20:60', /Minutes/],
    ['2026-04-27 20:14:60', /Seconds/],
    ['2026-04-27T20:14:05+02:00', /in UTC/],
    ['8:14 pm', /0 to 23/],
    ['27 Foo 2026 20:14', /month/],
    ['yesterday', /Write date/],
    ['Z', /missing/],
  ])('refuses %j with a sentence', (text, why) =>
    expect(parseUtc(text, at)).toMatchObject({ kind: 'not-a-time', why: expect.stringMatching(why) }),
  )
  it('says what it read, with the weekday', () => {
    expect(parseUtc('2026-04-27 20:14')).toMatchObject({
      echo: expect.stringMatching(/^= Mon 27.Apr.2026, 20:14:00.UTC$/),
    })
    expect(parseUtc(' ')).toEqual({ kind: 'empty' })
  })
})
