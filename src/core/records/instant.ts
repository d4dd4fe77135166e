/**
 * Instants as text: UTC, ISO 8601, `YYYY-MM-DDTHH:MM:SS[.fff]Z`. Stricter than Date.parse, which takes local times and
 * (in some engines) 30 February, and wider by the leap second, which it does not know.
 */
import type { UtcMs } from '../units.ts'

const INSTANT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d{1,30})?Z$/
const LEAP = /T23:59:60(?=[.Z])/

const daysIn = (year: number, month: number): number =>
  month === 2
    ? year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0)
      ? 29
      : 28
    : month === 4 || month === 6 || month === 9 || month === 11
      ? 30
      : 31

/**
 * True for a real instant: the day exists in its month, hours to 23, minutes and seconds to 59, `Z` at the end. A leap
 * second, 23:59:60, is one on the last day of a month: nowhere else can there be one (RFC 3339, 5.7).
 */
export function isInstant(text: string): boolean {
  if (!INSTANT.test(text)) return false
  const month = Number(text.slice(5, 7))
  const day = Number(text.slice(8, 10))
  if (month < 1 || month > 12 || day < 1) return false
  const lastDay = daysIn(Number(text.slice(0, 4)), month)
  return (
    day <= lastDay &&
    Number(text.slice(11, 13)) < 24 &&
    Number(text.slice(14, 16)) < 60 &&
    (Number(text.slice(17, 19)) < 60 || (day === lastDay && LEAP.test(text)))
  )
}

/**
 * The instant of a text that passed `isInstant`; NaN for anything else that is no date. Milliseconds since 1970 have no
 * place for a leap second: it is the second that follows, as in POSIX time. Use it in place of Date.parse on records.
 */
export const instantMs = (text: string): UtcMs =>
  LEAP.test(text) ? Date.parse(text.replace(LEAP, 'T23:59:59')) + 1000 : Date.parse(text)

/** The instant as text, to the millisecond; whole seconds without a fraction. */
export const utcFromMs = (ms: UtcMs): string => new Date(Math.round(ms)).toISOString().replace('.000Z', 'Z')

/** The same of a checked record. @throws RangeError  no instant: a mistake in our code */
export const msFromUtc = (utc: string): UtcMs => {
  const ms = instantMs(utc)
  if (!Number.isFinite(ms)) throw new RangeError(`msFromUtc: expected an ISO 8601 time with Z, got ${utc}`)
  return ms
}
