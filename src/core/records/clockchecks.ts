/**
 * Clock checks: what the phone's clock was found to be off by. Entries of the list without an `offsetS` are of another
 * program: they are kept and neither read nor held to these rules. Seconds; + where the phone is ahead.
 */
import type { InferOutput } from 'valibot'
import { DAY_MS } from '../units.ts'
import type { SightingRecord, StationRecord } from './fieldbook.ts'
import { instantMs } from './instant.ts'
import type { ClockCheckSchema } from './schemas/clockcheck.ts'
import { LAST_VISIT_WITHIN_MS } from './visit.ts'

export type ClockCheckRecord = InferOutput<typeof ClockCheckSchema>

/** Of this program; what holds an `offsetS` was held to the rules at the intake. */
const isClockCheck = (x: unknown): x is ClockCheckRecord =>
  typeof x === 'object' && x !== null && (x as { offsetS?: unknown }).offsetS !== undefined

/** The checks of a station that this program knows how to use, newest first by the phone's clock. */
export const clockChecksOf = (station: Pick<StationRecord, 'clockChecks'> | null): ClockCheckRecord[] =>
  (station?.clockChecks ?? []).filter(isClockCheck).sort((a, b) => instantMs(b.utc) - instantMs(a.utc))

/** A check counts for what follows this long: a phone sets its clock by the network when it likes. */
const CHECK_LASTS_MS = DAY_MS

/** The check that counts for a time by the phone's clock; null when there is no recent one. */
export function checkAt(station: Pick<StationRecord, 'clockChecks'>, utc: string): ClockCheckRecord | null {
  const ms = instantMs(utc)
  return clockChecksOf(station).find(c => instantMs(c.utc) <= ms && instantMs(c.utc) > ms - CHECK_LASTS_MS) ?? null
}

/** The true instant when the phone's clock says `ms`, by the check that counts then; Unix ms. Without one, the clock's own. */
export const trueMsAt = (station: Pick<StationRecord, 'clockChecks'>, ms: number): number =>
  ms - 1000 * (checkAt(station, new Date(ms).toISOString())?.offsetS ?? 0)

/** To a hundredth of a second: far finer than a tap. */
export const offsetOf = (check: ClockCheckRecord): number => Math.round(check.offsetS * 100) / 100

/**
 * Sightings timed by the phone in the visit before a check, as they read with its offset; those that have it
 * already are left out. Times written down by hand may come from another clock and are not touched.
 */
export function sightingsBackward(station: StationRecord, check: ClockCheckRecord): SightingRecord[] {
  const ms = instantMs(check.utc)
  const clockOffsetS = offsetOf(check)
  return station.sightings
    .filter(s => {
      const at = instantMs(s.utc)
      return s.stamp !== undefined && at <= ms && at > ms - LAST_VISIT_WITHIN_MS && s.clockOffsetS !== clockOffsetS
    })
    .map(s => ({ ...s, clockOffsetS }))
}
