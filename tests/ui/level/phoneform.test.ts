import { describe, expect, it } from 'vitest'
import { REVERSED_BIAS } from '../../../src/core/level/sigma.ts'
import type { LevelRecord, MountRecord, StationRecord, Taken } from '../../../src/core/records/fieldbook.ts'
import type { InstrumentRecord } from '../../../src/core/records/instruments.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { degFromRad, radFromDeg } from '../../../src/core/units.ts'
import { emptyMeasure, leanOf, type MeasureForm, usualSigmaDeg } from '../../../src/ui/level/form.ts'
import { hand, handedText, oneField, takeHanded, turnedFields } from '../../../src/ui/level/handed.ts'
import {
  biasFromHand,
  biasFromPhone,
  NO_OWN,
  type OwnError,
  ownError,
  phoneReversal,
  readingFrom,
  takenFrom,
} from '../../../src/ui/level/phoneform.ts'
import { formOfLevel, levelFromForm } from '../../../src/ui/level/record.ts'
import { chance } from '../../helpers/random.ts'
import { readingOf, type SimPhone, type Up } from '../../helpers/simphone.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const NOW = Date.parse('2026-05-02T09:00:00.250Z')
const station = (): StationRecord => smallBook().stations[0]
const mount: MountRecord = station().mount
const clamping = { fresh: 'fresh', last: 'last' }
const lying = (deg: number): Up => [0, Math.sin(radFromDeg(deg)), Math.cos(radFromDeg(deg))]
/** What a phone takes of an attitude; without tremor and seating, so that only its error and its rounding are in it. */
const takenOf = (phone: SimPhone, up: Up, atMs = NOW): Taken =>
  takenFrom({ ...readingOf(phone, up, chance(1)), rateHz: 58.73 }, atMs)
const off: SimPhone = { source: 'orientation', bias: [-0.015, 0.012, 0.02], tremorDeg: 0 }
const right: SimPhone = { ...off, bias: [0, 0, 0] }
const form = (change: Partial<MeasureForm>): MeasureForm => ({ ...emptyMeasure(NOW), ...change })
const made = (
  f: MeasureForm,
  own: OwnError = NO_OWN,
  what: LevelRecord['what'] = 'lower-axis-elevation',
  old: LevelRecord | null = null,
) => {
  const r = levelFromForm(f, what, mount, old, 'x', clamping, own)
  if (r.kind !== 'ready') throw new Error(r.why)
  return r.record as LevelRecord & { valueDeg: number; raw: NonNullable<typeof r.record.raw> }
}

describe('a level by one reading of the phone', () => {
  const taken = takenOf(right, lying(3.3))
  it('keeps source, step, rate and up with it, and says ± 1.15° while nothing is known of the sensor', () => {
    const level = made(form(oneField(taken, 'top', 'lower-axis-elevation')))
    expect(level.valueDeg).toBeCloseTo(3.3, 1)
    expect(level.sigmaDeg).toBeCloseTo(1.15, 1)
    expect(level.raw).toMatchObject({ end: 'top', taken: [{ source: 'orientation', stepDeg: 0.1, rateHz: 58.7 }] })
    expect(level.utc).toBe('2026-05-02T09:00:00Z')
    const book = smallBook()
    expect(checkFieldBook({ ...book, stations: [{ ...book.stations[0], levels: [level] }] })).toEqual([])
  })
  it('comes back as the same form, and from there as the same record', () => {
    const level = made(form({ ...oneField(taken, 'bottom', 'lower-axis-elevation'), instrument: 'x' }))
    expect(level.valueDeg).toBeCloseTo(-3.3, 1)
    expect(made(formOfLevel(level), NO_OWN, level.what, level)).toEqual(level)
  })
  it('is the hand’s own as soon as it is typed over', () => {
    const level = made(
      form({ ...oneField(taken, 'top', 'lower-axis-elevation'), value: '4', taken: emptyMeasure(NOW).taken }),
    )
    expect(level.valueDeg).toBe(4)
    expect(level.raw).toBeUndefined()
  })
  it('is never below nothing for an end that points up', () => {
    expect(handedText(takenOf(right, lying(-20)), 'top', 'upper-axis-elevation')).toBe('20')
    const f = form({ ...oneField(takenOf(right, lying(-20)), 'top', 'upper-axis-elevation'), lower: '30' })
    expect(made(f, NO_OWN, 'upper-axis-elevation').valueDeg).toBeCloseTo(20, 1)
  })
  it('in a clamping has the constant left to the solution: surer near the first tilt, less so 45° away', () => {
    const sigma = (deg: number, clampedAtDeg: number | null) =>
      usualSigmaDeg(
        { ...form(oneField(takenOf(right, lying(deg)), 'top', 'dish-elevation')), sits: 'same' },
        { ...NO_OWN, clampedAtDeg },
      )
    expect(sigma(10, null)).toBeLessThan(0.15)
    expect(sigma(10, 10)).toBeLessThan(0.15)
    expect(sigma(55, 10)).toBeGreaterThan(0.8)
  })
})

