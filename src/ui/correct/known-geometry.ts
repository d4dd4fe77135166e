/**
 * How well each number is known, as bars about zero: half as wide as its ±, the ticks where the tolerance would have it, at one place for all.
 * Filled: known well enough; open: not. Per cent of the bar's length.
 */
import type { ParameterState } from '../../core/records/solution.ts'

export interface KnownBar {
  leftPct: number
  widthPct: number
  /** Wider than there is room for: both ends are open. */
  isBeyond: boolean
  isFilled: boolean
}

/** Where the ticks stand, from the middle. */
export const TICK_PCT = 22
const MOST_PCT = 48
const LEAST_PCT = 1

/** @param sigma, allowed  1 σ as it is and as the tolerance would have it, in one unit; > 0 */
export function knownBar(sigma: number, allowed: number, state: ParameterState): KnownBar {
  const half = (TICK_PCT * sigma) / allowed
  const isBeyond = !(half <= MOST_PCT)
  const shown = isBeyond ? 60 : Math.max(LEAST_PCT, half)
  return { leftPct: 50 - shown, widthPct: 2 * shown, isBeyond, isFilled: state === 'settled' }
}
