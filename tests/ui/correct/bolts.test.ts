import { describe, expect, it } from 'vitest'
import type { Bolt, BoltDo } from '../../../src/core/export/bolts.ts'
import type { AdjusterRecord } from '../../../src/core/records/adjusters.ts'
import { type AdjusterForm, adjustable, adjusterForm, adjusterOf } from '../../../src/ui/correct/boltsform.ts'
import { amountWords, turnsWords } from '../../../src/ui/correct/boltswords.ts'
import { otherWay } from '../../../src/ui/kit/otherway.ts'
import { weir } from '../../helpers/stations.ts'

const SCREW: AdjusterRecord = {
  id: 'w',
  name: 'West screw',
  turns: 'level',
  by: 'screw',
  armMm: 420,
  pitchMm: 1.75,
  plus: 'clockwise, from below',
  note: '19 mm spanner',
}
const whole: AdjusterForm = adjusterForm(SCREW, 'mm')

describe('the words of a move', () => {
  it('counts turns and twelfths', () => {
    expect(turnsWords({ whole: 2, twelfths: 3 })).toBe('2 turns and 3 twelfths')
    expect(turnsWords({ whole: 1, twelfths: 0 })).toBe('1 turn')
    expect(turnsWords({ whole: 0, twelfths: 1 })).toBe('1 twelfth of a turn')
    expect(turnsWords({ whole: 1, twelfths: 1 })).toBe('1 turn and 1 twelfth')
  })

  it('turns the other way round where the word has an opposite, and says so where not', () => {
    expect(otherWay('clockwise, from below')).toBe('anticlockwise, from below')
    expect(otherWay('Anticlockwise')).toBe('clockwise')
    expect(otherWay('in')).toBe('out')
    expect(otherWay('inward')).toContain('the other way than')
    expect(otherWay('toward the hedge')).toContain('toward the hedge')
    expect(otherWay('')).toContain('the other way than')
  })

  it('goes the way of plus where the number must grow, and against it where not', () => {
    const does = (larger: boolean): Extract<BoltDo, { kind: 'turn' }> => ({
      kind: 'turn',
      mm: 5.8,
      sigmaMm: 0.3,
      turns: { whole: 3, twelfths: 4, sigmaTwelfths: 2.1 },
      larger,
      left: { value: 0, sigma: 0.05 },
    })
    const bolt: Bolt = { adjuster: SCREW, off: null, does: does(true) }
    expect(amountWords(bolt, does(true), 'mm')).toContain('3 turns and 4 twelfths ')
    expect(amountWords(bolt, does(true), 'mm')).not.toContain('anticlockwise')
    expect(amountWords(bolt, does(false), 'mm')).toBe('3 turns and 4 twelfths anticlockwise, from below, ± 2 twelfths')
  })
})

describe('the form of an adjuster', () => {
  it('comes back as it was, what another program keeps in it and inches included', () => {
    const old = { ...SCREW, colour: 'red' } as AdjusterRecord
    for (const unit of ['mm', 'in'] as const)
      expect(adjusterOf(adjusterForm(old, unit), unit, old, 'w')).toEqual({ kind: 'ready', record: old })
  })

  it('reads inches, and a thread only of a screw', () => {
    const read = adjusterOf({ ...whole, arm: '10', pitch: '0.0625' }, 'in', null, 'n')
    expect(read).toMatchObject({ kind: 'ready', record: { id: 'n', armMm: 254, pitchMm: 1.5875 } })
    const shim = adjusterOf({ ...whole, by: 'shim' }, 'mm', SCREW, 'w')
    expect(shim.kind === 'ready' && 'pitchMm' in shim.record).toBe(false)
  })

  it('says what is missing, one thing at a time', () => {
    const why = (change: Partial<AdjusterForm>) => {
      const read = adjusterOf({ ...whole, ...change }, 'mm', null, 'n')
      return read.kind === 'ready' ? null : read.why
    }
    expect(why({ name: ' ' })).toBe('name')
    expect(why({ turns: '' })).toBe('turns')
    expect(why({ by: '' })).toBe('by')
    expect(why({ arm: '0' })).toBe('arm')
    expect(why({ pitch: 'M10' })).toBe('pitch')
    expect(why({ pitch: '' })).toBeNull()
  })

  it('offers what a spanner reaches at this mount, in degrees, and keeps what the file has', () => {
    const { mount } = weir('ha-dec', 50)
    expect(adjustable(mount, '')).toEqual(['poleEast', 'poleUp', 'lowerZero', 'upperZero', 'squareness', 'collimation'])
    expect(adjustable(mount, 'feedUp')).toContain('feedUp')
  })
})
