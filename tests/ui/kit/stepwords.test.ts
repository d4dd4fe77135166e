import { describe, expect, it } from 'vitest'
import { isStep, isStepOf, type UndoStep } from '../../../src/state/steps.ts'
import { undoStepWords } from '../../../src/ui/kit/stepwords.ts'
import { unmarked } from '../../helpers/plain.ts'

const utcMs = Date.parse('2026-05-01T20:14:05Z')
const steps = {
  sighting: {
    kind: 'make-sighting',
    place: 'sight',
    subject: { id: 'a', utcMs, target: { type: 'source', name: 'Cygnus A' } },
  },
  use: { kind: 'use', place: 'sight', subject: { id: 'a', utcMs, use: 'never' } },
  level: { kind: 'signal-level', place: 'scan', subject: { scan: 'd', level: -3.5, scale: 'dB' } },
  side: { kind: 'one-side', place: 'scan', subject: { scan: 'x', axis: 'upper', reading: 210, unit: 'counts' } },
  made: { kind: 'sighting-from-scan', place: 'scan', subject: { scan: 'x', what: 'cross' } },
  change: { kind: 'keep-record', place: 'mount', subject: { record: 'change', id: 'c' } },
  aside: { kind: 'dismiss', place: 'correct', subject: { suspect: 'counter-step' } },
  station: { kind: 'make-station', place: 'book', subject: { station: 's', name: 'Top\u202emeadow' } },
} as const satisfies Record<string, UndoStep>

describe('undoStepWords', () => {
  it('says each step from its kind and subject alone, with the digits that were typed', () => {
    expect(Object.values(steps).map(step => unmarked(undoStepWords(step)))).toEqual([
      'sighting of Cygnus A, 20:14:05',
      'leave out, 20:14:05',
      'signal −3.5 dB',
      'one side at 210 counts',
      'sighting from a cross scan',
      'note a change',
      'dismiss: a counter slipped',
      'make Top\ufffdmeadow',
    ])
  })

  it('has words for what only another version knows, or keeps otherwise', () => {
    const others = [
      { kind: 'unknown', place: 'book', subject: {} },
      { kind: 'polish', place: 'dish', subject: {} },
      ...Object.values(steps)
        .filter(step => step !== steps.made)
        .map(step => ({ ...step, subject: {} })),
    ] as unknown as UndoStep[]
    expect(others.slice(0, 3).map(undoStepWords)).toEqual(Array(3).fill('what another version kept'))
    for (const other of others)
      expect([other.kind, undoStepWords(other)]).toEqual([other.kind, expect.not.stringMatching(/undefined|NaN/)])
    const later = { kind: 'dismiss', place: 'correct', subject: { suspect: 'wet-cable' } } as unknown as UndoStep
    expect(undoStepWords(later)).toBe('what another version kept')
  })
})

describe('steps', () => {
  it('belong to the place where they were done; the sighting that a scan has made to both', () => {
    expect(isStepOf(steps.level, 'scan')).toBe(true)
    expect(isStepOf(steps.level, 'sight')).toBe(false)
    expect(isStepOf(steps.made, 'sight') && isStepOf(steps.made, 'scan')).toBe(true)
  })

  it('are told apart by their kind, not by a sentence', () => {
    expect(isStep(steps.level, 'signal-level')).toBe(true)
    expect(isStep(steps.use, 'signal-level')).toBe(false)
    expect(isStep(null, 'signal-level')).toBe(false)
  })
})
