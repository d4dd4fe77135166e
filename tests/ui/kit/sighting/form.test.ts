import { describe, expect, it } from 'vitest'
import type { SightingRecord, StationRecord } from '../../../../src/core/records/fieldbook.ts'
import type { HalfSighting } from '../../../../src/core/records/halfsightings.ts'
import { typedNumber } from '../../../../src/ui/kit/numberfield.ts'
import {
  emptySightForm,
  filledOf,
  formOfHalf,
  formOfSighting,
  readSightForm,
  type SightForm,
  shadowOf,
} from '../../../../src/ui/kit/sighting/form.ts'
import { typedUtc } from '../../../../src/ui/kit/utcfield.ts'
import { smallBook } from '../../../helpers/smallbook.ts'

const station = (): StationRecord => smallBook().stations[0]
const oneFeed = (): StationRecord => ({ ...station(), feeds: station().feeds.slice(0, 1) })
const { mount } = station()
const half: HalfSighting = {
  id: 'h',
  utc: '2026-04-27T20:14:05.120Z',
  time: 'stamped',
  target: { type: 'moon' },
  method: 'signal-peak',
  dialled: { lower: 31.24, upper: 410 },
}

describe('a half in the form', () => {
  it('begins with what was to be dialled, as the screen showed it, and is whole as soon as that is what the dish shows', () => {
    const form = formOfHalf(half, 'mm', mount)
    expect(form).toMatchObject({ lower: '31', upper: '410', method: 'signal-peak', target: 'moon' })
    expect(filledOf(half, mount)).toEqual({ lower: '31', upper: '410' })
    expect(readSightForm(form, oneFeed(), { id: 'n', utc: half.utc }, form)).toMatchObject({
      kind: 'whole',
      record: { lower: 31, upper: 410 },
    })
    const degrees = { ...mount, lower: { ...mount.lower, readout: { type: 'degrees' as const } } }
    expect(formOfHalf({ ...half, dialled: { lower: 30.98, upper: 410.4 } }, 'mm', degrees)).toMatchObject({
      lower: '31.0',
      upper: '410',
    })
  })

  it('is empty where nothing could be dialled, and shows readings that came instead', () => {
    const { dialled: _, ...bare } = half
    expect(formOfHalf(bare, 'mm', mount)).toMatchObject({ lower: '', upper: '' })
    expect(readSightForm(formOfHalf(bare, 'mm', mount), oneFeed(), { id: 'n', utc: half.utc }, null)).toEqual({
      kind: 'not-yet',
      missing: ['lower', 'upper'],
    })
    expect(formOfHalf({ ...half, lower: 30, upper: 400 }, 'mm', mount)).toMatchObject({ lower: '30', upper: '400' })
  })

  it('becomes a sighting with the stamp to the millisecond once both readings are typed', () => {
    const before = formOfHalf(half, 'mm', mount)
    const read = readSightForm(
      { ...before, lower: '31,2', upper: '410' },
      oneFeed(),
      { id: 'n', utc: half.utc },
      before,
    )
    expect(read).toEqual({
      kind: 'whole',
      record: {
        id: 'n',
        utc: '2026-04-27T20:14:05.120Z',
        target: { type: 'moon' },
        lower: 31.2,
        upper: 410,
        method: 'signal-peak',
      },
    })
  })

  it('takes the time that a second person called instead, when it is typed', () => {
    const before = formOfHalf(half, 'mm', mount)
    const form = { ...before, lower: '1', upper: '2', utc: '2026-04-27 20:14:09' }
    expect(readSightForm(form, oneFeed(), { id: 'n', utc: half.utc }, before)).toMatchObject({
      record: { utc: '2026-04-27T20:14:09.000Z' },
    })
  })

  it('asks which feed was mounted where there are several, but not for the tube', () => {
    const before = formOfHalf(half, 'mm', mount)
    const form = { ...before, lower: '1', upper: '2' }
    expect(readSightForm(form, station(), { id: 'n', utc: half.utc }, before)).toMatchObject({ missing: ['feed'] })
    expect(readSightForm({ ...form, method: 'optical' }, station(), { id: 'n', utc: half.utc }, before).kind).toBe(
      'whole',
    )
  })
})

