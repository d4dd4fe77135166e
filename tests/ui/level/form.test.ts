import { describe, expect, it } from 'vitest'
import type { MountRecord, StationRecord } from '../../../src/core/records/fieldbook.ts'
import {
  changeFromForm,
  emptyChange,
  emptyMark,
  expectedOf,
  formOfChange,
  formOfMark,
  markFromForm,
} from '../../../src/ui/change/form.ts'
import { carryWords } from '../../../src/ui/change/words.ts'
import { changeWord } from '../../../src/ui/kit/changewords.ts'
import { windOf } from '../../../src/ui/kit/phrases.ts'
import { utcText } from '../../../src/ui/kit/utcfield.ts'
import { emptyMeasure, type MeasureForm } from '../../../src/ui/level/form.ts'
import { formOfLevel, levelFromForm } from '../../../src/ui/level/record.ts'
import { leanWords, levelWords, shimWords } from '../../../src/ui/level/says.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const station = (): StationRecord => smallBook().stations[0]
const mount: MountRecord = station().mount
const NOW = Date.parse('2026-05-02T09:00:00.250Z')
const clamping = { fresh: 'fresh', last: 'last' }
const measure = (change: Partial<MeasureForm>): MeasureForm => ({ ...emptyMeasure(NOW), ...change })

describe('levelFromForm', () => {
  it('reads "-0,4" with ± left empty as left-hand end up 0.4°, with 0.51° of an instrument that was not reversed', () => {
    const made = levelFromForm(measure({ value: '-0,4' }), 'lower-axis-elevation', mount, null, 'x', clamping)
    if (made.kind !== 'ready') throw new Error(made.why)
    expect(made.record).toMatchObject({ what: 'lower-axis-elevation', valueDeg: -0.4, utc: '2026-05-02T09:00:00Z' })
    // √(0.1² + 0.1²/12 + 0.5²)
    expect(made.record.sigmaDeg).toBeCloseTo(0.5107, 3)
    expect(made.record).not.toHaveProperty('clamping')
  })
  it('leaves an instrument’s own error out of ± in a clamping, whose constant the solution finds', () => {
    const form = measure({ value: '0.4', sits: 'new' })
    const made = levelFromForm(form, 'lower-axis-elevation', mount, null, 'x', clamping)
    if (made.kind !== 'ready') throw new Error(made.why)
    expect(made.record.clamping).toBe('fresh')
    expect(made.record.sigmaDeg).toBeLessThan(0.15)
    const same = levelFromForm({ ...form, sits: 'same' }, 'lower-axis-elevation', mount, null, 'x', clamping)
    expect(same).toMatchObject({ record: { clamping: 'last' } })
  })
  it('makes a reversal of 1.1 and -179.7: 0.7°, with what it was made from', () => {
    const form = measure({ how: 'reversal', shows: 'circle', first: '1.1', second: '-179.7' })
    const made = levelFromForm(form, 'lower-axis-elevation', mount, null, 'x', clamping)
    expect(made).toMatchObject({ record: { valueDeg: 0.7, raw: { firstDeg: 1.1, secondDeg: -179.7, biasDeg: 0.4 } } })
  })
  it('refuses a plain end-for-end turn, an empty reading, and a σ that cannot be read', () => {
    const why = (form: Partial<MeasureForm>) =>
      levelFromForm(measure(form), 'lower-axis-elevation', mount, null, 'x', clamping)
    expect(why({ how: 'reversal', shows: 'circle', first: '12.4', second: '-11.8' })).toMatchObject({ why: 'reversal' })
    expect(why({})).toMatchObject({ why: 'value' })
    expect(why({ value: '1', sigma: 'x' })).toMatchObject({ why: 'sigma' })
    expect(why({ value: '1', utc: 'noon' })).toMatchObject({ why: 'time' })
  })
  it('needs the readings where the axes stood', () => {
    const form = measure({ value: '29' })
    expect(levelFromForm(form, 'dish-elevation', mount, null, 'x', clamping)).toMatchObject({ why: 'lower' })
    expect(levelFromForm({ ...form, lower: '30' }, 'dish-elevation', mount, null, 'x', clamping)).toMatchObject({
      why: 'upper',
    })
  })
  it('tells an upper axis by the end that points up: a reversal to -2° is 2°', () => {
    const form = measure({ how: 'reversal', first: '-2', second: '-2', lower: '30' })
    expect(levelFromForm(form, 'upper-axis-elevation', mount, null, 'x', clamping)).toMatchObject({
      record: { valueDeg: 2, lower: 30 },
    })
  })
  it('comes back the same through its own form: what was not touched stays, unknown fields too', () => {
    const forms: [Partial<MeasureForm>, Parameters<typeof levelFromForm>[1]][] = [
      [{ value: '0.4', sigma: '0.2', note: 'n', instrument: 'box', sits: 'new' }, 'lower-axis-elevation'],
      [{ how: 'reversal', first: '1.3', second: '0.9', lower: '30' }, 'upper-axis-elevation'],
      [{ around: [0, 90, 200].map(h => ({ heading: String(h), reading: '0.3' })) }, 'mast-lean'],
    ]
    for (const [form, what] of forms) {
      const made = levelFromForm(measure(form), what, mount, null, 'x', clamping)
      if (made.kind !== 'ready') throw new Error(made.why)
      const old = { ...made.record, utc: '2026-05-02T09:00:00.250Z', later: 7 }
      const again = levelFromForm(formOfLevel(old), what, mount, old, 'x', { fresh: 'f', last: old.clamping ?? null })
      expect(again).toEqual({ kind: 'ready', record: old })
    }
  })
})

