/**
 * Instants as text: UTC, ISO 8601, `YYYY-MM-DDTHH:MM:SS[.fff]Z`. Stricter than Date.parse, which takes local times and
 * (in some engines) 30 February.
 */

const INSTANT = /^(\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d):(\d\d)(\.\d{1,30})?Z$/

const daysIn = (year: number, month: number): number =>
  month === 2
    ? year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0)
      ? 29
      : 28
    : month === 4 || month === 6 || month === 9 || month === 11
      ? 30
      : 31

/**
 * True for a real instant: the day exists in its month, hours to 23, minutes and seconds to 59 (a leap second has no
 * place on the time scale of the phone, so :60 is refused), `Z` at the end.
 */
export function isInstant(text: string): boolean {
  const m = INSTANT.exec(text)
  if (m === null) return false
  const [year, month, day, hour, minute, second] = m.slice(1, 7).map(Number) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ]
  return month >= 1 && month <= 12 && day >= 1 && day <= daysIn(year, month) && hour < 24 && minute < 60 && second < 60
}
