/**
 * From what a person types to a number: decimal comma or point, true minus, degrees with minutes and seconds,
 * hemisphere letters, digits of other scripts. Pure. Nothing is guessed: what can be read two ways is refused with a
 * sentence that says what to write instead, and what is read is echoed, an angle as the person wants angles shown.
 */
import type { Range } from '../../core/records/ranges.ts'
import { MM_PER_INCH } from '../../core/units.ts'
import { type AngleStyle, angleStyle, degrees, type LengthUnit, MINUS } from './format.ts'

/**
 * - number: any quantity; 1e3 is a number
 * - count: what a counter shows; "1,234" is refused there, since it may be 1234
 * - angle: degrees, minutes and seconds allowed, no compass letters
 * - latitude, longitude: an angle with N, S or E, W, or a sign
 */
export type NumberForm = 'number' | 'count' | 'angle' | 'latitude' | 'longitude'

export interface NumberKind {
  form: NumberForm
  /** As shown beside the field; typing it too does no harm. Angles have ° of themselves. */
  unit?: string
  /** Inclusive. */
  min?: number
  max?: number
}

/** What a record's number may be (core/records/ranges.ts), as a field takes it. */
export const bounds = ([min, max]: Range): { min: number; max: number } => ({ min, max })

/** The field of a length, as the person writes lengths; in inches the same limits, in digits that can be read. */
export function lengthKind(unit: LengthUnit, [min, max]: Range): NumberKind {
  const limit = (mm: number, digits: number) => (unit === 'mm' ? mm : Number((mm / MM_PER_INCH).toPrecision(digits)))
  return { form: 'number', unit, min: limit(min, min > 0 ? 1 : 4), max: limit(max, 4) }
}

export type ParsedNumber =
  | { kind: 'value'; value: number; echo: string }
  | { kind: 'empty' }
  | { kind: 'not-a-number'; why: string }
  | { kind: 'out-of-range'; value: number; why: string }

const refuse = (why: string): ParsedNumber => ({ kind: 'not-a-number', why })

/** Zeros of the digit rows that phone keyboards offer: Arabic, Persian, Devanagari, Bengali, Thai, full width. */
const ZEROS = [0x660, 0x6f0, 0x966, 0x9e6, 0xe50, 0xff10]

const isAngle = (form: NumberForm): boolean => form === 'angle' || form === 'latitude' || form === 'longitude'