describe('the shadow', () => {
  const form = (more: Partial<SightForm>): SightForm => ({
    ...emptySightForm('mm'),
    shadowSide: 'right',
    shadowAcross: '22',
    shadowHeight: 'above',
    shadowAlong: '11',
    ...more,
  })

  it('is kept as seen from behind: from in front left and right are swapped, up stays up', () => {
    expect(shadowOf(form({ view: 'behind' }))).toEqual({ rightMm: 22, upMm: 11 })
    expect(shadowOf(form({ view: 'front' }))).toEqual({ rightMm: -22, upMm: 11 })
    expect(shadowOf(form({ view: 'front', shadowSide: 'left', shadowHeight: 'below' }))).toEqual({
      rightMm: 22,
      upMm: -11,
    })
  })

  it('is not known before the person says where they stand, or to which side', () => {
    expect(shadowOf(form({ view: null }))).toBeNull()
    expect(shadowOf(form({ view: 'behind', shadowSide: null }))).toBeNull()
    expect(shadowOf(form({ view: 'behind', shadowAlong: '' }))).toBeNull()
  })

  it('needs no side for nothing, and nothing has no sign', () => {
    const on = shadowOf(form({ view: 'front', shadowAcross: '0', shadowAlong: '0', shadowSide: null }))!
    expect(on).toEqual({ rightMm: 0, upMm: 0 })
    expect(Object.is(on.rightMm, 0)).toBe(true)
  })

  it('may be typed in inches: 1 inch is 25.4 mm', () => {
    expect(shadowOf(form({ unit: 'in', view: 'behind', shadowAcross: '1', shadowAlong: '0.5' }))).toEqual({
      rightMm: 25.4,
      upMm: 12.7,
    })
  })
})

describe('an old record in the form', () => {
  const all: SightingRecord[] = station().sightings
  const known = all.filter(s => s.method !== 'drift-scan')

  it.each(all.map(s => [s.id, s] as const))('%s comes back to the last digit when nothing is touched', (_, s) => {
    for (const unit of ['mm', 'in'] as const) {
      const before = formOfSighting(s, unit, mount)
      const { note, ...rest } = s
      expect(readSightForm(before, station(), s, before)).toEqual({ kind: 'whole', record: note ? s : rest })
    }
  })

  it('keeps what the program does not know through an edit', () => {
    const s = { ...known[0]!, humidity: 'dew' } as SightingRecord
    const before = formOfSighting(s, 'mm', mount)
    expect(readSightForm({ ...before, lower: '31.3' }, station(), s, before)).toMatchObject({
      record: { lower: 31.3, humidity: 'dew' },
    })
  })

  it("lets the scan's covariance go when it is called another method, or a σ is typedNumber", () => {
    const s = all.find(x => x.method === 'drift-scan')!
    const before = formOfSighting(s, 'mm', mount)
    const read = readSightForm({ ...before, method: 'signal-peak' }, station(), s, before)
    expect(read.kind === 'whole' && [read.record.cov, read.record.scan]).toEqual([undefined, undefined])
    const sure = readSightForm({ ...before, sigma: '0.3' }, station(), s, before)
    expect(sure.kind === 'whole' && [sure.record.cov, sure.record.scan, sure.record.sigmaDeg]).toEqual([
      undefined,
      'sc-1',
      0.3,
    ])
  })

  it('asks again for the method when the Sun of a shadow turns out to be the Moon', () => {
    const s = all.find(x => x.method === 'shadow')!
    const before = formOfSighting(s, 'mm', mount)
    expect(readSightForm({ ...before, target: 'moon' }, station(), s, before)).toMatchObject({ missing: ['method'] })
  })
})

describe('typed', () => {
  it('writes a number as a person does, also a tiny one', () => {
    expect([typedNumber(-0.1), typedNumber(410), typedNumber(1e-7), typedNumber(undefined)]).toEqual([
      '−0.1',
      '410',
      '0.0000001',
      '',
    ])
  })

  it('writes a time without what is not there', () => {
    expect([
      typedUtc('2026-04-27T20:14:05.120Z'),
      typedUtc('2026-04-27T20:14:50Z'),
      typedUtc('2026-04-27T20:14:50.000Z'),
    ]).toEqual(['2026-04-27 20:14:05.12', '2026-04-27 20:14:50', '2026-04-27 20:14:50'])
  })
})
