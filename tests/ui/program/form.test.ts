/** The form of a comparison: what is missing, the question it makes, and how places come, change and go. */
import { describe, expect, it } from 'vitest'
import {
  emptyPlace,
  emptyProgram,
  opened,
  programWish,
  readPlace,
  removed,
  type TypedPlace,
  taken,
  typedSigma,
} from '../../../src/ui/program/form.ts'
import { gravelPit } from '../../helpers/stations.ts'

const station = gravelPit()
const whole: TypedPlace = { ...emptyPlace(), utc: '2026-05-01 21:30:00', az: '118.2', el: '31,4' }

describe('a place as typed', () => {
  it('names what is missing first, in the order of the form', () => {
    const lacks = (change: Partial<TypedPlace>) => {
      const read = readPlace({ ...whole, ...change }, station)
      return 'lacks' in read ? read.lacks : null
    }
    expect(lacks({})).toBeNull()
    expect(lacks({ target: 'source' })).toBe('source')
    expect(lacks({ utc: '21:30', az: '' })).toBe('utc')
    expect(lacks({ az: 'north', el: '' })).toBe('az')
    expect(lacks({ az: '361' })).toBe('az')
    expect(lacks({ el: '' })).toBe('el')
    // Its readings: both or none.
    expect(lacks({ lower: '118' })).toBe('upper')
    expect(lacks({ upper: '31' })).toBe('lower')
  })

  it('is read as the core takes it, a comma for a point, readings where both are there', () => {
    expect(readPlace({ ...whole, lower: '118', upper: '31' }, station)).toEqual({
      shown: {
        target: { type: 'moon' },
        utc: '2026-05-01T21:30:00Z',
        azDeg: 118.2,
        elDeg: 31.4,
        lower: 118,
        upper: 31,
      },
    })
  })
})

describe('the question', () => {
  it('has every place with its own target; none without a place', () => {
    const wish = programWish([whole, { ...whole, target: 'sun' }], station)!
    expect(wish.shown.map(s => s.target)).toEqual([{ type: 'moon' }, { type: 'sun' }])
    expect(programWish([], station)).toBeNull()
  })

  it('trusts whole degrees less, and degrees with minutes as much as decimals', () => {
    expect(typedSigma([{ ...whole, az: '118', el: '31' }])).toBe(0.3)
    expect(typedSigma([whole])).toBe(0.06)
    expect(typedSigma([{ ...whole, az: '118 12', el: '31' }])).toBe(0.06)
    // A zero that was left out does not make the others coarse.
    expect(typedSigma([{ ...whole, az: '118', el: '31' }, whole])).toBe(0.06)
  })
})

describe('places', () => {
  it('come, are changed and go; the target stays for the next', () => {
    let form = taken({ ...emptyProgram(), typed: { ...whole, target: 'sun' } })
    expect([form.places.length, form.isOpen, form.typed.target, form.typed.az]).toEqual([1, false, 'sun', ''])
    form = opened(form, 0)
    expect([form.typed.az, form.editing]).toEqual(['118.2', 0])
    form = taken({ ...form, typed: { ...form.typed, az: '119' } })
    expect([form.places.length, form.places[0]!.az, form.editing]).toEqual([1, '119', -1])
    form = removed(opened(form, 0))
    expect([form.places.length, form.isOpen]).toEqual([0, true])
  })
})
