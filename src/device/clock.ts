/**
 * The phone's clocks. `utcMs` is the system clock, which can step; `monotonicMs` only goes forward, but stands still
 * while the phone sleeps. Both are kept with a sighting; the raw time is never corrected here.
 */

export interface Stamp {
  utcMs: number
  monotonicMs: number
}

/** Now. Call it first in the tap, before anything else. */
export const stamp = (): Stamp => ({ utcMs: Date.now(), monotonicMs: performance.now() })

/** A clock that drifts does so by milliseconds a day; what jumps farther than this was set. ms */
export const STEP_MS = 250

/**
 * By how much the system clock was set between two stamps, ms, + forward; null when it was not.
 * Only for two stamps of one page that stayed visible in between: a sleeping phone looks like a step.
 */
export function stepBetween(before: Stamp, after: Stamp): number | null {
  const step = after.utcMs - before.utcMs - (after.monotonicMs - before.monotonicMs)
  return Math.abs(step) > STEP_MS ? step : null
}
