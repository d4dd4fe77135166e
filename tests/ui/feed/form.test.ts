import { describe, expect, it } from 'vitest'
import { fieldsOfMove, type MovedForm, readMoved } from '../../../src/ui/feed/form.ts'

const form = (more: Partial<MovedForm> = {}): MovedForm => ({
  across: '12',
  side: 'left',
  along: '0',
  way: '',
  utc: '2026-06-10 10:00:30',
  note: '',
  ...more,
})

describe('readMoved', () => {
  it('reads how far and which way, as seen from behind', () => {
    expect(readMoved(form(), 'mm')).toEqual({ kind: 'ready', rightMm: -12, upMm: 0, utc: '2026-06-10T10:00:30.000Z' })
    expect(readMoved(form({ side: 'right', along: '3,5', way: 'down' }), 'mm')).toMatchObject({
      rightMm: 12,
      upMm: -3.5,
    })
    expect(readMoved(form({ across: '0.5', along: '1', way: 'up' }), 'in')).toMatchObject({
      rightMm: -12.7,
      upMm: 25.4,
    })
  })
  it('says the one thing that is missing', () => {
    expect(readMoved(form({ along: '' }), 'mm')).toEqual({ kind: 'not-yet', why: 'amount' })
    expect(readMoved(form({ across: '0' }), 'mm')).toEqual({ kind: 'not-yet', why: 'amount' })
    expect(readMoved(form({ side: '' }), 'mm')).toEqual({ kind: 'not-yet', why: 'side' })
    expect(readMoved(form({ along: '4' }), 'mm')).toEqual({ kind: 'not-yet', why: 'way' })
    expect(readMoved(form({ utc: 'noon' }), 'mm')).toEqual({ kind: 'not-yet', why: 'time' })
  })
  it('takes what was advised, to the millimetre or the hundredth of an inch, and reads it again', () => {
    const move = { rightMm: -11.7, upMm: 0 }
    expect(fieldsOfMove(move, 'mm')).toEqual({ across: '12', side: 'left', along: '0', way: '' })
    expect(readMoved({ ...form(), ...fieldsOfMove({ rightMm: 8.2, upMm: -5.1 }, 'mm') }, 'mm')).toMatchObject({
      rightMm: 8,
      upMm: -5,
    })
    expect(fieldsOfMove(move, 'in').across).toBe('0.46')
  })
})
