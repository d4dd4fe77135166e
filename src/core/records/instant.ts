/**
 * Instants as text: UTC, ISO 8601, `YYYY-MM-DDTHH:MM:SS[.fff]Z`. Stricter than Date.parse, which takes local times and
 * (in some engines) 30 February.
 */

const INSTANT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d{1,30})?Z$/

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
  if (!INSTANT.test(text)) return false
  const month = Number(text.slice(5, 7))
  const day = Number(text.slice(8, 10))
  return (
    month >= 1 &&
    month <= 12 &&
    day >= 1 &&
    day <= daysIn(Number(text.slice(0, 4)), month) &&
    Number(text.slice(11, 13)) < 24 &&
    Number(text.slice(14, 16)) < 60 &&
    Number(text.slice(17, 19)) < 60
  )
}
