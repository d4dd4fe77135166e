/**
 * Numbers and names as screens show them: degrees, millimetres or inches, UTC. No clock; of the machine only its zone, for
 * local times. Where no style is given, an angle is shown as the person chose; text for software or a file asks for
 * "decimal".
 * Decimal point, true minus (U+2212), no-break space before a unit. σ decides the digits: one significant digit of σ,
 * two when it begins with 1 (the rounding error then stays under a quarter of σ); the value gets the same decimals.
 */
import type { Senses } from '../../core/mount/parameters.ts'
import { type Deg, MINUTE_MS, MM_PER_INCH, type Mm, type UtcMs } from '../../core/units.ts'
import { angles, units } from '../../state/settings.ts'

export const MINUS = '\u2212'
export const NBSP = '\u00a0'
/** Shown where there is no number. */
export const NONE = '\u2013'

/** Screen words for lengths: millimetres, or inches. */
export type LengthUnit = 'mm' | 'in'
/** 47.5033° or 47° 30.20′ or 47° 30′ 12″. */
export type AngleStyle = 'decimal' | 'minutes' | 'seconds'

/** As the person chose. A component that reads it is drawn again when the choice changes. */
export const angleStyle = (): AngleStyle => angles.value
export const lengthUnit = (): LengthUnit => (units.value === 'inch' ? 'in' : 'mm')

/** Groups of three with a no-break space from 10 000 on: "384 210". */
const grouped = (digits: string): string => {
  const [whole = '', fraction] = digits.split('.')
  const spaced = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, NBSP) : whole
  return fraction === undefined ? spaced : `${spaced}.${fraction}`
}

/** Decimals of a number as it was entered, four at most: a tenth of a thousandth is finer than anything here is read. */
export const decimalsOf = (value: number): number => Math.min(4, (String(value).split('.')[1] ?? '').length)

/**
 * A number with fixed decimals; negative decimals round to tens, hundreds. Never "−0": what rounds to zero has no
 * sign. Not finite: "–".
 */
export function fixed(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return NONE
  const unit = 10 ** -decimals
  const text =
    decimals >= 0 ? Math.abs(value).toFixed(Math.min(decimals, 12)) : String(Math.round(Math.abs(value) / unit) * unit)
  const sign = value < 0 && Number(text) !== 0 ? MINUS : ''
  // toFixed turns to 1e+21 beyond; nothing on a screen is that large, and then it is shown as it is.
  return sign + (/e/.test(text) ? text : grouped(text))
}

/** The decimals that σ supports, -6 to 9; `otherwise` where σ is 0, negative or not finite. */
export function decimalsFor(sigma: number | null | undefined, otherwise: number): number {
  if (sigma === null || sigma === undefined || !Number.isFinite(sigma) || sigma <= 0) return otherwise
  const power = Math.floor(Math.log10(sigma) + 1e-12)
  // Below 1.95 it is shown as 1.0 to 1.9 and keeps two digits; from there it rounds to 2.
  const digits = sigma / 10 ** power < 1.95 ? 2 : 1
  const decimals = digits - 1 - power
  // Units are not rounded away for σ below 100: a counter's 412 ± 34 keeps the digits that the counter shows.
  return Math.max(-6, Math.min(9, sigma < 100 ? Math.max(0, decimals) : decimals))
}

interface Measured {
  value: string
  /** Without the ±; null when σ is not known. */
  sigma: string | null
  unit: string
  /** "12 ± 2 mm" */
  text: string
}

const glued = (number: string, unit: string): string =>
  unit === '' ? number : /^[°′″]/.test(unit) ? number + unit : number + NBSP + unit

/** Minutes of arc with fixed decimals, whole degrees before them where there are any: "18′", "1° 18′". */
function inMinutes(valueDeg: Deg, decimals: number): string {
  if (!Number.isFinite(valueDeg)) return NONE
  const text = degrees(valueDeg, decimals + 2, 'minutes')
  return text.replace(/^(\u2212?)0°\u00a00?(\d)/, '$1$2')
}

/**
 * Value with σ, digits as σ supports: measured(12.3, 2.1, 'mm').text is "12 ± 2 mm". `otherwise`: decimals without σ.
 * Degrees with minutes where the person wants them: "1° 18′ ± 36′"; whole degrees where σ supports no more.
 */
