import { describe, expect, it } from 'vitest'
import { alignmentOf, lastAct, lastCarried } from '../../../src/core/records/alignment.ts'
import { checkRecord } from '../../../src/core/records/checkrecord.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const day = (d: number): string => `2026-05-0${d}T12:00:00Z`
const left = { id: '1', utc: day(1), what: 'left-out', step: 'search' } as const
const again = { ...left, id: '2', utc: day(3), note: 'no receiver' } as const
const carried = {
  id: '3',
  utc: day(2),
  what: 'carried',
  feed: 'a',
  numbers: [{ id: 'heading', value: 1.5 }],
} as const
const faults = (record: unknown) => checkRecord('alignment', record, smallBook().stations[0]).map(fault => fault.path)

describe('what the person adds to the alignment', () => {
  it('is legal as it is written; a step left out or set names the step, numbers carried over need none', () => {
    for (const record of [left, again, carried, { ...left, what: 'set', step: 'heading' }])
      expect(faults(record)).toEqual([])
    const { step: _, ...nameless } = left
    expect(faults(nameless)).toEqual(['step'])
    expect(faults({ ...nameless, what: 'set' })).toEqual(['step'])
    expect(faults({ ...left, step: 'polish' })).toEqual(['step'])
    expect(faults({ ...carried, numbers: [{ id: 'heading' }] })).toEqual(['numbers[0].value'])
  })

  it('leaves entries of another program alone', () => {
    const other = { id: '4', utc: day(2), what: 'polished' }
    expect(faults(other)).toEqual([])
    expect(alignmentOf([other, again, carried, left, 5]).map(r => r.id)).toEqual(['1', '3', '2'])
  })

  it('finds the last act of a step, and the last time that a feed’s numbers were carried over, up to a time', () => {
    const list = alignmentOf([left, again, carried])
    const at = (d: number) => Date.parse(day(d))
    expect(lastAct(list, 'left-out', 'search', at(4))?.id).toBe('2')
    expect(lastAct(list, 'left-out', 'search', at(2))?.id).toBe('1')
    expect(lastAct(list, 'left-out', 'mast', at(4))).toBeNull()
    expect(lastAct(list, 'set', 'search', at(4))).toBeNull()
    expect(lastCarried(list, 'a')?.id).toBe('3')
    expect(lastCarried(list, 'a', at(1))).toBeNull()
    expect(lastCarried(list, 'b')).toBeNull()
  })
})
