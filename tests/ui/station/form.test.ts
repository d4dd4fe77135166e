/** The form of a station: to texts and back without loss, and what is said at a field. */
import { describe, expect, it } from 'vitest'
import { aim } from '../../../src/core/mount/aim.ts'
import { onPaper } from '../../../src/core/mount/slots.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { radFromDeg } from '../../../src/core/units.ts'
import { enuFromAzEl } from '../../../src/core/vectors.ts'
import { knowable, recordValue, STATION_STEPS, specOf, stepOf, writtenText } from '../../../src/ui/station/fields.ts'
import {
  FORM_WORDS,
  formFrom,
  freeFeedId,
  readStationForm,
  type StationForm,
  withoutRow,
  withRow,
  withText,
} from '../../../src/ui/station/form.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const small = (change: (station: Record<string, never>) => void = () => {}): StationRecord => {
  const station = smallBook().stations[0]
  change(station)
  return station
}
const write = (form: StationForm, texts: Record<string, string>): StationForm =>
  Object.entries(texts).reduce((f, [path, text]) => withText(f, path, text), form)

/** All that a new station needs, but for mount and readouts. */
const BASICS = {
  name: 'Top meadow',
  'site.latDeg': '47 30 12 S',
  'site.lonDeg': '9,3',
  'site.heightM': '640',
  'dish.diameterM': '2.4',
  'dish.focalRatio': '0.4',
  'feeds.k0.name': 'ring',
  'feeds.k0.frequencyMHz': '1296',
}
const DEGREES = {
  'mount.lower.readout.type': 'degrees',
  'mount.lower.minReading': '0',
  'mount.lower.maxReading': '90',
  'mount.upper.readout.type': 'degrees',
  'mount.upper.minReading': '−60',
  'mount.upper.maxReading': '60',
}

