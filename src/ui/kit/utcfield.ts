/**
 * From what a person types to an instant, UTC: "2026-04-27 20:14:05", or a time alone on a day that the field names.
 * Pure, no clock. Day and month by numbers alone ("03/04/2026") are refused: countries read them differently.
 */
import { instantMs, utcFromMs } from '../../core/records/instant.ts'
import { DAY_MS, type UtcMs } from '../../core/units.ts'
import { utcFull } from './format.ts'

export type ParsedUtc =
  | { kind: 'value'; utcMs: UtcMs; echo: string }
  | { kind: 'empty' }
  | { kind: 'not-a-time'; why: string }

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec']
const refuse = (why: string): ParsedUtc => ({ kind: 'not-a-time', why })

/** @param dayMs any instant of the day that a time without a date belongs to; without it the date must be typed */
export function parseUtc(text: string, dayMs?: UtcMs): ParsedUtc {
  const plain = text
    .replace(/[\u2212\u2010-\u2015]/g, '-')
    .replace(/\s+/g, ' ')
    .trim()
    .replace(/ ?(UTC|Z)$/i, '')
  if (plain === '') return text.trim() === '' ? { kind: 'empty' } : refuse('The time itself is missing.')
  if (/[+-]\d\d:?\d\d$/.test(plain) && /\d[T ]\d/.test(plain))
    return refuse('Write the time in UTC, without an offset.')
  if (/^\d{1,2}(\/\d{1,2}\/\d{2,4}|\.\d{1,2}\.(\d{4}|\d{2} ))/.test(plain))
    return refuse('Day and month can be read both ways. Write 2026-04-27, or 27 Apr 2026.')
  if (/[ap]\.?m\.?$/i.test(plain)) return refuse('Write the hour from 0 to 23, in UTC.')
  const m =
    /^(?:(?:(\d{4})-(\d{1,2})-(\d{1,2})|(\d{1,2}) ([a-z]{3,9})\.? (\d{4}))[T, ]+)?(\d{1,2})[:.](\d{2})(?:[:.](\d{2}(?:[.,]\d{1,3})?))?$/i.exec(
      plain,
    )
  if (!m) return refuse('Write date and time like 2026-04-27 20:14:05.')
  const named = m[5] === undefined ? -1 : MONTHS.indexOf(m[5].slice(0, 3).toLowerCase())
  if (m[5] !== undefined && named < 0) return refuse('This month is not known. Write 27 Apr 2026.')
  const hour = Number(m[7])
  const minute = Number(m[8])
  const second = m[9] === undefined ? 0 : Number(m[9].replace(',', '.'))
  if (hour > 23) return refuse('Hours stop at 23.')
  if (minute > 59) return refuse('Minutes stop at 59.')
  if (second >= 60) return refuse('Seconds stop below 60.')
  const clockMs = Math.round(1000 * (second + 60 * (minute + 60 * hour)))
  if (m[1] === undefined && m[4] === undefined) {
    if (dayMs === undefined) return refuse('The date is missing. Write 2026-04-27 20:14:05.')
    const utcMs = Math.floor(dayMs / DAY_MS) * DAY_MS + clockMs
    return { kind: 'value', utcMs, echo: `= ${utcFull(utcMs)}` }
  }
  const year = Number(m[1] ?? m[6])
  const month = m[1] === undefined ? named : Number(m[2]) - 1
  const day = Number(m[3] ?? m[4])
  if (month < 0 || month > 11) return refuse('Months go from 1 to 12.')
  if (year < 1000) return refuse('Write the year with four digits.')
  const dateMs = Date.UTC(year, month, day)
  if (day < 1 || new Date(dateMs).getUTCDate() !== day) return refuse('This month does not have that day.')
  return { kind: 'value', utcMs: dateMs + clockMs, echo: `= ${utcFull(dateMs + clockMs)}` }
}

/** "2026-04-27 20:14:05", as the field wants it. */
export const utcText = (ms: number): string => new Date(ms).toISOString().slice(0, 19).replace('T', ' ')

/** The instant typed as it is kept; what was not touched keeps its fraction of a second. */
export function utcOf(text: string, old: { utc: string } | null): string | null {
  if (old && text === utcText(instantMs(old.utc))) return old.utc
  const parsed = parseUtc(text)
  return parsed.kind === 'value' ? utcFromMs(parsed.utcMs) : null
}

/** "2026-04-27 20:14:05.12" */
export const typedUtc = (utc: string): string =>
  utc
    .replace('T', ' ')
    .replace(/(\.\d*?)0*Z$/, '$1')
    .replace(/[.Z]$/, '')
