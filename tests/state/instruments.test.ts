import 'fake-indexeddb/auto'
import { describe, expect, it } from 'vitest'
import type { StationRecord } from '../../src/core/records/fieldbook.ts'
import { freshPhone, instrumentName, instrumentsAt, phoneInstrument, thisPhone } from '../../src/state/instruments.ts'
import { smallBook } from '../helpers/smallbook.ts'

const station = (instruments: unknown[]): StationRecord => ({ ...smallBook().stations[0], instruments })

describe('instruments of a station', () => {
  it('are this phone by an edge, and not another phone by the same edge', () => {
    const mine = freshPhone('long', 'Phone, long edge', 'p')
    expect(mine.phone).toBe(thisPhone())
    const theirs = { ...mine, id: 'q', phone: 'another' }
    expect(phoneInstrument(station([theirs, mine]), 'long')).toEqual(mine)
    expect(phoneInstrument(station([theirs]), 'long')).toBeNull()
    expect(phoneInstrument(station([mine]), 'short')).toBeNull()
    expect(instrumentsAt(station([theirs, mine]))).toHaveLength(2)
  })
  it('give a level its instrument’s name; a name as typed stays as it is, also beside records of no known type', () => {
    const s = station([{ id: 'in-1', name: 'box level' }, { id: 'odd' }, null, 7])
    expect(instrumentName(s, 'in-1')).toBe('box level')
    expect(instrumentName(s, 'odd')).toBe('odd')
    expect(instrumentName(s, 'spirit level')).toBe('spirit level')
  })
})
