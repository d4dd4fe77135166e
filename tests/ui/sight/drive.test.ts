import { describe, expect, it } from 'vitest'
import { wayToGo } from '../../../src/core/plan/waytogo.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { landmarkOf, speedForm, speedOf, stowForm, stowOf } from '../../../src/ui/sight/driveform.ts'
import { boxWords, heardWords, speedText, wayTold, wayWords, windWords } from '../../../src/ui/sight/drivewords.ts'
import { plain } from '../../helpers/plain.ts'
import { countedPit } from '../../helpers/stations.ts'

const { mount } = countedPit()
const driven = (drive: NonNullable<StationRecord['mount']['upper']['drive']>): StationRecord['mount'] => ({
  ...mount,
  upper: { ...mount.upper, drive },
})
const way = (present: number, target: number, more: object = {}, drive: object | null = {}) =>
  wayToGo({
    ...{ present, target, targetPerS: 0, runUp: 10, min: 0, max: 900, within: 0.5 },
    drive: drive && { readingsPerS: 1.5, overrun: 0, arriveFrom: null, ...drive },
    ...more,
  })
const words = (...p: Parameters<typeof way>) =>
  Object.values(wayWords(mount, 'upper', way(...p))).map(text => text && plain(text))

describe('wayWords', () => {
  it('says the way beside the reading: down 41, 27 s', () => {
    expect(words(500, 459)).toEqual(['down 41', null, '27 s'])
    expect(words(500, 459, {}, null)).toEqual(['down 41', null, null])
    expect(words(459.2, 459)).toEqual(['there', null, null])
  })

  it('says both pulls where it goes past and comes back', () => {
    expect(words(500, 459, {}, { arriveFrom: '+' })).toEqual(['down 51', 'then up 10', '41 s'])
  })

  it('says where it ends, and why it cannot begin', () => {
    expect(words(890, 950)).toEqual(['up 10', 'to the limit', '7 s'])
    expect(words(900, 950)).toEqual(['at the limit', null, null])
    expect(words(500, 459, { targetPerS: 2 })).toEqual(['too fast', null, null])
  })

  it('counts degrees to a tenth', () => {
    const { amount } = wayWords(mount, 'lower', way(120, 124.26, {}, null))
    expect(plain(amount)).toBe('up 4.3°')
  })
})

describe('wayTold', () => {
  it('tells what to do at the jack: how long, where to let go, where it comes to rest', () => {
    const told = wayTold(mount, 'upper', way(500, 459, {}, { overrun: 6, arriveFrom: '+' }))
    expect(told.map(plain)).toEqual([
      'Elevation down for 30 s, let go at 455 counts: it runs on to 449 counts.',
      'Then up for 3 s, let go at 453 counts: it runs on to 459 counts.',
    ])
  })

  it('says what keeps it from arriving as it should', () => {
    expect(plain(wayTold(mount, 'upper', way(500, 950)).at(-1)!)).toBe(
      'Elevation stops at its upper limit, 900 counts.',
    )
    expect(wayTold(mount, 'upper', way(500, 0.2, {}, { arriveFrom: '+' })).at(-1)).toContain(
      'no room at its lower limit',
    )
  })
})

describe('speedOf', () => {
  const empty = speedForm(mount, 'upper')
  it('is the way between two readings over the seconds, whichever way it ran', () => {
    for (const [from, to] of [
      ['400', '460'],
      ['460', '400'],
    ] as const)
      expect(speedOf({ ...empty, from, to, seconds: '40' }, mount, 'upper')).toEqual({
        kind: 'ready',
        drive: { readingsPerS: 1.5 },
      })
  })

  it('takes readings a minute, the overrun and the side', () => {
    const form = { ...empty, how: 'typed' as const, perMinute: '90', overrun: '3', side: '-' as const }
    expect(speedOf(form, mount, 'upper')).toEqual({
      kind: 'ready',
      drive: { readingsPerS: 1.5, overrun: 3, arriveFrom: '-' },
    })
  })

  it('says what is missing, and refuses an axis that did not move', () => {
    const at = (change: object) => speedOf({ ...empty, ...change }, mount, 'upper')
    expect(at({})).toMatchObject({ kind: 'not-yet', why: 'Not yet: both readings and the seconds between.' })
    expect(at({ from: '400', to: '400', seconds: '10' })).toMatchObject({ why: expect.stringContaining('the same') })
    expect(at({ from: '400', to: '460', seconds: '40', overrun: 'x' })).toMatchObject({ kind: 'not-yet' })
  })

  it('untouched gives back the very number, and what it does not show', () => {
    const drive = { readingsPerS: 1 / 3, overrun: 2, mine: 'kept' }
    expect(speedOf(speedForm(driven(drive), 'upper'), driven(drive), 'upper')).toEqual({ kind: 'ready', drive })
  })
})

