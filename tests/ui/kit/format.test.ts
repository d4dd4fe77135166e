import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  countOf,
  DOWN_UP,
  decibels,
  decimalsFor,
  degrees,
  duration,
  fixed,
  LEFT_RIGHT,
  latitude,
  localTime,
  longitude,
  measured,
  measuredLength,
  safeText,
  seenText,
  toward,
  utcAndLocal,
  utcDate,
  utcFull,
  utcTime,
  WEST_EAST,
} from '../../../src/ui/kit/format.ts'
import { plain } from '../../helpers/plain.ts'

describe('fixed', () => {
  it('uses a true minus, and none for what rounds to nothing', () => {
    expect(fixed(-1.25, 1)).toBe('\u22121.3')
    expect(fixed(-0.04, 1)).toBe('0.0')
    expect(fixed(-0, 0)).toBe('0')
    expect(fixed(Number.NaN, 1)).toBe('–')
  })
  it('groups from five digits on: 384 210, but 1296', () => {
    expect(plain(fixed(384210, 0))).toBe('384 210')
    expect(fixed(1296, 0)).toBe('1296')
    expect(plain(fixed(-12345.678, 2))).toBe('−12 345.68')
  })
  it('rounds to tens and hundreds', () => {
    expect(fixed(1234, -2)).toBe('1200')
    expect(fixed(-4, -1)).toBe('0')
  })
})

describe('measured', () => {
  // Common practice (one digit of σ, two when it begins with 1); no source.
  it.each([
    [12.34, 2.1, 'mm', '12 ± 2 mm'],
    [1.0512, 0.38, '°', '1.1 ± 0.4°'],
    [0.5341, 0.0149, '°', '0.534 ± 0.015°'],
    [2.71, 0.0197, '°', '2.71 ± 0.02°'],
    [2.714, 0.096, '°', '2.71 ± 0.10°'],
    [-0.04, 0.3, '°', '0.0 ± 0.3°'],
    [412.4, 34, 'counts', '412 ± 34 counts'],
    [1234, 340, 'counts', '1200 ± 300 counts'],
    [5, 1, 'mm', '5.0 ± 1.0 mm'],
    [0, 1e-7, '°', '0.00000000 ± 0.00000010°'],
  ])('writes %s with σ %s %s as %s', (value, sigma, unit, text) => {
    expect(plain(measured(value, sigma, unit).text)).toBe(text)
  })
  it('falls back to the given decimals where σ is not known, and then shows no ±', () => {
    expect(plain(measured(12.34, null, 'mm', 0).text)).toBe('12 mm')
    expect(measured(12.34, Number.POSITIVE_INFINITY, 'mm', 1).sigma).toBeNull()
    expect(measured(Number.NaN, 1, '', 1).text).toBe('–')
  })
  it('shows σ with one or two significant digits below 100, and never rounds it by more than a quarter', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-8, max: 99, noNaN: true }), sigma => {
        const shown = Number(fixed(sigma, decimalsFor(sigma, 0)))
        expect(Math.abs(shown - sigma)).toBeLessThanOrEqual(0.25 * sigma)
        expect(
          fixed(sigma, decimalsFor(sigma, 0))
            .replace(/^0\.0*/, '')
            .replace('.', '').length,
        ).toBeLessThanOrEqual(2)
      }),
      { seed: 11, numRuns: 500 },
    )
  })
})

describe('direction in words', () => {
  it('says left 12 mm, never −12', () => {
    expect(plain(toward(-12.3, LEFT_RIGHT, 'mm', 2))).toBe('left 12 ± 2 mm')
    expect(plain(toward(0.68, DOWN_UP, '°', undefined, 1))).toBe('up 0.7°')
    expect(plain(toward(-0.68, WEST_EAST, '°', undefined, 1))).toBe('west 0.7°')
  })
  it('gives no direction to what rounds to nothing', () => {
    expect(plain(toward(-0.3, LEFT_RIGHT, 'mm', 2))).toBe('0 ± 2 mm')
  })
  it('speaks inches: 12.7 mm is 0.50 in', () => {
    expect(plain(measuredLength(12.7, null, 'in').text)).toBe('0.50 in')
    expect(plain(measuredLength(12, 2, 'in').text)).toBe('0.47 ± 0.08 in')
    expect(plain(measuredLength(12.4, null, 'mm').text)).toBe('12 mm')
  })
})

