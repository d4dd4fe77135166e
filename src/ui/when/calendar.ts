/**
 * Days and months as the person counts them: from midnight to midnight of this place. A day on which the clock is changed has 23 or
 * 25 hours. Only the machine's time zone is used.
 */
import { DAY_MS, HOUR_MS, MINUTE_MS } from '../../core/units.ts'
import { COMING_DAYS, midnightOf } from '../../state/coming.ts'

export interface Day {
  fromMs: number
  toMs: number
  /** "2026-11-25", as in the address. */
  key: string
  date: number
  /** 0 to 11. */
  month: number
  isSunday: boolean
}

export interface Month {
  year: number
  /** 0 to 11. */
  month: number
}

/** What is asked for: days that follow each other; of a month, or from today on. */
export interface Span {
  days: readonly Day[]
  fromMs: number
  toMs: number
  month: Month | null
}

const two = (n: number): string => String(n).padStart(2, '0')
export const MONTH_NAMES = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const
/** Beyond these years the almanac is not tested. */
export const FIRST_YEAR = 1900
export const LAST_YEAR = 2180

/** The local day of a time, or the one `daysOn` days from it. */
export function dayOf(ms: number, daysOn = 0): Day {
  const fromMs = midnightOf(ms, daysOn)
  const d = new Date(fromMs)
  return {
    fromMs,
    toMs: midnightOf(fromMs, 1),
    key: `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())}`,
    date: d.getDate(),
    month: d.getMonth(),
    isSunday: d.getDay() === 0,
  }
}

/** The day of an address; null where it names none. */
export function dayOfKey(key: string): Day | null {
  const m = /^(\d{4})-(\d{2})-(\d{2})$/.exec(key)
  if (!m) return null
  const [year, month, date] = [Number(m[1]), Number(m[2]) - 1, Number(m[3])]
  if (year < FIRST_YEAR || year > LAST_YEAR) return null
  // Noon is on that day in every zone's reckoning.
  const day = dayOf(new Date(year, month, date, 12).getTime())
  return day.key === key ? day : null
}

const monthFrom = (year: number, month: number): Month | null => {
  const first = new Date(year, month, 1)
  const there = { year: first.getFullYear(), month: first.getMonth() }
  return there.year < FIRST_YEAR || there.year > LAST_YEAR ? null : there
}

export const monthKey = ({ year, month }: Month): string => `${year}-${two(month + 1)}`
export const monthWords = ({ year, month }: Month): string => `${MONTH_NAMES[month]}\u00a0${year}`
export const monthOfDay = (day: Day): Month => ({ year: Number(day.key.slice(0, 4)), month: day.month })

export const monthOfKey = (key: string): Month | null => {
  const m = /^(\d{4})-(\d{2})$/.exec(key)
  return m && Number(m[2]) >= 1 && Number(m[2]) <= 12 ? monthFrom(Number(m[1]), Number(m[2]) - 1) : null
}

/** The month `on` months later; null beyond what the almanac is good for. */
export const monthOn = ({ year, month }: Month, on: number): Month | null => monthFrom(year, month + on)

/** What a person types: "Dec 2026", "December 2026", "2026-12", "12 2026", "12/2026"; null: none of these. */
export function monthOfText(text: string): Month | null {
  const plain = text.trim().toLowerCase()
  const named = /^([a-z]{3,9})\.?[\s,]+(\d{4})$/.exec(plain)
  if (named) {
    const month = MONTH_NAMES.findIndex(name => name.toLowerCase() === named[1]!.slice(0, 3))
    return month < 0 ? null : monthFrom(Number(named[2]), month)
  }
  const m = /^(?:(\d{4})[-/. ](\d{1,2})|(\d{1,2})[-/. ](\d{4}))$/.exec(plain)
  if (!m) return null
  const [year, month] = [Number(m[1] ?? m[4]), Number(m[2] ?? m[3])]
  return month >= 1 && month <= 12 ? monthFrom(year, month - 1) : null
}

const spanOf = (days: readonly Day[], month: Month | null): Span => ({
  days,
  fromMs: days[0]!.fromMs,
  toMs: days.at(-1)!.toMs,
  month,
})

/** Four weeks from the day of an instant. */
export const comingSpan = (nowMs: number): Span =>
  spanOf(
    Array.from({ length: COMING_DAYS }, (_, k) => dayOf(nowMs, k)),
    null,
  )

export function monthSpan(month: Month): Span {
  const first = new Date(month.year, month.month, 1).getTime()
  const count = new Date(month.year, month.month + 1, 0).getDate()
  return spanOf(
    Array.from({ length: count }, (_, k) => dayOf(first, k)),
    month,
  )
}

/** The span as the core takes it; a day before and after, so that a spell across its ends is seen whole, where that is wanted. */
export const spanWish = (span: Pick<Span, 'fromMs' | 'toMs'>): { fromUtc: string; days: number } => ({
  fromUtc: new Date(span.fromMs).toISOString(),
  days: (span.toMs - span.fromMs) / DAY_MS,
})

/** The same date and hour in UTC as it is here when a day or a span begins: for a date that is written without a time. */
export const dateMs = ({ fromMs }: { fromMs: number }): number =>
  fromMs - MINUTE_MS * new Date(fromMs).getTimezoneOffset()

/** Days of this span that have 23 or 25 hours. */
export const changedDays = (span: Span): { day: Day; hours: number }[] =>
  span.days
    .map(day => ({ day, hours: (day.toMs - day.fromMs) / HOUR_MS }))
    .filter(({ hours }) => Math.abs(hours - 24) > 1 / 3600)
