import { describe, expect, it } from 'vitest'
import {
  lengthKind,
  type NumberForm,
  type NumberKind,
  otherSign,
  parseNumber,
  rangeWords,
} from '../../../src/ui/kit/numberfield.ts'

const of = (text: string, form: NumberForm, more: Partial<NumberKind> = {}) => parseNumber(text, { form, ...more })

describe('parseNumber reads', () => {
  it.each<[string, NumberForm, number]>([
    ['−1,5', 'number', -1.5],
    ['-1.5', 'number', -1.5],
    ['–1.5', 'number', -1.5],
    ['+1.5', 'number', 1.5],
    ['- 2', 'number', -2],
    ['1e3', 'number', 1000],
    ['1,5E-2', 'number', 0.015],
    [' 12 ', 'number', 12],
    ['\u00a012\u202f', 'number', 12],
    ['.5', 'number', 0.5],
    [',5', 'number', 0.5],
    ['5.', 'number', 5],
    ['007', 'number', 7],
    ['1,234', 'number', 1.234],
    ['0', 'number', 0],
    ['٣٫٥', 'number', 3.5],
    ['１２', 'number', 12],
    ['412', 'count', 412],
    ['412.5', 'count', 412.5],
    ['0,125', 'count', 0.125],
    ['1.2345', 'count', 1.2345],
    ['34.6', 'angle', 34.6],
    ['34.6°', 'angle', 34.6],
    ['−0 30', 'angle', -0.5],
    ['47 30.2', 'angle', 47.5 + 0.2 / 60],
    ['47 30.2', 'latitude', 47.5 + 0.2 / 60],
    ['47 30,2', 'latitude', 47.5 + 0.2 / 60],
    ['47°30\'12"N', 'latitude', 47.5 + 12 / 3600],
    ['47°30′12″', 'latitude', 47.5 + 12 / 3600],
    ["47° 30' 12'' N", 'latitude', 47.5 + 12 / 3600],
    ['N47°30.2’', 'latitude', 47.5 + 0.2 / 60],
    ['N 47.5', 'latitude', 47.5],
    ['47:30:12', 'latitude', 47.5 + 12 / 3600],
    ['47d30m12s', 'latitude', 47.5 + 12 / 3600],
    ['47d30m12s S', 'latitude', -(47.5 + 12 / 3600)],
    ['33.9s', 'latitude', -33.9],
    ['1.5 W', 'longitude', -1.5],
    ['W1.5', 'longitude', -1.5],
    ['1,5w', 'longitude', -1.5],
    ['-1.5', 'longitude', -1.5],
    ['47º', 'angle', 47],
    ['9 18 0.5 E', 'longitude', 9.3 + 0.5 / 3600],
  ])('%j as %s: %d', (text, form, expected) => {
    const parsed = of(text, form)
    expect(parsed.kind).toBe('value')
    // Sums of three quotients: a few units in the last place.
    expect(parsed.kind === 'value' && parsed.value).toBeCloseTo(expected, 12)
  })
  it.each(['', ' ', '\u00a0', '\t'])('%j as empty', text => expect(of(text, 'number')).toEqual({ kind: 'empty' }))
  it('the unit of the field, when it is typed too', () => {
    expect(of('12 mm', 'number', { unit: 'mm' })).toMatchObject({ kind: 'value', value: 12 })
    expect(of('12mm', 'number', { unit: 'mm' })).toMatchObject({ value: 12 })
    expect(of('1e3 MHz', 'number', { unit: 'MHz' })).toMatchObject({ value: 1000 })
  })
  it('−0 as 0', () => expect(Object.is((of('-0', 'number') as { value: number }).value, 0)).toBe(true))
})

