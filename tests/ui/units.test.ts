/**
 * What the person chose under Settings holds wherever an angle or a length is shown or typed. One table: what is shown, in
 * degrees and millimetres, and in minutes and inches. Worked by hand: 1° is 60′, 1 in is 25.4 mm.
 */
import fc from 'fast-check'
import { afterEach, describe, expect, it } from 'vitest'
import type { ChangeRecord, MountRecord } from '../../src/core/records/fieldbook.ts'
import type { Suspect } from '../../src/core/records/solution.ts'
import { angles, units } from '../../src/state/settings.ts'
import { changeFromForm, emptyChange, formOfChange, movedKinds, unknownKey } from '../../src/ui/change/form.ts'
import { expectedValueWords } from '../../src/ui/change/words.ts'
import { adviceWords } from '../../src/ui/correct/advicewords.ts'
import { directionText, rangeText } from '../../src/ui/correct/found.ts'
import { residualShapes } from '../../src/ui/correct/residuals-geometry.ts'
import { offInSigmasWords, sightingWords, suspectSentence } from '../../src/ui/correct/words.ts'
import { spotWords } from '../../src/ui/kit/dishface-geometry.ts'
import {
  degrees,
  latitude,
  lengthUnit,
  measured,
  measuredLength,
  roughDegrees,
  toward,
} from '../../src/ui/kit/format.ts'
import { KINDS as LEVEL_KINDS } from '../../src/ui/kit/kinds.ts'
import { missWords } from '../../src/ui/kit/miss.ts'
import { parseNumber, typedAngle } from '../../src/ui/kit/numberfield.ts'
import { dialled, keptReading, whenToMinute as levelWhen, targetWords, whenToSecond } from '../../src/ui/kit/phrases.ts'
import { readingKind, readingWords, typedReading } from '../../src/ui/kit/readings.ts'
import { formOfSighting } from '../../src/ui/kit/sighting/form.ts'
import { shadowSentence } from '../../src/ui/kit/sighting/words.ts'
import { worthBrings, worthWhere } from '../../src/ui/kit/worthwords.ts'
import { leanWords, shimWords } from '../../src/ui/level/says.ts'
import { nextWords as transitWords } from '../../src/ui/sight/words.ts'
import { specOf, writtenText } from '../../src/ui/station/fields.ts'
import { plain, unmarked } from '../helpers/plain.ts'
import { smallBook } from '../helpers/smallbook.ts'

const choose = (minutes: boolean, inches: boolean) => {
  angles.set(minutes ? 'minutes' : 'decimal')
  units.set(inches ? 'inch' : 'mm')
}
afterEach(() => choose(false, false))

const station = smallBook().stations[0]
const mount: MountRecord = {
  kind: 'az-over-el',
  headingDeg: 180,
  lower: { readout: { type: 'degrees' }, minReading: 0, maxReading: 90 },
  upper: { readout: { type: 'linear-counts', zeroCounts: 0, countsPerDeg: 10 }, minReading: 0, maxReading: 900 },
}
const feedMove = { kind: 'move', part: 'feed', toward: 'left', size: 12, sigma: 2, unit: 'mm' } as never
const tiltMove = { kind: 'move', part: 'left-end', toward: 'up', size: 0.6, sigma: 0.2, unit: 'deg' } as never
const brought = {
  step: { kind: 'level' },
  minutes: 5,
  beforeDeg: 1.5,
  afterDeg: 0.75,
  beforeDb: 24,
  afterDb: 8,
} as never
const sense = ['left', 'right'] as const
const echo = (text: string, kind: Parameters<typeof parseNumber>[1]) => {
  const read = parseNumber(text, kind)
  return read.kind === 'value' ? read.echo : read.kind
}
const drifted: Suspect = {
  kind: 'counter-step',
  text: '',
  deltaChi2: 30,
  settle: '',
  rivals: [],
  axis: 'lower',
  betweenUtc: ['2026-11-01T10:00:00Z', '2026-11-02T10:00:00Z'],
  angleDeg: 0.5,
  sigmaDeg: 0.1,
}
const clock: Suspect = { ...drifted, kind: 'clock-or-longitude', clockS: 40, sigmaS: 5, longitudeDeg: 0.167 }
const prior = { texts: { 'priors.k1.id': 'feedRight' }, inch: false }

