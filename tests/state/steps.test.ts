import { describe, expect, it } from 'vitest'
import { isStep, isStepOf, stepFrom, type UndoStep } from '../../src/state/steps.ts'

const utcMs = Date.parse('2026-05-01T20:14:05Z')
const steps = [
  { kind: 'make-sighting', place: 'sight', subject: { id: 'a', utcMs, target: { type: 'source', name: 'Cygnus A' } } },
  { kind: 'join', place: 'sight', subject: { id: 'a', utcMs, stamped: 'b' } },
  { kind: 'signal-level', place: 'scan', subject: { scan: 'd', level: -3.5, scale: 'dB' } },
  { kind: 'one-side', place: 'scan', subject: { scan: 'x', axis: 'upper', reading: 210, unit: 'counts' } },
  { kind: 'dismiss', place: 'correct', subject: { suspect: 'counter-step' } },
  { kind: 'carry-over', place: 'align', subject: { id: 'c', step: 'carry' } },
  { kind: 'change-station', place: 'book', subject: { station: 's', name: 'Top meadow' } },
  { kind: 'rough-heading', place: 'mount', subject: { deg: 187 } },
] as const satisfies readonly UndoStep[]

describe('stepFrom', () => {
  it('gives a step back as it was, with keys that need not be there', () => {
    for (const step of steps) expect(stepFrom(JSON.parse(JSON.stringify(step)))).toEqual(step)
  })

  it('takes what an older version kept for its sentence, and what is no step for an unknown one', () => {
    expect(stepFrom('keep a level')).toEqual({ kind: 'earlier', place: 'book', subject: { sentence: 'keep a level' } })
    for (const x of [undefined, null, 5, [], { kind: 'use' }, { ...steps[0], subject: null }])
      expect(stepFrom(x)).toEqual({ kind: 'unknown', place: 'book', subject: {} })
  })
})

const tap: UndoStep = { kind: 'tap', place: 'scan', subject: { scan: 'sc-1', mark: 'peak', utcMs } }
const made: UndoStep = { kind: 'sighting-from-scan', place: 'scan', subject: { scan: 'sc-1', what: 'drift' } }

describe('isStepOf', () => {
  it('is of the place where it was done, and the sighting that a scan made is of Sight too', () => {
    expect([isStepOf(tap, 'scan'), isStepOf(tap, 'sight')]).toEqual([true, false])
    expect([isStepOf(made, 'scan'), isStepOf(made, 'sight'), isStepOf(made, 'book')]).toEqual([true, true, false])
  })

  it('is of the records that it was done to, and of none that has no id yet', () => {
    expect(isStepOf(tap, 'scan', ['sc-1'])).toBe(true)
    expect(isStepOf(tap, 'scan', ['sc-2'])).toBe(false)
    expect(isStepOf(tap, 'scan', [undefined])).toBe(false)
    expect(isStepOf(tap, 'scan', [])).toBe(false)
  })
})

describe('isStep', () => {
  it('is one of the kinds asked for; no step is none of them', () => {
    expect([isStep(tap, 'gap', 'tap'), isStep(tap, 'gap'), isStep(null, 'tap')]).toEqual([true, false, false])
  })
})
