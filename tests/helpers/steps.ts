/** Steps for tests that ask what becomes of a step, not what it was. */
import type { UndoStep } from '../../src/state/steps.ts'

export const did = (sentence: string): UndoStep => ({ kind: 'earlier', place: 'book', subject: { sentence } })