const ANGLES: [string, () => string, string, string][] = [
  ['an angle', () => degrees(12.5, 2), '12.50°', '12° 30′'],
  ['a place', () => latitude(-33.9), '33.9000° S', '33° 54.00′ S'],
  ['an angle with its ±', () => measured(1.3, 0.6, '°').text, '1.3 ± 0.6°', '1° 18′ ± 36′'],
  ['a small one', () => measured(-0.25, 0.12, '°').text, '−0.25 ± 0.12°', '−15′ ± 7′'],
  ['one that is hardly known', () => measured(12, 6, '°').text, '12 ± 6°', '12 ± 6°'],
  ['one with a direction', () => toward(-0.3, sense, '°', 0.15), 'left 0.30 ± 0.15°', 'left 18′ ± 9′'],
  ['an error', () => roughDegrees(156.64), '157°', '156° 38′'],
  ['a parameter', () => directionText(-1.3, 0.6, sense, '°'), 'left 1.3 ± 0.6°', 'left 1° 18′ ± 36′'],
  [
    'an open parameter',
    () => rangeText(1.3, 0.6, sense, '°'),
    'between 0.1 and 2.5° right',
    'between 0° 06′ and 2° 30′ right',
  ],
  ['what to turn', () => adviceWords(tiltMove, 'mm'), '0.6 ± 0.2°', '36′ ± 12′'],
  ['a reading to dial', () => dialled(mount, 'lower', 71.3).value, '71.3°', '71° 18′'],
  ['counts to dial', () => dialled(mount, 'upper', 412.4).value, '412', '412'],
  ['a reading as kept', () => keptReading(mount, 'lower', 34.57), '34.57°', '34° 34.2′'],
  ['a reading in a list', () => readingWords(mount, 'lower', 30.5), 'tilt 30.5°', 'tilt 30° 30′'],
  [
    'a satellite',
    () => targetWords({ type: 'geostationary', lonDeg: 13.25 }),
    'satellite at 13.25° E',
    'satellite at 13° 15.0′ E',
  ],
  [
    'where a target stood',
    () => missWords({ rightDeg: 0.5, upDeg: -0.25 }, 0.05),
    '0.50° right, 0.25° low',
    '0° 30′ right, 0° 15′ low',
  ],
  ['how far off', () => offInSigmasWords(0.5, 0.25), '0.50° off', '0° 30′ off'],
  ['what a measurement brings', () => worthBrings(brought), 'from 1.5° to 0.75°', 'from 1° 30′ to 0° 45′'],
  ['a shadow', () => shadowSentence({ rightDeg: 1.05, upDeg: 0, sigmaDeg: 0.4 }).off, '1.05° right', '1° 03′ right'],
  ['a lean', () => leanWords(0.5, 0, 0.1), 'leans 0.50 ± 0.10°', 'leans 30′ ± 6′'],
  [
    'what is expected after a change',
    () => expectedValueWords({ id: 'heading', value: 1.9, sigma: 0.6 }),
    '1.9 ± 0.6°',
    '1° 54′ ± 36′',
  ],
  ['what was typed', () => echo('12 30', { form: 'angle' }), '= 12.5°', '= 12° 30′'],
  ['a ± of a level typed', () => echo('0 30', LEVEL_KINDS.sigma), '= 0.5°', '= 0° 30′'],
  ['a reading at a mark typed', () => echo('30 15', readingKind(mount, 'lower')), '= 30.25°', '= 30° 15′'],
  ['a longitude typed', () => echo('9.3 E', { form: 'longitude' }), '= 9.3° east', '= 9° 18′ east'],
  ['a field filled in', () => typedAngle(-71.3), '−71.3', '−71 18'],
  ['a reading filled in', () => typedReading(mount, 'lower', 71.3), '71.3', '71 18'],
  ['counts filled in', () => typedReading(mount, 'upper', 71.5), '71.5', '71.5'],
  ['a station’s field', () => writtenText(prior, specOf(prior, 'site.latDeg'), 47.5), '47.5', '47 30'],
  ['a beamwidth', () => writtenText(prior, specOf(prior, 'feeds.k1.beamwidthDeg'), 5.25), '5.25', '5 15'],
  [
    'a suspicion',
    () => suspectSentence({ ...station, mount }, drifted),
    'The tilt axis reads 0.50 ± 0.10° less',
    'The tilt axis reads 30′ ± 6′ less',
  ],
  ['a clock', () => suspectSentence(station, clock), 'or the longitude 0.17° too', 'or the longitude 0° 10′ too'],
  [
    'a drawing',
    () => residualShapes({ points: [], toleranceDeg: 0.5, beamwidthDeg: 5 }).words.join(' '),
    '5.0° wide',
    '5° 00′ wide',
  ],
]

const LENGTHS: [string, () => string, string, string][] = [
  ['a length', () => measuredLength(12, 2, lengthUnit()).text, '12 ± 2 mm', '0.47 ± 0.08 in'],
  ['what to move', () => adviceWords(feedMove, lengthUnit()), '12 ± 2 mm', '0.47 ± 0.08 in'],
  ['a shadow', () => spotWords({ rightMm: -25.4, upMm: 0 }, lengthUnit()), '25 mm left', '1.00 in left'],
  [
    'what is expected after a change',
    () => expectedValueWords({ id: 'feedRight', value: 12, sigma: 2 }),
    '12 ± 2 mm',
    '0.47 ± 0.08 in',
  ],
  ['how far a thing was moved', () => movedKinds({ id: 'feedRight', feed: 'a' } as never).by.unit ?? '', 'mm', 'in'],
  // tan 0.5° = 0.008727: 8.7 mm on a metre, 0.10 in on twelve
  ['a lean', () => leanWords(0.5, 0, 0.1), '8.7 mm per metre', '0.10 in per foot'],
  ['a shim', () => shimWords(0.5, 0, 0.1) ?? '', '0.9 mm for every 10 cm', '0.10 in for every foot'],
]