export function measured(
  value: number,
  sigma: number | null | undefined,
  unit: string,
  otherwise = 1,
  style: AngleStyle = unit === '°' ? angleStyle() : 'decimal',
): Measured {
  if (unit === '°' && style !== 'decimal' && decimalsFor(sigma, otherwise) > 0) {
    const minutes = Math.max(0, decimalsFor(typeof sigma === 'number' ? 60 * sigma : sigma, otherwise - 2))
    const shown = inMinutes(value, minutes)
    const spread = typeof sigma === 'number' && Number.isFinite(sigma) && sigma > 0 ? inMinutes(sigma, minutes) : null
    const text = spread === null || shown === NONE ? shown : `${shown}${NBSP}±${NBSP}${spread}`
    return { value: shown, sigma: spread, unit: '', text }
  }
  const decimals = decimalsFor(sigma, otherwise)
  const shown = fixed(value, decimals)
  const known = typeof sigma === 'number' && Number.isFinite(sigma) && sigma > 0
  const spread = known ? fixed(sigma, decimals) : null
  const body = spread === null || shown === NONE ? shown : `${shown}${NBSP}±${NBSP}${spread}`
  return { value: shown, sigma: spread, unit, text: glued(body, unit) }
}

export const LEFT_RIGHT: Senses = ['left', 'right']
export const DOWN_UP: Senses = ['down', 'up']
export const WEST_EAST: Senses = ['west', 'east']

/** "left 12 ± 2 mm"; a value that rounds to nothing has no direction: "0 ± 2 mm". */
export function toward(value: number, senses: Senses, unit: string, sigma?: number | null, otherwise = 1): string {
  const m = measured(Math.abs(value), sigma, unit, otherwise)
  return /[1-9]/.test(m.value) ? `${value < 0 ? senses[0] : senses[1]}${NBSP}${m.text}` : m.text
}

/** Millimetres as the person wants lengths: measuredLength(12, 2, 'in').text is "0.47 ± 0.08 in". */
export const measuredLength = (mm: Mm, sigmaMm: Mm | null | undefined, unit: LengthUnit): Measured =>
  unit === 'mm'
    ? measured(mm, sigmaMm, 'mm', 0)
    : measured(mm / MM_PER_INCH, typeof sigmaMm === 'number' ? sigmaMm / MM_PER_INCH : sigmaMm, 'in', 2)

/**
 * Degrees in the chosen style. `decimals` are those of the decimal style; minutes get two fewer, seconds four fewer (none
 * below zero), about the same fineness. 59.996′ carries into the next degree.
 */
export function degrees(valueDeg: Deg, decimals: number, style: AngleStyle = angleStyle()): string {
  if (!Number.isFinite(valueDeg)) return NONE
  if (style === 'decimal') return `${fixed(valueDeg, decimals)}°`
  const places = Math.max(0, decimals - (style === 'minutes' ? 2 : 4))
  const perDegree = (style === 'minutes' ? 60 : 3600) * 10 ** places
  const units = Math.round(Math.abs(valueDeg) * perDegree)
  const whole = Math.floor(units / perDegree)
  const rest = (units % perDegree) / 10 ** places
  const sign = valueDeg < 0 && units > 0 ? MINUS : ''
  const two = (n: number, d: number) => n.toFixed(d).padStart(d > 0 ? d + 3 : 2, '0')
  if (style === 'minutes') return `${sign}${whole}°${NBSP}${two(rest, places)}′`
  const minutes = Math.floor(rest / 60)
  return `${sign}${whole}°${NBSP}${two(minutes, 0)}′${NBSP}${two(rest - 60 * minutes, places)}″`
}

/** "47.1000° N" */
export const latitude = (deg: Deg, decimals = 4, style: AngleStyle = angleStyle()): string =>
  `${degrees(Math.abs(deg), decimals, style)}${NBSP}${deg < 0 ? 'S' : 'N'}`
/** "9.3000° E" */
export const longitude = (deg: Deg, decimals = 4, style: AngleStyle = angleStyle()): string =>
  `${degrees(Math.abs(deg), decimals, style)}${NBSP}${deg < 0 ? 'W' : 'E'}`

/**
 * Decimals that a value needs beside a limit: one or two more where rounding would put it on the limit or across, so that
 * 0.52 is not "0.5, over 0.5".
 */
function decimalsBeside(value: number, limit: number | undefined, decimals: number): number {
  if (limit === undefined || !Number.isFinite(value)) return decimals
  const rounded = (x: number, d: number) => Number(x.toFixed(d))
  let d = decimals
  while (d < decimals + 3 && value > limit !== rounded(value, d) > rounded(limit, d)) d++
  return d
}

/** "0.4": one decimal below 10, none above, more where the side of the limit needs them. @param limitDb  what it is held to */
export const decibelDigits = (db: number, limitDb?: number): string =>
  fixed(db, decimalsBeside(db, limitDb, Math.abs(db) < 9.95 ? 1 : 0))

/** What a person allows, with the digits that they gave, one at least: "0.45 dB". */
export const allowedDecibels = (db: number): string => `${fixed(db, Math.max(1, decimalsOf(db)))}${NBSP}dB`

/** "0.4 dB"; "under 0.1 dB" rather than 0.0. */
export const decibels = (db: number, limitDb?: number): string =>
  !Number.isFinite(db)
    ? NONE
    : db > 0 && db < 0.05 && !(limitDb !== undefined && db > limitDb)
      ? `under${NBSP}0.1${NBSP}dB`
      : `${decibelDigits(db, limitDb)}${NBSP}dB`

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']
const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat']
/** What a Date can hold. */
const LAST_MS = 8.64e15
const isInstant = (ms: UtcMs): boolean => Number.isFinite(ms) && Math.abs(ms) <= LAST_MS

