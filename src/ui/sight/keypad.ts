/**
 * What a key of our own keypad does to a text with a marked place. One marked digit is typed over and the next one is
 * marked, as on a counter: to change 592 into 589 the second digit is tapped, and 8 and 9 are typed. Pure.
 */

import type { AngleStyle } from '../kit/format.ts'
import { numberOf, otherSign, typedAngle, typedNumber } from '../kit/numberfield.ts'

export interface Typed {
  text: string
  /** The marked part, from ≤ to, in UTF-16 units; alike: a caret. */
  from: number
  to: number
}

export type PadKey = '0' | '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9' | '.' | 'space' | 'sign' | 'erase'

const isDigit = (char: string | undefined): boolean => char !== undefined && char >= '0' && char <= '9'
const POINT = /[.,]/

/** Marks the first digit at or after a place; a caret at the end where there is none. */
export function digitFrom(text: string, at: number): Typed {
  let from = at
  while (from < text.length && !isDigit(text[from])) from++
  return { text, from, to: Math.min(text.length, from + 1) }
}

/** Marks the last digit. */
export function lastDigit(text: string): Typed {
  for (let from = text.length - 1; from >= 0; from--) if (isDigit(text[from])) return { text, from, to: from + 1 }
  return { text, from: text.length, to: text.length }
}

/** Puts a text in place of the marked part, with a caret after it. */
function put({ text, from, to }: Typed, what: string): Typed {
  const at = from + what.length
  return { text: text.slice(0, from) + what + text.slice(to), from: at, to: at }
}

export function pressKey(typed: Typed, key: PadKey): Typed {
  const { text, from, to } = typed
  const isOne = to - from === 1 && text.length > 1
  switch (key) {
    case 'erase':
      return put(from === to ? { text, from: Math.max(0, from - 1), to } : typed, '')
    case 'sign': {
      const other = otherSign(text, 'number')
      const moved = (at: number) => Math.max(0, at + other.length - text.length)
      return { text: other, from: moved(from), to: moved(to) }
    }
    case 'space':
      return put(isOne ? { text, from, to: from } : typed, ' ')
    case '.': {
      if (isOne && POINT.test(text[from]!)) return digitFrom(text, to)
      const around = text.slice(0, from) + text.slice(to)
      if (POINT.test(isOne ? text : around)) return typed // one is enough
      // A marked digit moves on and is not lost: 312 with the 2 marked becomes 31.2.
      if (!isOne) return put(typed, '.')
      const { text: next, from: at } = put({ text, from, to: from }, '.')
      return { text: next, from: at, to: at + 1 }
    }
    default: {
      const next = put(typed, key)
      return isOne && isDigit(text[from]) ? digitFrom(next.text, next.from) : next
    }
  }
}

/** Which character a tap means. @param ends  where each character ends, from the text's left edge; the caret's place beyond */
export function charAt(ends: readonly number[], x: number): number {
  const at = ends.findIndex(end => x < end)
  return at < 0 ? ends.length : at
}

/** The four steps of the buttons, small ones in the middle: in counts, degrees, or minutes of arc. */
export interface Nudges {
  steps: readonly [number, number, number, number]
  unit: 'counts' | 'degrees' | 'minutes'
}
export const nudgesOf = (unit: 'counts' | 'degrees', style: AngleStyle): Nudges =>
  unit === 'counts'
    ? { steps: [-10, -1, 1, 10], unit }
    : style === 'decimal'
      ? { steps: [-1, -0.1, 0.1, 1], unit }
      : { steps: [-10, -1, 1, 10], unit: 'minutes' }

const keyedDecimals = (text: string): number => (text.split(/[.,]/)[1] ?? '').length

/**
 * A reading moved by a step, with the digits that it had.
 *
 * @returns null where the text is no reading
 */
export function nudged(text: string, by: number, unit: Nudges['unit'], style: AngleStyle): string | null {
  const value = numberOf(text, unit === 'counts' ? { form: 'count' } : { form: 'angle' })
  if (value === null) return null
  if (unit === 'counts') return typedNumber(Number((value + by).toFixed(keyedDecimals(text))))
  if (unit === 'degrees') {
    const decimals = Math.max(keyedDecimals(text), 1)
    const moved = Number((value + by).toFixed(decimals))
    return typedNumber(moved).includes('.') ? typedNumber(moved) : `${typedNumber(moved)}.0`
  }
  const minutes = Math.round(600 * value) / 10 + by
  const whole = Math.floor(Math.abs(minutes) / 60)
  const size = whole + (Math.abs(minutes) - 60 * whole) / 60
  return typedAngle(minutes < 0 ? -size : size, style)
}