describe('stowOf', () => {
  it('reads both readings, the wind and the note; the wind in miles where lengths are in inches', () => {
    const form = { lower: '180', upper: '900', wind: '25', note: 'strap' }
    expect(stowOf(form, mount, undefined, 'mm')).toEqual({ lower: 180, upper: 900, windKmh: 25, note: 'strap' })
    expect(stowOf(form, mount, undefined, 'in')!.windKmh).toBeCloseTo(40.2, 1)
    expect(stowOf({ ...form, lower: '' }, mount, undefined, 'mm')).toBeNull()
    expect(stowOf({ ...form, wind: 'gale' }, mount, undefined, 'mm')).toBeNull()
    expect(stowOf({ ...form, wind: '', note: '' }, mount, undefined, 'mm')).toEqual({ lower: 180, upper: 900 })
  })

  it('untouched gives back the very number in either unit', () => {
    const stow = { lower: 180, upper: 900, windKmh: 41, mine: 1 }
    for (const unit of ['mm', 'in'] as const)
      expect(stowOf(stowForm(mount, stow, unit), mount, stow, unit)).toEqual(stow)
  })
})

describe('landmarkOf', () => {
  it('reads coordinates and both heights, in feet where lengths are in inches', () => {
    const form = { lat: '47 12', lon: '9.5 E', top: '1000', own: '640' }
    expect(landmarkOf(form, 'mm')).toEqual({ latDeg: 47.2, lonDeg: 9.5, heightM: 1000, dishHeightM: 640 })
    expect(landmarkOf(form, 'in')!.heightM).toBeCloseTo(304.8, 6)
    expect(landmarkOf({ ...form, top: '' }, 'mm')).toBeNull()
  })
})

describe('what is said', () => {
  const rise = (db: number) =>
    plain(
      heardWords({ kind: 'rise', db, systemK: 80, systemFrom: 'station', jansky: 1747, fluxFrom: null }, 'ring feed'),
    )
  it('of a source: its rise, or that it is too weak, or not heard at all', () => {
    expect(rise(1.24)).toMatch(/^1\.2 dB above cold sky \(ring feed, system 80 K from the station; 1700 Jy/)
    expect(rise(0.13)).toMatch(/^0\.13 dB above cold sky .*: too weak to peak on/)
    expect(rise(0.01)).toMatch(/^Cannot be heard here: under 0\.02 dB above cold sky/)
    expect(heardWords({ kind: 'extended' }, 'x')).toContain('galactic centre')
  })

  it('of a satellite’s box, a speed and the wind', () => {
    const box = { halfDeg: 0.1, azDeg: 0.141, elDeg: 0.105, mostDeg: 0.157, beams: 0.03, lossDb: 0.011 }
    expect(plain(boxWords(box))).toContain(
      'azimuth ±0.14°, elevation ±0.10°, at most 0.16° from the middle: 0.03 of the beam',
    )
    expect(plain(speedText(mount, 'upper', { readingsPerS: 1.5 }))).toBe('1.5 counts a second')
    expect(plain(speedText(mount, 'lower', { readingsPerS: 0.42 }))).toBe('0.42° a second')
    expect(plain(windWords({ lower: 0, upper: 0, windKmh: 40 })!)).toBe('Go there at 40 km/h of wind.')
    expect(windWords({ lower: 0, upper: 0 })).toBeNull()
  })
})
