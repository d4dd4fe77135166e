import { describe, expect, it } from 'vitest'
import { type InstrumentRecord, instrumentsOf } from '../../../src/core/records/instruments.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const phone: InstrumentRecord = {
  id: 'p-long',
  name: 'Phone, long edge',
  type: 'phone',
  edge: 'long',
  phone: 'abc',
  bias: { utc: '2026-05-01T10:00:00Z', biasDeg: 0.4, sigmaDeg: 0.11, atDeg: 12, about: 'x' },
}
const faultsOf = (...instruments: unknown[]) => {
  const book = smallBook()
  return checkFieldBook({ ...book, stations: [{ ...book.stations[0], instruments }] })
}

describe('instruments in a field book', () => {
  it('are a phone by an edge, an inclinometer, or anything else that some program wrote', () => {
    expect(
      faultsOf(phone, { id: 'i', name: 'box level', type: 'inclinometer', shows: 'circle', stepDeg: 0.05 }),
    ).toEqual([])
    expect(faultsOf({ id: 'in-1', name: 'box level' }, { type: 'theodolite', bias: 'none' }, 7, null)).toEqual([])
  })
  it('are refused by path where a known one breaks a rule', () => {
    expect(faultsOf({ ...phone, edge: 'diagonal' })).toMatchObject([{ path: 'stations[0].instruments[0].edge' }])
    expect(faultsOf({ ...phone, bias: { ...phone.bias, sigmaDeg: 0 } })).toMatchObject([
      { path: 'stations[0].instruments[0].bias.sigmaDeg' },
    ])
    expect(faultsOf({ ...phone, bias: { ...phone.bias, utc: '31 May' } })).toMatchObject([
      { path: 'stations[0].instruments[0].bias.utc' },
    ])
    expect(faultsOf({ id: 'x', type: 'inclinometer' })).toMatchObject([{ path: 'stations[0].instruments[0].name' }])
  })
  it('are unique by id within their station', () => {
    expect(faultsOf(phone, phone)).toMatchObject([{ path: 'stations[0].instruments[1].id' }])
  })
})

describe('instrumentsOf', () => {
  it('takes those that can be used and leaves the others alone', () => {
    expect(instrumentsOf([{ id: 'in-1', name: 'box level' }, phone, 7, null, { type: 'phone' }])).toEqual([phone])
    expect(instrumentsOf(undefined)).toEqual([])
  })
})
