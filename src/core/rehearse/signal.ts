/** The time signal of a rehearsal: a pip at every full second of the true time, a long one at the full minute. */
import { MINUTE_MS } from '../units.ts'

const PIP_MS = 100
const LONG_MS = 500
const SECOND_MS = 1000

/** Whether a pip sounds at an instant. @param trueMs  Unix ms */
export function pipAt(trueMs: number): 'short' | 'long' | null {
  const since = (period: number): number => ((trueMs % period) + period) % period
  if (since(MINUTE_MS) < LONG_MS) return 'long'
  return since(SECOND_MS) < PIP_MS ? 'short' : null
}