describe('degrees', () => {
  it.each([
    [47.503333, 4, 'decimal', '47.5033°'],
    [47.503333, 4, 'minutes', '47° 30.20′'],
    [47.503333, 4, 'seconds', '47° 30′ 12″'],
    [-0.5, 2, 'minutes', '−0° 30′'],
    [9.99999, 4, 'minutes', '10° 00.00′'],
    [9.99999, 4, 'seconds', '10° 00′ 00″'],
    [-0.000001, 4, 'seconds', '0° 00′ 00″'],
    [1.05, 2, 'minutes', '1° 03′'],
  ] as const)('writes %s with %s decimals in %s as %s', (deg, decimals, style, text) => {
    expect(plain(degrees(deg, decimals, style))).toBe(text)
  })
  it('names the hemisphere by its letter', () => {
    expect(plain(latitude(-33.9))).toBe('33.9000° S')
    expect(plain(longitude(-1.5, 2))).toBe('1.50° W')
    expect(plain(longitude(9.3, 4, 'minutes'))).toBe('9° 18.00′ E')
  })
})

describe('decibels beside a limit', () => {
  it.each([
    [0.52, 0.5, '0.52 dB'],
    [0.5004, 0.5, '0.5004 dB'],
    [0.48, 0.5, '0.5 dB'],
    [0.5, 0.5, '0.5 dB'],
    [0.46, 0.45, '0.46 dB'],
    [0.6, 0.5, '0.6 dB'],
    [12.4, 12.2, '12.4 dB'],
    [0.04, 0.03, '0.04 dB'],
    [0.02, 0.5, 'under 0.1 dB'],
  ])('shows %s, held to %s, as %s', (db, limit, text) => {
    expect(plain(decibels(db, limit))).toBe(text)
  })
})

describe('time', () => {
  const t = Date.UTC(2026, 3, 27, 20, 14, 5, 900)
  it('never runs ahead: 20:14:05.9 is 20:14:05 and 20:14', () => {
    expect(utcTime(t)).toBe('20:14:05')
    expect(utcTime(t, 'minute')).toBe('20:14')
    expect(plain(utcDate(t))).toBe('27 Apr 2026')
    expect(plain(utcFull(t))).toBe('Mon 27 Apr 2026, 20:14:05 UTC')
    expect(utcTime(1e300)).toBe('–')
  })
  it('puts local time beside, half-hour zones too', () => {
    expect(plain(localTime(t, 120))).toBe('22:14 here')
    expect(plain(localTime(t, 240))).toBe('00:14 here on Tue')
    expect(localTime(t, 0)).toBe('')
    expect(plain(utcAndLocal(t, 'minute', 120))).toBe('20:14 UTC (22:14 here)')
    expect(plain(localTime(t, -210))).toBe('16:44 here')
  })
  it.each([
    [45_000, '45 s'],
    [90_000, '1 min 30 s'],
    [59_600, '1 min'],
    [8_040_000, '2 h 14 min'],
    [7_200_000, '2 h'],
    [3_599_000, '1 h'],
    [86_399_000, '1 d'],
    [273_600_000, '3 d 4 h'],
    [-45_000, '45 s'],
    [400, '0 s'],
  ])('says %s ms as %s', (ms, text) => expect(plain(duration(ms))).toBe(text))
})

describe('counting and loss', () => {
  it('minds the singular', () => {
    expect(plain(countOf(1, 'sighting'))).toBe('1 sighting')
    expect(plain(countOf(17, 'sighting'))).toBe('17 sightings')
  })
  it('never calls a small loss none', () => {
    expect(plain(decibels(0.02))).toBe('under 0.1 dB')
    expect(plain(decibels(0.42))).toBe('0.4 dB')
    expect(plain(decibels(12.4))).toBe('12 dB')
    expect(plain(decibels(0))).toBe('0.0 dB')
  })
})

describe('names', () => {
  it('isolates a name, so that Hebrew does not turn the sentence round', () => {
    expect(safeText('אבג')).toBe('\u2068אבג\u2069')
  })
  it('keeps script as text and every language as it is', () => {
    expect(seenText('<script>alert(1)</script>')).toBe('<script>alert(1)</script>')
    expect(seenText('نام\u200cها 👩‍🚀 Zoë 山')).toBe('نام\u200cها 👩‍🚀 Zoë 山')
  })
  it('shows controls, re-ordering marks, lone surrogates and tags as U+FFFD', () => {
    expect(seenText('a\u0000b\nc\u202ed\u2069e\ud800f\udc00g')).toBe('a\ufffdb\ufffdc\ufffdd\ufffde\ufffdf\ufffdg')
    expect(seenText('x\u{e0041}')).toBe('x\ufffd')
  })
  it('gives well-formed text that cannot leave its isolate, whatever comes in', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 0xffff }), { maxLength: 40 }), units => {
        const shown = safeText(String.fromCharCode(...units))
        expect(() => encodeURIComponent(shown)).not.toThrow()
        expect(shown.slice(1, -1)).not.toMatch(/[\u2066-\u2069\u202a-\u202e]/)
      }),
      { seed: 12, numRuns: 500 },
    )
  })
})