describe('readStationForm', () => {
  it('gives back the very record that the form was made from, unknown fields too, in millimetres and in inches', () => {
    const station = small(s => {
      Object.assign(s, { demo: true, unheardOf: [1, { deep: null }] })
      Object.assign(s.site!, { latDeg: 47.12345678901234, geoid: 'EGM96' })
      Object.assign((s.feeds as unknown as object[])[1]!, { ring: 'scalar' })
      Object.assign((s.mount as unknown as { upper: { readout: object } }).upper.readout, {
        countsPerMm: 20 / 9,
        make: 1,
      })
    })
    for (const inch of [false, true]) {
      const read = readStationForm(formFrom(station, inch), station, station.id)
      expect(read.atField).toEqual({})
      expect(read.elsewhere).toEqual([])
      expect(read.candidate).toEqual(station)
    }
  })

  it('keeps how the axes are driven and the stow position, and lets go of both with the readout that they are in', () => {
    const driven = small(s => {
      Object.assign((s.mount as unknown as { lower: object }).lower, { drive: { readingsPerS: 0.4 } })
      Object.assign((s.mount as unknown as { upper: object }).upper, { drive: { readingsPerS: 1.5, overrun: 3 } })
      Object.assign(s, { stow: { lower: 30, upper: 410, windKmh: 40 } })
    })
    const form = formFrom(driven, false)
    expect(readStationForm(withText(form, 'name', 'Other'), driven, driven.id).candidate).toEqual({
      ...driven,
      name: 'Other',
    })
    const counted = readStationForm(withText(form, 'mount.upper.readout.type', 'degrees'), driven, driven.id).candidate
    expect(counted).not.toHaveProperty('stow')
    expect(counted.mount.upper).not.toHaveProperty('drive')
    expect(counted.mount.lower.drive).toEqual({ readingsPerS: 0.4 })
    const other = readStationForm(withText(form, 'mount.kind', 'x-y'), driven, driven.id).candidate
    expect([other.mount.lower.drive, other.mount.upper.drive, other.stow]).toEqual([undefined, undefined, undefined])
  })

  it('takes the smallest step of a readout in degrees, and lets go of it when emptied or when the axis shows counts', () => {
    const inDegrees = withText(formFrom(small(), false), 'mount.lower.readout.type', 'degrees')
    const form = withText(inDegrees, 'mount.lower.stepDeg', '0.25')
    const stepped = readStationForm(form, small(), small().id).candidate
    expect(stepped.mount.lower.stepDeg).toBe(0.25)
    const again = formFrom(stepped, false)
    expect(again.texts['mount.lower.stepDeg']).toBe('0.25')
    const emptied = readStationForm(withText(again, 'mount.lower.stepDeg', ''), stepped, stepped.id).candidate
    expect(emptied.mount.lower).not.toHaveProperty('stepDeg')
    const counts = {
      'mount.lower.readout.type': 'linear-counts',
      'mount.lower.readout.zeroCounts': '0',
      'mount.lower.readout.countsPerDeg': '10',
    }
    expect(readStationForm(write(again, counts), stepped, stepped.id).candidate.mount.lower).not.toHaveProperty(
      'stepDeg',
    )
    const zero = readStationForm(withText(again, 'mount.lower.stepDeg', '0'), stepped, stepped.id)
    expect(zero.atField['mount.lower.stepDeg']).toBeDefined()
  })

  it('does not alter the record that it was given', () => {
    const station = small()
    readStationForm(withText(formFrom(station, false), 'name', 'Another'), station, station.id)
    expect(station).toEqual(small())
  })

  it.each(['el-over-az', 'ha-dec', 'az-over-el', 'x-y'])('makes a legal %s station from nothing', kind => {
    const heading: Record<string, string> = kind === 'az-over-el' || kind === 'x-y' ? { 'mount.headingDeg': '170' } : {}
    const form = write(formFrom(null, false), { ...BASICS, ...DEGREES, ...heading, 'mount.kind': kind })
    const { candidate, atField, elsewhere } = readStationForm(form, null, 'new')
    expect(atField).toEqual({})
    expect(elsewhere).toEqual([])
    expect(candidate.site.latDeg).toBeCloseTo(-(47 + 30 / 60 + 12 / 3600), 12)
    const book = {
      format: 'moonplumb-fieldbook',
      version: 1,
      exportedUtc: '2026-05-01T12:00:00Z',
      stations: [candidate],
    }
    expect(checkFieldBook(book)).toEqual([])
  })

  it('says at each field of an empty form what is missing, and every such field stands in a step', () => {
    const { atField } = readStationForm(formFrom(null, false), null, 'new')
    expect(atField).toMatchObject({
      name: FORM_WORDS.nameless,
      'site.latDeg': FORM_WORDS.missing,
      'mount.kind': FORM_WORDS.choose,
      'dish.diameterM': FORM_WORDS.missing,
      'feeds.k0.frequencyMHz': FORM_WORDS.missing,
    })
    expect(Object.keys(atField).filter(path => stepOf(path) === null)).toEqual([])
    expect(Object.keys(atField)).toHaveLength(6)
    expect(STATION_STEPS).toHaveLength(10)
  })

  it('guesses the heading of the mounts that need one, toward the equator, and of no other', () => {
    const form = write(formFrom(null, false), { ...BASICS, ...DEGREES, 'mount.kind': 'x-y' })
    const { candidate, atField } = readStationForm(form, null, 'n')
    expect(atField).toEqual({})
    expect(candidate.mount.headingDeg).toBe(0) // 47° south
    expect(candidate.guesses).toEqual({ 'mount.headingDeg': true })
    expect(readStationForm(withText(form, 'mount.kind', 'ha-dec'), null, 'n').candidate).not.toHaveProperty('guesses')
  })

  it('says at the limit that the triangle does not close there, with the readings that are allowed', () => {
    const station = small()
    const { atField } = readStationForm(
      withText(formFrom(station, false), 'mount.upper.maxReading', '2000'),
      station,
      station.id,
    )
    // Arms 620 and 410 mm, 560 mm at zero, 1.9 counts per mm: (620 + 410 - 560) · 1.9 = 893 counts by hand.
    expect(atField['mount.upper.maxReading']).toMatch(/triangle.*893/)
  })

  it('refuses limits the wrong way round in plain words', () => {
    const station = small()
    const { atField } = readStationForm(
      withText(formFrom(station, false), 'mount.lower.maxReading', '0'),
      station,
      station.id,
    )
    expect(atField).toEqual({ 'mount.lower.maxReading': FORM_WORDS.order })
  })

  it('names the sightings that need a feed which was taken away', () => {
    const station = small()
    const form = formFrom(station, false)
    const { elsewhere } = readStationForm(withoutRow(form, 'feeds', form.rows.feeds[0]!.key), station, station.id)
    expect(elsewhere.length).toBeGreaterThan(0)
    expect(elsewhere[0]!.path).toMatch(/^stations\[0\]\.(sightings|changes)\[\d\]/)
  })

  it('finds the fault of a row under its own key, also after a row before it was taken away', () => {
    const station = small()
    let form = formFrom(station, false)
    const [first, second] = form.rows.horizonMask
    form = withText(withoutRow(form, 'horizonMask', first!.key), `horizonMask.${second!.key}.elDeg`, '95')
    expect(Object.keys(readStationForm(form, station, station.id).atField)).toEqual([
      `horizonMask.${second!.key}.elDeg`,
    ])
  })

  it('makes f/D 0.4 of a 2.4 m dish 375 mm deep (f = D²/16d), in inches 14.763780 in', () => {
    const by = { ...BASICS, ...DEGREES, 'mount.kind': 'el-over-az', 'dish.by': 'depth' }
    const mm = write(formFrom(null, false), { ...by, 'dish.depth': '375' })
    expect(readStationForm(mm, null, 'n').candidate.dish.focalRatio).toBe(0.4)
    const inch = write(formFrom(null, true), { ...by, 'dish.depth': '14.76378' })
    expect(readStationForm(inch, null, 'n').candidate.dish.focalRatio).toBe(0.4)
    const flat = write(formFrom(null, false), { ...by, 'dish.depth': '3' })
    expect(readStationForm(flat, null, 'n').atField['dish.depth']).toMatch(/focal ratio of 50/)
  })

  it('takes an emptied field out of the record, and an emptied group with it', () => {
    const station = small()
    const form = write(formFrom(station, false), {
      notes: '',
      'tolerance.echoLossDb': '',
      'tolerance.minElevationDeg': '',
      'tolerance.floorDeg': '',
      'site.air.humidityPct': '',
    })
    const { candidate } = readStationForm(form, station, station.id)
    expect(candidate).not.toHaveProperty('notes')
    expect(candidate).not.toHaveProperty('tolerance')
    expect(candidate.site.air).toEqual({ pressureHPa: 940, temperatureC: 11 })
  })

  it('keeps a number that is not one out of the record and says why', () => {
    const station = small()
    const { atField } = readStationForm(
      withText(formFrom(station, false), 'site.heightM', '12..5'),
      station,
      station.id,
    )
    expect(atField['site.heightM']).toMatch(/two decimal signs/)
  })

  it('keeps a name of any script to the character: markup, right-to-left marks, lone surrogates, 300 characters', () => {
    for (const name of ['<script>alert(1)</script>', '\u202eabc', 'x\ud800y', '\u05d0'.repeat(300)]) {
      const form = write(formFrom(null, false), { ...BASICS, ...DEGREES, 'mount.kind': 'el-over-az', name })
      const read = readStationForm(form, null, 'n')
      expect(read.atField).toEqual({})
      expect(read.candidate.name).toBe(name)
    }
  })
})