describe('parseNumber refuses', () => {
  it.each<[string, NumberForm, RegExp]>([
    ['12..5', 'number', /two decimal signs/],
    ['1,,5', 'number', /two decimal signs/],
    ['1.2.3', 'number', /two decimal signs/],
    ['∞', 'number', /Infinity/],
    ['NaN', 'number', /Infinity/],
    ['-Infinity', 'number', /Infinity/],
    ['1,234.5', 'number', /thousands separator.*1234\.5 or 1234,5/],
    ['1.234,5', 'number', /thousands separator/],
    ['1,234,567', 'number', /thousands separator/],
    ['1.234.567', 'number', /thousands separator/],
    ["1'234", 'number', /thousands separator/],
    ['1 234', 'number', /without the gap: 1234/],
    ['384 210', 'number', /without the gap: 384210/],
    ['1,234', 'count', /may be 1234, or 1\.234/],
    ['1.234', 'count', /may be 1234/],
    ['12 5', 'number', /two numbers/],
    ['--5', 'number', /two signs/],
    ['+-5', 'number', /two signs/],
    ['−', 'number', /only a sign/],
    ['.', 'number', /only a decimal sign/],
    ['5-', 'number', /goes in front/],
    ['abc', 'number', /not a number/],
    ['0x10', 'number', /not a number/],
    ['1/2', 'number', /fraction/],
    ['½', 'number', /fraction/],
    ['1e400', 'number', /too large/],
    ['1e-400', 'number', /too small/],
    ['1e', 'number', /not a number/],
    ['12 in', 'number', /no unit/],
    ['1.5 N', 'longitude', /N belongs to the latitude/],
    ['47 E', 'latitude', /E belongs to the longitude/],
    ['1.5 O', 'longitude', /O is east in some languages/],
    ['-1.5 W', 'longitude', /a sign and W/],
    ['N 47 S', 'latitude', /two letters/],
    ['1.5 W', 'angle', /not a compass letter/],
    ['47.5, 9.3', 'latitude', /two numbers/],
    ['47.5 30', 'latitude', /Only the last part/],
    ['47 30.5 12', 'latitude', /Only the last part/],
    ['47 60', 'latitude', /Minutes stop below 60/],
    ['47 30 60', 'latitude', /Seconds stop below 60/],
    ['47 -30', 'latitude', /sign in the middle/],
    ['47 30 12 5', 'latitude', /not an angle|not a number/],
    ['1e3', 'longitude', /without a power of ten/],
    ['1,234.5', 'angle', /thousands separator/],
    ['N', 'latitude', /not an angle|not a number/],
    ['°', 'angle', /not an angle|not a number/],
  ])('%j as %s', (text, form, why) => {
    const parsed = of(text, form)
    expect(parsed.kind).toBe('not-a-number')
    expect(parsed.kind === 'not-a-number' && parsed.why).toMatch(why)
  })
  it('another unit than the field has', () => {
    expect(of('12 in', 'number', { unit: 'mm' })).toMatchObject({ why: 'This field is in mm; "in" is another unit.' })
  })
  it('a value outside the range, naming the range and keeping the value', () => {
    expect(of('95', 'latitude', { min: -90, max: 90 })).toEqual({
      kind: 'out-of-range',
      value: 95,
      why: '95° north is too large. Allowed: −90 to 90°.',
    })
    expect(of('-1', 'number', { min: 0, unit: 'mm' })).toMatchObject({ why: '−1 mm is too small. Allowed: from 0 mm.' })
    expect(of('90', 'latitude', { min: -90, max: 90 }).kind).toBe('value')
  })
  it('every single character that is no digit, with a sentence and never an exception', () => {
    for (const form of ['number', 'count', 'angle', 'latitude', 'longitude'] as const)
      for (let code = 33; code < 0x250; code++) {
        const c = String.fromCharCode(code)
        if (/[0-9\u00a0\u00ad\s]/.test(c)) continue
        const parsed = of(c, form)
        expect(parsed.kind, `${form} ${c}`).toBe('not-a-number')
        expect(parsed.kind === 'not-a-number' && parsed.why).toMatch(/^[A-Z].*[.\d]$/)
      }
  })
})

describe('the echo', () => {
  it.each<[string, NumberForm, string | undefined, string]>([
    ['47 30.2', 'angle', undefined, '= 47.50333°'],
    ['47°30\'12"N', 'latitude', undefined, '= 47.50333° north'],
    ['1.5 W', 'longitude', undefined, '= 1.5° west'],
    ['−1,5', 'number', 'mm', '= −1.5 mm'],
    ['1e3', 'number', undefined, '= 1000'],
    ['1,234', 'number', undefined, '= 1.234'],
  ])('of %j as %s says %s %s', (text, form, unit, echo) => {
    expect(of(text, form, unit === undefined ? {} : { unit })).toMatchObject({ echo })
  })
  it('can be typed back: the value of a plain number comes again exactly', () => {
    for (const n of [1 / 3, -2.5e-7, 123456.789, 1e21]) {
      const parsed = of(String(n), 'number')
      expect(parsed.kind === 'value' && of(parsed.echo.slice(2), 'number')).toMatchObject({ value: n })
    }
  })
})

describe('otherSign', () => {
  it.each<[string, NumberForm, string]>([
    ['2', 'number', '−2'],
    ['−2', 'number', '2'],
    ['-2', 'number', '2'],
    ['+2', 'number', '−2'],
    ['', 'number', '−'],
    ['1.5 W', 'longitude', '1.5 E'],
    ['W 1.5', 'longitude', 'E 1.5'],
    ['1.5', 'longitude', '1.5 W'],
    ['47', 'latitude', '47 S'],
    ['47 S', 'latitude', '47 N'],
    ['-47', 'latitude', '47'],
  ])('of %j as %s is %j', (text, form, other) => expect(otherSign(text, form)).toBe(other))
  it('turns the value round for whatever could be read', () => {
    for (const text of ['1.5 W', '9 18', '-3', '47°30\'12"E', 'E 7']) {
      const before = of(text, 'longitude')
      const after = of(otherSign(text, 'longitude'), 'longitude')
      expect(before.kind === 'value' && after.kind === 'value' && after.value).toBe(
        -(before as { value: number }).value,
      )
    }
  })
})

describe('lengthKind', () => {
  it('takes millimetres as they are', () =>
    expect(lengthKind('mm', [0.1, 50])).toEqual({ form: 'number', unit: 'mm', min: 0.1, max: 50 }))
  it('takes the same in inches, in digits that can be read', () => {
    expect(rangeWords(lengthKind('in', [0, 100_000]))).toBe('0 to 3937 in')
    expect(rangeWords(lengthKind('in', [-1000, 1000]))).toBe('−39.37 to 39.37 in')
    expect(rangeWords(lengthKind('in', [0.1, 50]))).toBe('0.004 to 1.969 in')
  })
})

describe('rangeWords', () => {
  it('says both ends, or the one there is', () => {
    expect(rangeWords({ form: 'latitude', min: -90, max: 90 })).toBe('−90 to 90°')
    expect(rangeWords({ form: 'number', unit: 'mm', min: 0 })).toBe('from 0 mm')
    expect(rangeWords({ form: 'number' })).toBe('')
  })
})