describe('Settings: angles', () => {
  it.each(ANGLES)('%s', (_, show, inDegrees, inMinutes) => {
    choose(false, false)
    expect(plain(show())).toContain(inDegrees)
    choose(true, false)
    expect(plain(show())).toContain(inMinutes)
  })

  it('fills a field in minutes that are read back as the same number, to its last bit', () => {
    fc.assert(
      fc.property(fc.double({ min: -360, max: 360, noNaN: true }), value => {
        fc.pre(value === 0 || Math.abs(value) >= 1e-6)
        const read = parseNumber(typedAngle(value, 'minutes'), { form: 'angle' })
        expect(read).toMatchObject({ kind: 'value', value: value === 0 ? 0 : value })
      }),
      { seed: 7, numRuns: 500 },
    )
  })
})

describe('Settings: lengths', () => {
  it.each(LENGTHS)('%s', (_, show, inMm, inInches) => {
    choose(false, false)
    expect(plain(show())).toContain(inMm)
    choose(false, true)
    expect(plain(show())).toContain(inInches)
  })

  it('takes inches where a feed was moved: 0.5 in to the right of 2 mm is 14.7 mm', () => {
    choose(false, true)
    const feed = { id: 'feedRight', feed: station.feeds[0]!.id } as never
    const before = [{ id: 'feedRight', feed: station.feeds[0]!.id, value: 2, sigma: 1 }] as never
    const form = {
      ...emptyChange([`feed:${station.feeds[0]!.id}`], undefined, 0),
      moved: { [unknownKey(feed)]: { by: '0.5', sigma: '0.1' } },
    }
    const made = changeFromForm(form, [feed], before, null, 'c')
    expect(made.kind).toBe('ready')
    const change = (made as { record: ChangeRecord }).record
    expect(change.expect![0]!.value).toBeCloseTo(14.7, 6)
    expect(change.expect![0]!.sigma).toBeCloseTo(Math.hypot(1, 2.54), 6)
    expect(formOfChange(change).expect).toEqual(change.expect)
  })

  it('leaves an untouched sighting as it is, whatever is chosen meanwhile', () => {
    const s = { ...station.sightings[0]!, lower: 131.57, sigmaDeg: 0.3 }
    choose(true, true)
    const form = formOfSighting(s, lengthUnit(), { ...mount })
    choose(false, false)
    expect(parseNumber(form.lower, { form: 'angle' })).toMatchObject({ value: 131.57 })
    expect(parseNumber(form.sigma, { form: 'angle' })).toMatchObject({ value: 0.3 })
  })
})

describe('UTC with local time beside', () => {
  const zone = process.env.TZ
  afterEach(() => {
    process.env.TZ = zone
  })
  const at = Date.UTC(2026, 10, 26, 20, 14, 5)

  // From the zones themselves: Zurich is an hour ahead in November, Kolkata five and a half, Honolulu ten behind.
  it.each([
    ['UTC', '20:14 UTC'],
    ['Europe/Zurich', '20:14 UTC (21:14 here)'],
    ['Asia/Kolkata', '20:14 UTC (01:44 here on Fri)'],
    ['Pacific/Honolulu', '20:14 UTC (10:14 here)'],
  ])('%s', (name, text) => {
    process.env.TZ = name
    const step = {
      kind: 'sighting',
      target: 'sun',
      method: 'shadow',
      utc: new Date(at).toISOString(),
      azDeg: 180,
      elDeg: 20,
    }
    const sighting = { ...station.sightings[0]!, utc: new Date(at).toISOString() }
    expect(plain(worthWhere(mount, step as never, at - 3_600_000)!)).toBe(`today ${text}, low in the south`)
    expect(plain(whenToSecond(at))).toBe(`26 Nov 2026, ${text.replace('20:14', '20:14:05')}`)
    expect(plain(sightingWords(sighting))).toContain(text)
    expect(plain(levelWhen(sighting.utc))).toBe(`26 Nov 2026, ${text}`)
    expect(
      plain(
        transitWords(
          mount,
          { elDeg: 20, reachable: true, next: { what: 'sets', utcMs: at }, why: null },
          at - 3600_000,
        ),
      ),
    ).toContain(`in 1 h, at ${text}`)
  })
})

it('a counter that slipped is told with what its mark read, in counts', () => {
  const references = [
    { id: 'a', utc: '', axis: 'upper', mark: 'inner stop', reading: 2 },
    { id: 'b', utc: '', axis: 'upper', mark: 'inner stop', reading: 12 },
  ]
  const slipped: Suspect = { ...drifted, axis: 'upper', marks: ['a', 'b'], counts: -10, angleDeg: -1, sigmaDeg: 0.2 }
  expect(unmarked(suspectSentence({ ...station, mount, references } as never, slipped))).toBe(
    'The swing counter gained about 10 ± 2 counts, between 1 Nov 2026 10:00 UTC and 2 Nov 2026 10:00 UTC. The mark “inner stop” read 2 counts, then 12 counts.',
  )
})