/** Place, kind of mount, dish and frequency: all that is asked. */
const THREE = {
  name: 'Top meadow',
  'site.latDeg': '47,5',
  'site.lonDeg': '9,3',
  'dish.diameterM': '3',
  'feeds.k0.frequencyMHz': '1296',
}
const bookWith = (station: StationRecord) => ({
  format: 'moonplumb-fieldbook',
  version: 1,
  exportedUtc: '2026-05-01T12:00:00Z',
  stations: [station],
})

describe('what is left empty', () => {
  it.each(['el-over-az', 'ha-dec', 'az-over-el', 'x-y'])('is guessed: three answers make a legal %s station', kind => {
    const form = write(formFrom(null, false), { ...THREE, 'mount.kind': kind })
    const { candidate, atField, elsewhere } = readStationForm(form, null, 'new')
    expect([atField, elsewhere]).toEqual([{}, []])
    expect(checkFieldBook(bookWith(candidate))).toEqual([])
    expect(candidate.feeds[0]!.name).toBe('23 cm feed')
    expect(candidate.guesses).toMatchObject({
      'site.heightM': true,
      'dish.focalRatio': true,
      'mount.lower.readout': true,
      'mount.upper.minReading': true,
    })
  })

  it.each(['el-over-az', 'ha-dec', 'az-over-el', 'x-y'])(
    'stops nothing: every place above 10° is in reach of a guessed %s mount',
    kind => {
      const form = write(formFrom(null, false), { ...THREE, 'mount.kind': kind })
      const { model } = stationFromRecord(readStationForm(form, null, 'new').candidate)
      for (let az = 3; az < 360; az += 23)
        for (let el = 10; el < 89; el += 13) {
          const reach = aim(model, onPaper(), 'boresight', enuFromAzEl(radFromDeg(az), radFromDeg(el)))
          expect(reach?.inside, `${az}, ${el}`).toBe(true)
        }
    },
  )

  it.each([
    ['nothing but its closed length and its counts', {}],
    ['one arm', { baseArmMm: '620' }],
    ['the other arm, longer than the jack', { rodArmMm: '1400' }],
    ['its stops', { min: '10', max: '830' }],
    ['its arms, not the angle at the pivot', { baseArmMm: '620', rodArmMm: '410' }],
  ] as const)(
    'of a jack of which one knows %s closes a triangle, and is marked',
    (_, known: Record<string, string>) => {
      const at = (name: string) => `mount.upper.readout.${name}`
      const form = write(formFrom(null, false), {
        ...THREE,
        'mount.kind': 'az-over-el',
        [at('type')]: 'jack',
        [at('direction')]: '1',
        [at('lengthAtReadingZeroMm')]: '560',
        [at('countsPerMm')]: '1,9',
        ...Object.fromEntries(['baseArmMm', 'rodArmMm'].flatMap(n => (known[n] ? [[at(n), known[n]]] : []))),
        ...(known.min ? { 'mount.upper.minReading': known.min, 'mount.upper.maxReading': known.max! } : {}),
      })
      const { candidate, atField, elsewhere } = readStationForm(form, null, 'new')
      expect([atField, elsewhere]).toEqual([{}, []])
      for (const name of ['baseArmMm', 'rodArmMm'] as const)
        expect(candidate.guesses?.[`mount.upper.readout.${name}`] ?? false).toBe(known[name] === undefined)
      expect(candidate.guesses?.['mount.upper.readout.phiAtAngleZeroDeg']).toBe(true)
      expect(candidate.guesses?.['mount.upper.maxReading'] ?? false).toBe(known.max === undefined)
    },
  )

  it('stays the same guess, and empty, when the form is opened again; typed, it is none', () => {
    const station = readStationForm(
      write(formFrom(null, false), { ...THREE, 'mount.kind': 'x-y' }),
      null,
      'n',
    ).candidate
    const again = formFrom(station, false)
    expect(again.texts['dish.focalRatio'] ?? '').toBe('')
    expect(readStationForm(again, station, 'n').candidate).toEqual(station)
    const typed = readStationForm(withText(again, 'dish.focalRatio', '0,38'), station, 'n').candidate
    expect(typed.dish.focalRatio).toBe(0.38)
    expect(typed.guesses).not.toHaveProperty(['dish.focalRatio'])
    expect(typed.guesses).toHaveProperty(['site.heightM'], true)
  })

  it('of an offset dish is marked offset; of a book of before, prime focus without a key', () => {
    const station = small()
    expect(readStationForm(formFrom(station, false), station, station.id).candidate.dish).not.toHaveProperty('fed')
    const offset = readStationForm(
      withText(formFrom(station, false), 'dish.fed', 'offset'),
      station,
      station.id,
    ).candidate
    expect(offset.dish.fed).toBe('offset')
    expect(
      readStationForm(withText(formFrom(offset, false), 'dish.fed', 'prime-focus'), offset, 'n').candidate.dish.fed,
    ).toBe('prime-focus')
  })
})

