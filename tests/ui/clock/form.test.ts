import { describe, expect, it } from 'vitest'
import { skyTurn } from '../../../src/core/clock/cost.ts'
import type { ClockCheckRecord } from '../../../src/core/records/clockchecks.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { checkFromForm, EMPTY_CLOCK, tapsOf } from '../../../src/ui/clock/form.ts'
import { aheadWords, lastWords, minuteCostWords, tapWords } from '../../../src/ui/clock/words.ts'
import { clockOfHalf } from '../../../src/ui/kit/sighting/form.ts'
import { plain } from '../../helpers/plain.ts'

const T = Date.UTC(2026, 4, 1, 12, 0, 0)

describe('a clock check', () => {
  it('from taps is a record of the last tap, all taps beside it', () => {
    const tapsMs = [T + 300, T + 1310, T + 2290]
    expect(checkFromForm({ ...EMPTY_CLOCK, tapsMs, whole: '-2' }, 'x', T + 9000)).toMatchObject({
      utc: '2026-05-01T12:00:02.290Z',
      offsetS: -1.7,
      by: 'taps',
      pips: 'second',
      wholeS: -2,
      tapsMs,
    })
  })
  it('from taps on full minutes has the whole minutes that the person has compared', () => {
    const tapsMs = [T + 2600, T + 62_610, T + 122_590]
    const form = { ...EMPTY_CLOCK, pips: 'minute' as const, tapsMs }
    expect(checkFromForm({ ...form, whole: '240' }, 'x', T)).toMatchObject({ offsetS: 242.6, wholeS: 240 })
    expect(checkFromForm(form, 'x', T)).toMatchObject({ offsetS: 2.6 })
    const said = (open: 'second' | 'minute' | null) => tapWords(tapsOf(form), open).text.join(' ')
    expect(said('minute')).toContain('Whole minutes are not compared yet')
    expect(said(null)).not.toContain('not compared')
  })
  it('typed is of now, and surer only where the person says so', () => {
    const form = { ...EMPTY_CLOCK, how: 'typed' as const, offset: '−3,5' }
    expect(checkFromForm(form, 'x', T)).toEqual({
      id: 'x',
      utc: '2026-05-01T12:00:00.000Z',
      offsetS: -3.5,
      sigmaS: 0.5,
      by: 'typed',
    })
    expect(checkFromForm({ ...form, sigma: 'so' }, 'x', T)).toBeNull()
  })
  it('is nothing yet with two taps, or with whole seconds that cannot be read', () => {
    expect(checkFromForm({ ...EMPTY_CLOCK, tapsMs: [T, T + 1000] }, 'x', T)).toBeNull()
    expect(checkFromForm({ ...EMPTY_CLOCK, tapsMs: [T, T + 1000, T + 2000], whole: '1.x' }, 'x', T)).toBeNull()
  })
})

describe('onward', () => {
  const station = {
    clockChecks: [{ id: 'c', utc: '2026-05-01T12:00:00Z', offsetS: -0.504, sigmaS: 0.1, by: 'taps' }],
  } as unknown as StationRecord
  const half = { id: 'h', utc: '2026-05-01T13:00:00Z', time: 'stamped' as const }
  it('a stamp after the check begins with its offset, as a person would type it', () => {
    expect(clockOfHalf(station, half)).toEqual({ clockOffset: '−0.5' })
  })
  it('a stamp before it, a time written down, and a clock that was set do not', () => {
    expect(clockOfHalf(station, { ...half, utc: '2026-05-01T11:00:00Z' })).toEqual({})
    expect(clockOfHalf(station, { ...half, time: 'about' })).toEqual({})
    expect(clockOfHalf(station, { ...half, clockStepS: 3 })).toEqual({})
  })
})

describe('words of a clock check', () => {
  it('say ahead and behind, and nothing where it is within its ±', () => {
    expect(plain(aheadWords(0.32, 0.11))).toBe('ahead by 0.32 ± 0.11 s')
    expect(plain(aheadWords(-2, 0.5))).toBe('behind by 2.0 ± 0.5 s')
    expect(plain(aheadWords(0.01, 0.2))).toBe('right to within 0.2 s')
  })
  it('tell the age, and when it is too old to count', () => {
    const check: ClockCheckRecord = { id: 'x', utc: new Date(T).toISOString(), offsetS: 1, sigmaS: 0.1, by: 'taps' }
    expect(plain(lastWords(check, T + 3 * 3_600_000).text)).toMatch(
      /^Compared 3 h ago: the phone was ahead by 1\.0\d? ± 0\.10? s\. It applies/,
    )
    expect(lastWords(check, T + 25 * 3_600_000)).toMatchObject({ fresh: false })
    expect(lastWords(check, T - 1000).text).toContain('in the future')
  })
  it('tell what a minute costs: a quarter of a degree', () => {
    expect((skyTurn(60) * 180) / Math.PI).toBeCloseTo(0.25, 2)
    expect(plain(minuteCostWords(0.2507, 5))).toBe(
      'A clock one minute wrong costs 0.25° on the sky, 0.05 of the beamwidth.',
    )
    expect(plain(tapWords({ kind: 'scattered', scatterS: 0.3 }).text[0]!)).toContain('scatter by 0.30 s')
  })
})
