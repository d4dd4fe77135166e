/** Visits to the dish, in time. Two questions with two answers; both common practice, no source. */
import { HOUR_MS } from '../units.ts'

/** One visit or two? Measurements with a longer gap between them are of two: somebody went home, and what nobody saw may have happened. */
export const VISIT_GAP_MS = 8 * HOUR_MS

/**
 * What may still be set right afterwards: a run of a counter that was left open, the times before a clock was compared. Longer than the
 * gap, since whoever has slept until noon still means last night; shorter than a day, so that yesterday's visit at the same hour is not meant.
 */
export const LAST_VISIT_WITHIN_MS = 18 * HOUR_MS