/** One spelling for each sign; no meaning is changed. */
function plainSpelling(text: string): string {
  let out = ''
  for (const c of text) {
    const code = c.codePointAt(0)!
    const zero = ZEROS.find(z => code >= z && code <= z + 9)
    out += zero === undefined ? c : String(code - zero)
  }
  return out
    .replace(/[\u200e\u200f\u061c\u2066-\u2069\u202a-\u202e\ufeff]/g, '')
    .replace(/[\u2212\u2010-\u2015\ufe63\uff0d]/g, '-')
    .replace(/\uff0b/g, '+')
    .replace(/[\u066b\uff0c]/g, ',')
    .replace(/\uff0e/g, '.')
    .replace(/[º˚]/g, '°')
    .replace(/''|′′|’’|[″”“]/g, '"')
    .replace(/[′’‘´`]/g, "'")
    .replace(/\s+/g, ' ')
    .trim()
}

const NUMBER = /^(\d+([.,]\d*)?|[.,]\d+)$/
const value = (digits: string): number => Number(digits.replace(',', '.'))

/** Why a run of characters is not a number; null if it is one. */
function faultOf(digits: string): string | null {
  if (NUMBER.test(digits)) return null
  if (/∞|infinity|nan/i.test(digits)) return 'Infinity is not a number to work with. Write digits.'
  if (/^[.,]$/.test(digits)) return 'There is only a decimal sign so far.'
  if (/^\d{1,3}(([.,']\d{3})+[.,]\d*|([.,'])\d{3}(\3\d{3})+|'\d{3})$/.test(digits))
    return 'This may have a thousands separator in it. Write it without, with one decimal sign: 1234.5 or 1234,5.'
  if (/^[\d.,]*$/.test(digits)) return 'There are two decimal signs. Keep one.'
  if (/[½¼¾/]/.test(digits)) return 'Write the fraction as a decimal: 0.5.'
  return 'This is not a number. Write digits, with one decimal sign if needed.'
}

/** "12° 30.000′" is "12° 30′". */
const withoutZeros = (angle: string): string =>
  angle.replace(/\.(\d*?)0*′$/, (_, digits: string) => (digits === '' ? '′' : `.${digits}′`))

/**
 * An angle as a text to be typed over, in degrees or with minutes as the person wants them; read again it is the same
 * number to its last bit, so a setting changed meanwhile changes nothing.
 */
export function typedAngle(valueDeg: number, style: AngleStyle = angleStyle()): string {
  const size = Math.abs(valueDeg)
  const minus = valueDeg < 0 ? MINUS : ''
  if (style !== 'decimal' && Number.isFinite(size) && size < 1e6) {
    const whole = Math.floor(size)
    for (let decimals = 0; decimals <= 9; decimals++) {
      const minutes = Number((60 * (size - whole)).toFixed(decimals))
      if (minutes < 60 && whole + minutes / 60 === size) return `${minus}${whole}${minutes === 0 ? '' : ` ${minutes}`}`
    }
  }
  const text = String(size)
  return minus + (/e/.test(text) ? size.toFixed(12).replace(/\.?0+$/, '') : text)
}

/** Shortest exact digits; angles to five decimals (a metre on the ground) with zeros dropped. */
const echoOf = (v: number, kind: NumberKind): string => {
  const size = Math.abs(v)
  const minus = v < 0 ? MINUS : ''
  if (!isAngle(kind.form) && kind.unit !== '°') return `= ${minus}${size}${kind.unit ? ` ${kind.unit}` : ''}`
  const angle =
    angleStyle() === 'decimal'
      ? `${isAngle(kind.form) ? Number(size.toFixed(5)) : size}°`
      : withoutZeros(degrees(size, 5, 'minutes'))
  if (kind.form === 'latitude') return `= ${angle} ${v < 0 ? 'south' : 'north'}`
  if (kind.form === 'longitude') return `= ${angle} ${v < 0 ? 'west' : 'east'}`
  return `= ${minus}${angle}`
}

const shown = (v: number): string => String(v).replace('-', MINUS)

/** "0 to 90°", "from 0.15", "up to 9000 m", or nothing. For the line under the field, and the refusal. */
export function rangeWords(kind: NumberKind): string {
  const unit = isAngle(kind.form) || kind.unit === '°' ? '°' : kind.unit ? ` ${kind.unit}` : ''
  const { min, max } = kind
  if (min !== undefined && max !== undefined) return `${shown(min)} to ${shown(max)}${unit}`
  if (min !== undefined) return `from ${shown(min)}${unit}`
  return max !== undefined ? `up to ${shown(max)}${unit}` : ''
}

function ranged(v: number, kind: NumberKind): ParsedNumber {
  if (!Number.isFinite(v)) return refuse('This number is too large to work with.')
  const low = kind.min !== undefined && v < kind.min
  const high = kind.max !== undefined && v > kind.max
  const echo = echoOf(v, kind)
  if (low || high)
    return {
      kind: 'out-of-range',
      value: v,
      why: `${echo.slice(2)} is too ${low ? 'small' : 'large'}. Allowed: ${rangeWords(kind)}.`,
    }
  return { kind: 'value', value: v === 0 ? 0 : v, echo }
}

/** The sign before the rest; a sentence where there is more than one. */
function signOf(text: string): { sign: 1 | -1; signed: boolean; rest: string } | string {
  const m = /^([+-])? ?(.*)$/.exec(text)!
  const rest = m[2]!
  if (m[1] && rest === '') return 'There is only a sign so far.'
  if (/^[+-]/.test(rest)) return 'There are two signs. Keep one.'
  return { sign: m[1] === '-' ? -1 : 1, signed: m[1] !== undefined, rest }
}

function parsePlain(text: string, kind: NumberKind): ParsedNumber {
  const s = signOf(text)
  if (typeof s === 'string') return refuse(s)
  let body = s.rest
  const unit = kind.unit?.trim()
  if (unit && body.toLowerCase().endsWith(unit.toLowerCase()) && /[\d., ]$/.test(body.slice(0, -unit.length)))
    body = body.slice(0, -unit.length).trim()
  const other = /^[\d.,]+ ?(mm|cm|m|km|ft|in|"|'|°|deg|counts?|MHz|GHz|kHz|dB|%|K)$/i.exec(body)
  if (other)
    return refuse(
      unit
        ? `This field is in ${unit}; "${other[1]}" is another unit.`
        : `This field has no unit. Leave out "${other[1]}".`,
    )
  const power = /^([\d.,]+)e([+-]?\d+)$/i.exec(body)
  const digits = power ? power[1]! : body
  if (/^\d{1,3}( \d{3})+([.,]\d*)?$/.test(digits))
    return refuse(`Write it without the gap: ${digits.replace(/ /g, '')}.`)
  if (/^\d[\d.,]*( [\d.,]+)+$/.test(digits)) return refuse('These are two numbers. This field takes one.')
  if (/^[\d.,]+ ?-$/.test(digits)) return refuse('The minus sign goes in front.')
  const fault = faultOf(digits)
  if (fault) return refuse(fault)
  if (kind.form === 'count' && /^[1-9]\d{0,2}[.,]\d{3}$/.test(digits)) {
    const whole = digits.replace(/[.,]/, '')
    return refuse(
      `This may be ${whole}, or ${digits.replace(',', '.')} with a decimal sign. Write ${whole}, or one more digit: ${digits}0.`,
    )
  }
  const v = s.sign * (power ? Number(`${value(digits)}e${power[2]}`) : value(digits))
  if (v === 0 && /[1-9]/.test(digits)) return refuse('This number is too small to work with.')
  return ranged(v, kind)
}

/** The compass letter in front or behind, if any. */
function letterOf(text: string, form: NumberForm): { text: string; letter: string | null } | string {
  const front = /^([a-z])[. ]?(?=[\d.,+-])(.*)$/i.exec(text)
  const back = /^(.*[\d.,°'"dms]) ?([a-z])$/i.exec(text)
  // "47d30m12s" ends in a unit, not in South.
  const backIsUnit = back !== null && /\d ?s$/.test(text) && /m/i.test(text)
  if (front && back && !backIsUnit) return 'There are two letters. Keep one.'
  const letter = (front?.[1] ?? (back && !backIsUnit ? back[2] : null))?.toUpperCase() ?? null
  if (letter === null) return { text, letter }
  const rest = (front ? front[2]! : back![1]!).trim()
  const wanted = form === 'latitude' ? 'NS' : form === 'longitude' ? 'EW' : ''
  if (wanted.includes(letter)) return { text: rest, letter }
  if (form === 'angle') return 'This angle takes a sign, not a compass letter.'
  if (letter === 'O') return 'O is east in some languages and west in others. Write E or W.'
  if ('NSEW'.includes(letter))
    return `${letter} belongs to the ${form === 'latitude' ? 'longitude' : 'latitude'}. Write ${wanted[0]} or ${wanted[1]}.`
  return `Write ${wanted[0]} or ${wanted[1]} for the direction.`
}

function parseAngle(text: string, kind: NumberKind): ParsedNumber {
  const l = letterOf(text, kind.form)
  if (typeof l === 'string') return refuse(l)
  const s = signOf(l.text)
  if (typeof s === 'string') return refuse(s)
  if (l.letter && s.signed) return refuse(`There is a sign and ${l.letter}. Keep one.`)
  if (/^[\d.,]+e[+-]?\d+$/i.test(s.rest)) return refuse('Write the angle in plain digits, without a power of ten.')
  if (/^[\d.,]+ ?-$/.test(s.rest)) return refuse('The minus sign goes in front.')
  if (/[+-]/.test(s.rest)) return refuse('There is a sign in the middle. This field takes one angle.')
  // A comma with a gap behind it divides two numbers ("47.5, 9.3"): two places, not one.
  if (/\d, +\d/.test(s.rest)) return refuse('These are two numbers. This field takes one.')
  const parts = /^([\d.,]+) ?(?:°|deg|d|:)? ?(?:([\d.,]+) ?(?:'|min|m|:)? ?(?:([\d.,]+) ?(?:"|sec|s)?)?)?$/i.exec(
    s.rest,
  )
  if (!parts) return refuse(faultOf(s.rest) ?? 'This is not an angle. Write 47.503, or 47 30.2, or 47 30 12.')
  const [, d, m, sec] = parts
  for (const digits of [d, m, sec]) {
    const fault = digits === undefined ? null : faultOf(digits)
    if (fault) return refuse(fault)
  }
  if ((m !== undefined && /[.,]/.test(d!)) || (sec !== undefined && /[.,]/.test(m!)))
    return refuse('Only the last part may have a decimal sign: 47 30.2, or 47 30 12.5.')
  const minutes = m === undefined ? 0 : value(m)
  const seconds = sec === undefined ? 0 : value(sec)
  if (minutes >= 60) return refuse('Minutes stop below 60.')
  if (seconds >= 60) return refuse('Seconds stop below 60.')
  const size = value(d!) + minutes / 60 + seconds / 3600
  return ranged((l.letter === 'S' || l.letter === 'W' ? -1 : s.sign) * size, kind)
}

/** What the text says. @param kind what the field takes; a range whose min exceeds its max is not checked */
export function parseNumber(text: string, kind: NumberKind): ParsedNumber {
  const plain = plainSpelling(text)
  if (plain === '') return { kind: 'empty' }
  return isAngle(kind.form) ? parseAngle(plain, kind) : parsePlain(plain, kind)
}

/**
 * The text with the other sign, at the person's press: "1.5 W" becomes "1.5 E", "−2" becomes "2", "3" becomes "−3".
 * A latitude or longitude without sign or letter gets S or W.
 */
export function otherSign(text: string, form: NumberForm): string {
  const swap: Record<string, string> = { N: 'S', S: 'N', E: 'W', W: 'E', n: 's', s: 'n', e: 'w', w: 'e' }
  const trimmed = text.trim()
  if (form === 'latitude' || form === 'longitude') {
    const letters = form === 'latitude' ? /[NSns]/ : /[EWew]/
    const end = trimmed.slice(-1)
    if (letters.test(end)) return trimmed.slice(0, -1) + swap[end]
    const first = trimmed.slice(0, 1)
    if (letters.test(first)) return swap[first] + trimmed.slice(1)
  }
  if (/^[-\u2212\u2010-\u2015\ufe63\uff0d]/.test(trimmed)) return trimmed.slice(1).trimStart()
  if (/^[+\uff0b]/.test(trimmed)) return MINUS + trimmed.slice(1).trimStart()
  if (trimmed !== '' && form === 'latitude') return `${trimmed} S`
  if (trimmed !== '' && form === 'longitude') return `${trimmed} W`
  return MINUS + trimmed
}

/** The number typed, or null. */
export const numberOf = (text: string, kind: NumberKind): number | null => {
  const parsed = parseNumber(text, kind)
  return parsed.kind === 'value' ? parsed.value : null
}

/** A number as a person would type it. */
export function typedNumber(value: number | undefined): string {
  if (value === undefined) return ''
  const text = String(Math.abs(value))
  return (
    (value < 0 ? MINUS : '') +
    (text.includes('e')
      ? Math.abs(value)
          .toFixed(12)
          .replace(/\.?0+$/, '')
      : text)
  )
}

/** An angle as a person would type it, with minutes where that is what they want. */
export const typedDeg = (value: number | undefined): string => (value === undefined ? '' : typedAngle(value))

/** Empty counts as `usual`; what is typed and cannot be read is null. */
export function numberOr(text: string, kind: NumberKind, usual: number): number | null {
  return text.trim() === '' ? usual : numberOf(text, kind)
}
