/** What a visit to the dish is, in time: common practice, no source. */

const HOUR_MS = 3_600_000

/** Measurements with a longer gap between them are of two visits: somebody went home. */
export const VISIT_GAP_MS = 8 * HOUR_MS

/** A visit lasts at most this long: a night at the dish and the morning after. */
export const VISIT_LASTS_MS = 18 * HOUR_MS
