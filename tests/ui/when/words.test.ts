import { afterEach, describe, expect, it } from 'vitest'
import { windows, windowsText } from '../../../src/core/questions.ts'
import { hindranceWords } from '../../../src/ui/kit/hindrancewords.ts'
import { upOf } from '../../../src/ui/when/asks.ts'
import { comingSpan, dayOfKey, monthOfKey, monthSpan, spanWish } from '../../../src/ui/when/calendar.ts'
import { totalHours } from '../../../src/ui/when/strip-geometry.ts'
import {
  bothWords,
  clockWords,
  comingWords,
  declinationWords,
  echoWords,
  edgeWords,
  fileSays,
  hereTimes,
  noiseWords,
  noneWhy,
  offsetWords,
  passWords,
  pointingWords,
  rowsWords,
  spanWords,
  zoneShort,
  zoneWords,
} from '../../../src/ui/when/words.ts'
import { answered } from '../../helpers/answered.ts'
import { plain } from '../../helpers/plain.ts'
import { bookOf, gravelPit, weir } from '../../helpers/stations.ts'

const zone = process.env.TZ
afterEach(() => {
  process.env.TZ = zone
})
const at = (text: string) => Date.parse(`2026-11-${text}:00Z`)
const spell = (from: string, to: string) => ({ inUtc: `2026-11-${from}:00Z`, outUtc: `2026-11-${to}:00Z` })

describe('the spell to come', () => {
  const told = (from: string, to: string, now: string) => {
    const coming = comingWords([spell('01T00:00', '01T01:00'), spell(from, to)], at(now))
    return [plain(coming?.utc), plain(coming?.here)]
  }

  it('is told by UTC and by the clock here', () => {
    process.env.TZ = 'Europe/Berlin'
    expect(told('29T19:41', '30T03:20', '29T13:02')).toEqual(['tonight 19:41 to 03:20 UTC', '20:41 to 04:20 here'])
    expect(told('29T08:00', '29T09:00', '29T06:02')).toEqual(['today 08:00 to 09:00 UTC', '09:00 to 10:00 here'])
    expect(told('30T08:00', '30T09:00', '29T06:02')[0]).toBe('tomorrow 08:00 to 09:00 UTC')
    expect(told('28T20:00', '29T03:20', '29T01:02')).toEqual(['now, until 03:20 UTC', '04:20 here'])
  })

  it('names the day of UTC where the day here is another one', () => {
    process.env.TZ = 'America/Los_Angeles'
    expect(told('30T03:00', '30T08:00', '29T20:00')).toEqual(['Mon 30 Nov 03:00 to 08:00 UTC', '19:00 to 00:00 here'])
    process.env.TZ = 'UTC'
    expect(told('30T03:00', '30T08:00', '22T20:00')).toEqual(['Mon 30 Nov 03:00 to 08:00 UTC', ''])
  })

  it('is none when all are over', () => {
    expect(comingWords([spell('01T00:00', '01T01:00')], at('02T00:00'))).toBeNull()
  })
})

describe('what the strip says beside its picture', () => {
  it('says whose midnight the rows begin at, and where the clock is changed', () => {
    process.env.TZ = 'America/St_Johns'
    expect([zoneWords(at('29T00:00')), zoneShort(at('29T00:00'))]).toEqual(['UTC−3:30', 'here'])
    process.env.TZ = 'Europe/Berlin'
    expect(rowsWords(at('29T00:00'))).toBe('Rows run from midnight to midnight here, UTC+1.')
    expect(clockWords(monthSpan(monthOfKey('2026-10')!)).map(plain)).toEqual([
      'On Sun 25 Oct the clock is changed here: that day has 25 hours, drawn as 24.',
    ])
    process.env.TZ = 'UTC'
    expect(rowsWords(at('29T00:00'))).toBe('Rows run from 00 to 24 UTC.')
    expect(hereTimes(at('29T00:00'), at('29T01:00'))).toBe('')
  })

  it('says the span', () => {
    expect(spanWords(comingSpan(at('29T00:00')))).toBe('in 28 days')
    expect(plain(spanWords(monthSpan(monthOfKey('2026-12')!)))).toBe('in Dec 2026')
  })

  it('says of a spell what both ends have of it', () => {
    const shared = [spell('28T20:00', '28T23:00'), spell('29T20:10', '30T01:15')]
    expect(plain(bothWords(shared, at('29T19:00'), at('30T03:00')))).toBe('both ends 20:10 to 01:15 UTC')
    expect(bothWords(shared, at('27T19:00'), at('28T03:00'))).toBe('never at both ends')
  })
})

describe('nothing in reach', () => {
  const of = (station: Parameters<typeof bookOf>[0], target = { type: 'moon' } as const) => {
    const span = comingSpan(at('01T00:00'))
    const told = answered(windows(bookOf(station), { now: '2026-11-01T00:00:00Z', target, ...spanWish(span) }))
    expect(told.spells).toEqual([])
    // All of the hours in which it is up, ten minutes a time.
    const lost = told.hindered.reduce((a, h) => a + h.hours, 0)
    expect(Math.abs(lost - totalHours(upOf(told)))).toBeLessThan(4)
    return plain(noneWhy(told, station.mount))
  }
  const limits = (minReading: number, maxReading: number) => ({
    readout: { type: 'degrees' as const },
    minReading,
    maxReading,
  })

  it('names what takes most of the hours', () => {
    const low = gravelPit({ mount: { kind: 'el-over-az', lower: limits(0, 360), upper: limits(0, 1) } })
    expect(of(low)).toMatch(/^Of the hours in which it is up, the highest reading of the elevation takes \d+ h and the/)
    expect(of(gravelPit({ horizonMask: [{ azDeg: 0, elDeg: 89 }] }))).toMatch(/your skyline takes \d+ h/)
    const high = gravelPit({ tolerance: { minElevationDeg: 89 } })
    expect(of(high)).toMatch(/^Of the hours in which it is up, the minimum elevation takes \d+ h\.$/)
  })

  it('says that a target never rises', () => {
    const far = { type: 'source', name: 'Cassiopeia A' } as const
    expect(of(gravelPit({ site: { latDeg: -60, lonDeg: 0, heightM: 0 } }), far as never)).toBe(
      '⁨Cassiopeia A⁩ does not rise here in these days.',
    )
  })
})