describe('rows', () => {
  it('never give a new feed the id of one that was taken away: its sightings stay its own', () => {
    const station = small()
    const form = formFrom(station, false)
    expect(freeFeedId(withoutRow(form, 'feeds', form.rows.feeds[0]!.key))).toBe('c')
  })

  it('carry what was measured into the record', () => {
    const station = small()
    let form = withRow(formFrom(station, false), 'priors', { id: 'sag', measured: 'yes' })
    const key = form.rows.priors.at(-1)!.key
    form = write(form, { [`priors.${key}.value`]: '0.2', [`priors.${key}.sigma`]: '0.05' })
    const { candidate, atField } = readStationForm(form, station, station.id)
    expect(atField).toEqual({})
    expect(candidate.priors!.at(-1)).toEqual({ id: 'sag', value: 0.2, sigma: 0.05, measured: true })
    expect(candidate.priors).toHaveLength(4)
  })

  it('refuse an uncertainty of nothing', () => {
    const station = small()
    const form = formFrom(station, false)
    const path = `priors.${form.rows.priors[0]!.key}.sigma`
    expect(readStationForm(withText(form, path, '0'), station, station.id).atField[path]).toMatch(/above 0/)
  })
})

describe('fields', () => {
  it('write 254 mm as 10 in and read it back', () => {
    const form = { texts: {}, inch: true }
    const spec = specOf(form, 'mount.upper.readout.baseArmMm')
    expect(writtenText(form, spec, 254)).toBe('10')
    expect(recordValue(form, spec, 10)).toBe(254)
  })

  it('write 1.9 counts per mm as 48.26 counts per inch and read it back', () => {
    const form = { texts: {}, inch: true }
    const spec = specOf(form, 'mount.upper.readout.countsPerMm')
    expect(writtenText(form, spec, 1.9)).toBe('48.26')
    expect(recordValue(form, spec, 48.26)).toBeCloseTo(1.9, 12)
  })

  it('write 812.125 counts so that they cannot be taken for 812125', () => {
    const form = { texts: { 'mount.upper.readout.type': 'jack' }, inch: false }
    expect(writtenText(form, specOf(form, 'mount.upper.maxReading'), 812.125)).toBe('812.1250')
  })

  it('offer arms for a jack, a scale for the others, and each feed its own', () => {
    const both = knowable('az-over-el', { lower: 'degrees', upper: 'jack' }, [{ id: 'a' }, { id: 'b' }])
    expect(both).toEqual(expect.arrayContaining(['heading', 'level', 'lowerScale', 'upperBaseArm', 'feedRight:b']))
    expect(both).not.toEqual(expect.arrayContaining(['upperScale']))
    expect(both.some(id => /^(lean|pole)/.test(id) || id === 'lowerBaseArm' || id === 'feedRight')).toBe(false)
  })
})