/** "20:14:05", or "20:14" by the minute that is running (never rounded up into a minute that has not come). */
export const utcTime = (ms: UtcMs, fineness: 'second' | 'minute' = 'second'): string =>
  isInstant(ms) ? new Date(ms).toISOString().slice(-13, fineness === 'second' ? -5 : -8) : NONE

/** "27 Apr 2026" */
export function utcDate(ms: UtcMs): string {
  if (!isInstant(ms)) return NONE
  const d = new Date(ms)
  return `${d.getUTCDate()}${NBSP}${MONTHS[d.getUTCMonth()]}${NBSP}${d.getUTCFullYear()}`
}

/** "Mon 27 Apr 2026, 20:14:05 UTC" */
export const utcFull = (ms: UtcMs): string =>
  isInstant(ms) ? `${DAYS[new Date(ms).getUTCDay()]} ${utcDate(ms)}, ${utcTime(ms)}${NBSP}UTC` : NONE

/** An error's size: two decimals below 1°, one below 10°, none above. */
export const roughDegrees = (deg: Deg): string => degrees(deg, deg < 0.995 ? 2 : deg < 9.95 ? 1 : 0)

/** Local minus UTC at an instant, as the phone knows it. */
const localOffset = (ms: UtcMs): number => (isInstant(ms) ? -new Date(ms).getTimezoneOffset() : 0)

/**
 * "22:14 here" beside a UTC time, with the day where it is another one there; nothing where local time is UTC.
 *
 * @param offsetMinutes  local minus UTC
 */
export function localTime(ms: UtcMs, offsetMinutes = localOffset(ms)): string {
  if (!isInstant(ms) || !Number.isFinite(offsetMinutes) || offsetMinutes === 0) return ''
  const there = ms + MINUTE_MS * offsetMinutes
  const day = utcDate(there) === utcDate(ms) ? '' : ` on${NBSP}${DAYS[new Date(there).getUTCDay()]}`
  return `${utcTime(there, 'minute')}${NBSP}here${day}`
}

/** "20:14 UTC (22:14 here)" */
export function utcAndLocal(ms: UtcMs, fineness: 'second' | 'minute' = 'minute', offsetMinutes?: number): string {
  const local = localTime(ms, offsetMinutes)
  return `${utcTime(ms, fineness)}${NBSP}UTC${local && ` (${local})`}`
}

/** "2 h 14 min", "45 s", "3 d 4 h"; the size only. Two units at most, the lower one dropped when it is 0. */
export function duration(ms: number): string {
  if (!Number.isFinite(ms)) return NONE
  const s = Math.round(Math.abs(ms) / 1000)
  const pair = (a: number, au: string, b: number, bu: string) =>
    b === 0 ? `${a}${NBSP}${au}` : `${a}${NBSP}${au}${NBSP}${b}${NBSP}${bu}`
  if (s < 60) return `${s}${NBSP}s`
  if (s < 600) return pair(Math.floor(s / 60), 'min', s % 60, 's')
  const min = Math.round(s / 60)
  if (min < 60) return `${min}${NBSP}min`
  if (min < 24 * 60) return pair(Math.floor(min / 60), 'h', min % 60, 'min')
  const h = Math.round(s / 3600)
  return pair(Math.floor(h / 24), 'd', h % 24, 'h')
}

/** "1 sighting", "17 sightings". */
export const countOf = (n: number, one: string, many = `${one}s`): string =>
  `${fixed(n, 0)}${NBSP}${n === 1 ? one : many}`

/** A receiver's level with the digits that it was read with: "3.2 dB", or a plain number of linear power. */
export function levelText(scale: 'dB' | 'linear', level: number): string {
  const digits = decimalsOf(level)
  return scale === 'dB' ? `${fixed(level, digits)}${NBSP}dB` : fixed(level, digits)
}

// Controls (line ends and tabs too), the invisible line separators, the marks that re-order what follows (embeddings,
// overrides, isolates: they would break out of our own isolate), and invisible tag characters. LRM, RLM, ZWJ, ZWNJ stay.
const UNSEEN = /[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ufff9-\ufffb\u{e0000}-\u{e007f}]/gu

/** The characters of a name with what cannot be seen made visible as U+FFFD: controls, re-ordering marks, lone surrogates. */
export const seenText = (name: string): string =>
  name
    .replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, '\ufffd')
    .replace(UNSEEN, '\ufffd')

/** A name inside a sentence: as `seenText`, and isolated (U+2068 … U+2069) so that its direction does not affect the rest. */
export const safeText = (name: string): string => `\u2068${seenText(name)}\u2069`