describe('a day', () => {
  const { mount } = weir('x-y', 50)
  const day = dayOfKey('2026-11-29')!

  it('says what begins and ends a spell, and on which day', () => {
    expect(edgeWords(mount, 'floor', 'in', at('29T12:00'), day)).toBe('begins at the minimum elevation')
    expect(edgeWords(mount, 'upper-max', 'out', at('30T02:00'), day)).toBe(
      'the day after; ends at the highest reading of axis Y',
    )
    expect(edgeWords(mount, 'mask', 'in', at('28T12:00'), day)).toBe('the day before; begins at your skyline')
    expect(edgeWords(mount, 'span', 'out', at('30T12:00'), day)).toBe('goes on after that')
    expect(hindranceWords({ kind: 'az-over-el' }, 'lower-triangle')).toBe('the reach of the jack of the tilt')
  })

  it('says the declination, the distance’s loss and the pointing loss', () => {
    expect(plain(declinationWords(-12.34))).toBe('12.3° south')
    expect(plain(echoWords(0.62))).toBe('0.6 dB weaker than at mean distance')
    expect(plain(echoWords(-1.4))).toBe('1.4 dB stronger than at mean distance')
    expect(echoWords(0.03)).toBe('as at mean distance')
    const pointing = (db: number, type: 'moon' | 'sun') =>
      plain(pointingWords({ rmsDeg: 0.31, echoLossDb: db }, { type }).value)
    expect([pointing(0.4, 'moon'), pointing(7, 'moon'), pointing(0.4, 'sun'), pointing(7, 'sun')]).toEqual([
      '0.4 dB',
      'the beam misses the Moon',
      '0.2 dB',
      'over 3 dB',
    ])
  })

  it('says what is heard behind it where that is near', () => {
    const standing = (near: ('galaxy' | 'sun')[]) => ({
      utc: '2026-11-29T12:00:00Z',
      declinationDeg: 0,
      distanceKm: null,
      echoPathDb: null,
      noise: { galaxyDeg: 4.2, sunDeg: 8.1, near },
    })
    expect(noiseWords(standing([]))).toEqual([])
    expect(noiseWords(standing(['sun']))[0]).toMatch(/^The Sun is 8.1° away: .* Keep the feed off the Sun itself\.$/)
    expect(noiseWords(standing(['galaxy']))[0]).toMatch(/^The bright part of the Milky Way is 4.2° away: /)
  })
})

describe('polarisation', () => {
  const row = (rollDeg: number | null, elDeg = 20, time = '20:00') => ({
    utc: `2026-11-29T${time}:00Z`,
    azDeg: 180,
    elDeg,
    reachable: true,
    rollDeg,
    partner: null,
  })

  it('says the spatial offset and what it costs linear feeds', () => {
    const partner = (offsetDeg: number) => ({
      offsetDeg,
      lossDb: Math.min(60, -20 * Math.log10(Math.abs(Math.cos((offsetDeg * Math.PI) / 180)))),
      isUp: true,
    })
    expect(plain(offsetWords(partner(-34)))).toMatch(/stand 34° apart.* lose 1\.6 dB by it, one way\.$/)
    expect(plain(offsetWords(partner(89)))).toMatch(/lose 20 dB and more by it/)
    expect(offsetWords(partner(0.2))).toMatch(/agree/)
  })

  it('says the pass at its beginning, highest and end', () => {
    expect(passWords([row(null), row(-40, 10, '20:10'), row(0.2, 60, '23:00'), row(35, 12, '02:00')])).toEqual([
      'At 20:10 40° anticlockwise, highest at 23:00 upright, at 02:00 35° clockwise (UTC).',
    ])
    expect(passWords([row(null)])).toEqual([])
  })
})

describe('the file', () => {
  it('says what it contains, with and without the other end', () => {
    const span = monthSpan(monthOfKey('2026-12')!)
    const wish = { now: '2026-11-29T00:00:00Z', target: { type: 'moon' } as const, ...spanWish(span) }
    const partner = { latDeg: 35, lonDeg: 139 }
    const told = windows(bookOf(gravelPit()), wish)
    const both = windows(bookOf(gravelPit()), { ...wish, partner })
    const text = windowsText(bookOf(gravelPit()), { ...wish, as: 'csv', partner })
    if (!told.ok || !both.ok || !text.ok) throw new Error('refused')
    expect(plain(fileSays(told.value, false, span))).toBe(
      `${told.value.spells.length} windows of the Moon, ${Math.round(told.value.hours)} hours, 1 Dec 2026 to 31 Dec 2026, times in UTC; in reach, above skyline and minimum elevation.`,
    )
    const said = /^(\d+) windows/.exec(plain(fileSays(both.value, true, span))!)!
    expect(Number(said[1])).toBe(text.value.trim().split('\r\n').length - 1)
  })
})