describe('markFromForm', () => {
  it('takes a remembered name or a new one, and the end of a visit', () => {
    const form = { ...emptyMark('upper', ['inner stop'], 'end', NOW), reading: '-8' }
    expect(markFromForm(form, mount, null, 'x')).toMatchObject({
      record: { mark: 'inner stop', reading: -8, visit: 'end', axis: 'upper' },
    })
    expect(markFromForm({ ...form, picked: '' }, mount, null, 'x')).toMatchObject({ why: 'mark' })
    expect(markFromForm({ ...form, picked: '', name: ' line ' }, mount, null, 'x')).toMatchObject({
      record: { mark: 'line' },
    })
  })
  it('comes back the same through its own form', () => {
    const old = station().references![0]!
    expect(markFromForm(formOfMark(old), mount, old, old.id)).toEqual({ kind: 'ready', record: old })
  })
})

describe('changeFromForm', () => {
  const heading = { id: 'heading', feed: null } as const
  const before = [
    { id: 'heading', label: '', value: 1.2, sigma: 0.3, unit: 'deg', prior: { value: 0, sigma: 180 }, state: 'open' },
  ] as const
  const form = {
    ...emptyChange(['lower-axis'], '2026-05-01T08:00:00Z', NOW),
    moved: { heading: { by: '2', sigma: '0.4' } },
  }

  it('expects 3.2 ± 0.5° of a heading of 1.2 ± 0.3° turned by 2 ± 0.4°', () => {
    expect(expectedOf(form, heading, before)).toEqual({ id: 'heading', value: 3.2, sigma: 0.5 })
    expect(changeFromForm(form, [heading], before, null, 'x')).toMatchObject({
      record: {
        utc: '2026-05-01T08:00:00Z',
        what: ['lower-axis'],
        expect: [{ id: 'heading', value: 3.2, sigma: 0.5 }],
      },
    })
  })
  it('waits for the amount to be whole and for where it stood before', () => {
    expect(changeFromForm(form, [heading], null, null, 'x')).toMatchObject({ why: 'moved' })
    const half = { ...form, moved: { heading: { by: '2', sigma: '' } } }
    expect(changeFromForm(half, [heading], before, null, 'x')).toMatchObject({ why: 'moved' })
    expect(changeFromForm({ ...form, what: [] }, [], null, null, 'x')).toMatchObject({ why: 'what' })
  })
  it('comes back the same through its own form', () => {
    const old = station().changes![0]!
    expect(changeFromForm(formOfChange(old), [], null, old, old.id)).toEqual({ kind: 'ready', record: old })
  })
})

describe('words of levels', () => {
  it('say 1° toward the south-west as 17.5 mm per metre, and 1.7 mm under every 10 cm of that side', () => {
    const d = -Math.SQRT1_2
    expect(leanWords(d, d, 0.1)).toMatch(/^leans 1\.00\s±\s0\.10° toward the south-west, 17\.5\smm per metre$/)
    // tan 1° · 100 mm = 1.746 mm
    expect(shimWords(d, d, 0.1)).toMatch(/south-west side of the foot: 1\.7\smm for every 10\scm/)
    expect(leanWords(0.1, 0, 0.1)).toMatch(/^plumb within its uncertainty/)
  })
  it('name the end that is up, and the winds all round', () => {
    const level = { id: 'x', utc: utcText(NOW), what: 'lower-axis-elevation', valueDeg: -0.4, sigmaDeg: 0.2 } as const
    expect(levelWords(mount, level)).toMatch(/^Tilt axis: left-hand end up\s0\.4/)
    expect(levelWords({ ...mount, kind: 'x-y' }, level)).toMatch(/^X axis: rear end up/)
    expect([0, 44, 46, 181, 359, -90].map(windOf)).toEqual([
      'north',
      'north-east',
      'north-east',
      'south',
      'north',
      'west',
    ])
  })
})

describe('words of changes', () => {
  it('tell what stays and what starts anew, each group once', () => {
    const unknown = (id: string, feed: string | null = null) => ({ id: id as 'heading', feed })
    const words = carryWords(station(), {
      stays: [unknown('lowerZero'), unknown('collimation'), unknown('sag'), unknown('feedUp', 'b')],
      anew: [unknown('heading'), unknown('level')],
      sightingsNeeded: 5,
    })
    expect(words.stays).toBe('Stays: tilt zero, dish on its mount and feed \u20689 cm horn\u2069.')
    expect(words.anew).toBe('Starts again: heading and level.')
    expect(words.needed).toMatch(/^5\ssightings after it will be needed\.$/)
  })
  it('speak of a counter only where there is one', () => {
    expect(changeWord(station(), 'lower-zero')).toBe('The tilt counter was reset or slipped')
    const degrees = {
      ...station(),
      mount: { ...mount, lower: { ...mount.lower, readout: { type: 'degrees' as const } } },
    }
    expect(changeWord(degrees, 'lower-zero')).toBe('The tilt scale was reset or slipped')
  })
})