describe('a reversal by the phone', () => {
  const [first, second] = [takenOf(off, lying(12)), takenOf(off, lying(12).map(x => -x) as unknown as Up, NOW + 20_000)]
  it('takes 20 mg out: 12.0° of 13 something, within 0.1°, and keeps both up vectors', () => {
    expect(degFromRad(Math.asin(first.up[1]))).not.toBeCloseTo(12, 0.2)
    const level = made(form(turnedFields(first, second, 'top')))
    expect(Math.abs(level.valueDeg - 12)).toBeLessThan(0.1)
    expect(level.sigmaDeg).toBeLessThan(0.15)
    expect(level.raw.taken).toHaveLength(2)
    expect(level.utc).toBe('2026-05-02T09:00:20Z')
    expect(made(formOfLevel(level), NO_OWN, level.what, level)).toEqual(level)
  })
  it('leaves the phone an error that a later reading is freed of, by either end', () => {
    const r = phoneReversal(first, second, 'top')
    if (r.kind !== 'reversed') throw new Error(r.kind)
    const bias = biasFromPhone(r, first, second, 'top', null)
    expect(bias).toMatchObject({ about: 'x', utc: second.utc })
    const instrument: InstrumentRecord = { id: 'p', name: 'Phone', type: 'phone', edge: 'long', phone: 'mine', bias }
    for (const end of ['top', 'bottom'] as const) {
      const taken = takenOf(off, lying(14), NOW + 3_600_000)
      const own = ownError(station(), instrument, 'p', {
        nowMs: NOW + 3_600_000,
        clamping: null,
        phone: 'mine',
        taken,
        end,
      })
      expect(own.use.kind).toBe('valid')
      const level = made(form(oneField(taken, end, 'lower-axis-elevation')), own)
      expect(Math.abs(level.valueDeg - (end === 'top' ? 14 : -14))).toBeLessThan(0.15)
      expect(level.sigmaDeg).toBeLessThan(0.25)
      expect(level).toMatchObject({ instrument: 'p', raw: { biasDeg: bias.biasDeg } })
      expect(Math.abs(level.raw.shownDeg! - level.valueDeg)).toBeGreaterThan(0.3)
    }
  })
  it('is refused by name after a plain turn end for end', () => {
    const wrong = takenOf(off, [-0, -Math.sin(radFromDeg(12)), Math.cos(radFromDeg(12))])
    const r = levelFromForm(form(turnedFields(first, wrong, 'top')), 'lower-axis-elevation', mount, null, 'x', clamping)
    expect(r).toEqual({ kind: 'not-yet', why: 'reversal' })
    expect(phoneReversal(first, wrong, 'top').kind).toBe('plain-end-swap')
  })
})

describe('a mast’s lean by the phone', () => {
  it('finds 1.2° toward 225° behind 20 mg on each axis, the back against the steel', () => {
    const lean = radFromDeg(1.2)
    const around = [0, 90, 180, 270].map(heading => {
      const out = lean * Math.cos(radFromDeg(heading - 225))
      const side = lean * Math.sin(radFromDeg(heading - 225))
      const up: Up = [-side, Math.cos(out), -Math.sin(out)]
      const taken = takenOf(off, up)
      return { heading: String(heading), reading: handedText(taken, 'back', 'mast-lean'), taken }
    })
    const r = leanOf(form({ around }))
    if (r?.kind !== 'lean') throw new Error(r?.kind)
    expect(Math.abs(degFromRad(r.lean) - 1.2)).toBeLessThan(0.1)
    expect(Math.abs(degFromRad(r.toward) - 225)).toBeLessThan(5)
    // The screen's own error, which the turn round the mast takes out.
    expect(Math.abs(degFromRad(r.bias))).toBeGreaterThan(0.5)
    expect(r.sigma).toBeGreaterThan(REVERSED_BIAS)
    const level = levelFromForm(form({ around, end: 'back' }), 'mast-lean', mount, null, 'x', clamping)
    expect(level).toMatchObject({ record: { raw: { around: [{ taken: { source: 'orientation' } }, {}, {}, {}] } } })
  })
})

describe('an inclinometer with an error of its own', () => {
  const bias = biasFromHand(
    { kind: 'reversed', angle: 0.1, bias: radFromDeg(0.4), proof: 'none', left: 0.001 },
    0.12,
    '2026-05-02T08:00:00Z',
    null,
  )
  const box: InstrumentRecord = { id: 'b', name: 'box level', type: 'inclinometer', stepDeg: 0.05, bias }
  it('has it taken off what is typed, and told', () => {
    const own = ownError(station(), box, 'b', { nowMs: NOW, clamping: null, phone: 'mine', taken: null, end: 'top' })
    const level = made(form({ value: '1.5', instrumentId: 'b' }), own)
    expect(level).toMatchObject({ valueDeg: 1.1, instrument: 'b', raw: { shownDeg: 1.5, biasDeg: 0.4 } })
    // √(0.1² + 0.05²/12 + 0.12²)
    expect(level.sigmaDeg).toBeCloseTo(0.157, 3)
    expect(formOfLevel(level, ['b'])).toMatchObject({ value: '1.5', instrumentId: 'b', instrument: '' })
  })
  it('keeps it when it is a day old or clamped anew', () => {
    for (const at of [
      { nowMs: NOW + 2 * 86_400_000, clamping: null },
      { nowMs: NOW, clamping: 'c' },
    ]) {
      const own = ownError(station(), box, 'b', { ...at, phone: 'mine', taken: null, end: 'top' })
      expect(made(form({ value: '1.5', instrumentId: 'b' }), own)).toMatchObject({ valueDeg: 1.5 })
    }
  })
})

describe('hand', () => {
  it('gives what was taken to the next form once, and to no mast', () => {
    const taken = takenOf(right, lying(5))
    hand({ kind: 'one', taken, end: 'top' })
    expect(takeHanded('dish-elevation')).toMatchObject({ value: '5', end: 'top', how: 'one' })
    expect(takeHanded('dish-elevation')).toEqual({})
    hand({ kind: 'one', taken, end: 'top' })
    expect(takeHanded('mast-lean')).toEqual({})
  })
})

describe('takenFrom', () => {
  it('comes back as the reading that it was', () => {
    const taken = takenOf(off, lying(20))
    const again = readingFrom(taken)
    expect(degFromRad(again.step)).toBeCloseTo(0.1, 6)
    expect(again.up[1]).toBeCloseTo(taken.up[1], 7)
  })
})
