/** Steps for tests that ask what becomes of a step, not what it was. */
import type { Step } from '../../src/state/steps.ts'

export const did = (sentence: string): Step => ({ kind: 'earlier', place: 'book', subject: { sentence } })
