/**
 * JSON as text, before and beside JSON.parse: how large, how deep, and, when it does not parse, where it breaks.
 * Nothing here recurses: a file of 100 000 brackets must not overflow the stack.
 */
import { quoted } from './shown.ts'

/** Bytes in UTF-8 that a field book has at most. */
export const LARGEST_FILE = 50_000_000

/** Bytes of the text in UTF-8; a lone surrogate counts as the three bytes of its replacement. */
export function utf8Bytes(text: string): number {
  let bytes = text.length
  for (let i = 0; i < text.length; i += 1) {
    const c = text.charCodeAt(i)
    if (c < 0x80) continue
    if (c < 0x800) bytes += 1
    else if (c >= 0xd800 && c <= 0xdbff && (text.charCodeAt(i + 1) & 0xfc00) === 0xdc00) {
      bytes += 2 // four bytes for a pair of units
      i += 1
    } else bytes += 2
  }
  return bytes
}

/** Offset of the bracket that opens level `limit` + 1; -1 when the text stays within. Text in quotes does not count. */
export function tooDeepAt(text: string, limit: number): number {
  let depth = 0
  let inString = false
  for (let i = 0; i < text.length; i += 1) {
    const c = text.charCodeAt(i)
    if (inString) {
      if (c === 0x5c) i += 1
      else if (c === 0x22) inString = false
    } else if (c === 0x22) inString = true
    else if (c === 0x7b || c === 0x5b) {
      depth += 1
      if (depth > limit) return i
    } else if (c === 0x7d || c === 0x5d) depth -= 1
  }
  return -1
}

/** `line 3, column 14`, both from 1; columns in UTF-16 units. */
export function placeInText(text: string, offset: number): string {
  let line = 1
  let start = 0
  for (let at = text.indexOf('\n'); at >= 0 && at < offset; at = text.indexOf('\n', at + 1)) {
    line += 1
    start = at + 1
  }
  return `line ${line}, column ${offset - start + 1}`
}

const NUMBER = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?/y
const WORD = /true|false|null/y
const SPACE = /[ \t\n\r]*/y
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y

const CUT_ESCAPE = /^\\(?:u[0-9a-fA-F]{0,3})?$/
const CUT_VALUE = /^(?:-|t|tr|tru|f|fa|fal|fals|n|nu|nul)$/

const lengthAt = (pattern: RegExp, text: string, at: number): number => {
  pattern.lastIndex = at
  return pattern.exec(text)?.[0].length ?? -1
}

/** End of the string that opens at `at`, or where it breaks. */
function stringEnd(text: string, at: number): { end: number } | { broken: number; why: string } {
  for (let i = at + 1; i < text.length; i += 1) {
    const c = text.charCodeAt(i)
    if (c === 0x22) return { end: i + 1 }
    if (c < 0x20) return { broken: i, why: 'a control character inside a string' }
    if (c === 0x5c) {
      const n = lengthAt(ESCAPE, text, i)
      if (n < 0) {
        const cutOff = CUT_ESCAPE.test(text.slice(i, i + 6)) && text.length - i < 6
        return cutOff ? { broken: text.length, why: '' } : { broken: i, why: 'an unknown escape in a string' }
      }
      i += n - 1
    }
  }
  return { broken: text.length, why: '' }
}

/**
 * Where text that JSON.parse refused breaks, as one plain sentence: what is wrong, where, and what would be right. Engines
 * word this differently and some leave the position out, so it is found here.
 */
export function whereJsonBreaks(text: string): string {
  const first = text.trimStart()
  if (first !== '' && !/^([[{"]|-?\d|(true|false|null)\b)/.test(first))
    return `this is not a field book: it begins with ${quoted([...first].slice(0, 20).join(''))}, and a field book begins with "{"`
  const open: ('{' | '[')[] = []
  type Want = 'value' | 'value or ]' | 'key' | 'key or }' | ':' | 'after'
  let want: Want = 'value'
  let at = 0
  const says: Record<Want, () => string> = {
    value: () => 'a value',
    'value or ]': () => 'a value or "]"',
    key: () => 'a key in double quotes',
    'key or }': () => 'a key in double quotes or "}"',
    ':': () => '":"',
    after: () => (open.length === 0 ? 'the end of the file' : open.at(-1) === '{' ? '"," or "}"' : '"," or "]"'),
  }
  for (;;) {
    at += Math.max(0, lengthAt(SPACE, text, at))
    if (at >= text.length) {
      return text.trim() === ''
        ? 'the file is empty: a field book begins with "{"'
        : `the file is cut off at ${placeInText(text, text.length)}, where ${says[want]()} should follow: take the whole file`
    }
    const c = text[at]!
    const top = open.at(-1)
    const wantsValue: boolean = want === 'value' || want === 'value or ]'
    const wantsKey: boolean = want === 'key' || want === 'key or }'
    let next: Want | null = null
    let length = 1
    if (c === '"' && (wantsValue || wantsKey)) {
      const s = stringEnd(text, at)
      if ('broken' in s) {
        return s.why === ''
          ? `the file is cut off at ${placeInText(text, text.length)}, inside a text in quotes: take the whole file`
          : `the file is damaged at ${placeInText(text, s.broken)}: ${s.why}`
      }
      length = s.end - at
      next = wantsKey ? ':' : 'after'
    } else if (wantsValue && (c === '{' || c === '[')) {
      open.push(c)
      next = c === '{' ? 'key or }' : 'value or ]'
    } else if ((want === 'key or }' || (want === 'after' && top === '{')) && c === '}') {
      open.pop()
      next = 'after'
    } else if ((want === 'value or ]' || (want === 'after' && top === '[')) && c === ']') {
      open.pop()
      next = 'after'
    } else if (want === 'after' && c === ',' && top !== undefined) {
      next = top === '{' ? 'key' : 'value'
    } else if (want === ':' && c === ':') {
      next = 'value'
    } else if (wantsValue) {
      length = Math.max(lengthAt(NUMBER, text, at), lengthAt(WORD, text, at))
      if (length > 0) next = 'after'
      else if (CUT_VALUE.test(text.slice(at, at + 6))) {
        return `the file is cut off at ${placeInText(text, text.length)}, inside a value: take the whole file`
      }
    }
    if (next === null) {
      const found = String.fromCodePoint(text.codePointAt(at)!)
      return `the file is damaged at ${placeInText(text, at)}: there is ${quoted(found)} where ${says[want]()} should stand`
    }
    want = next
    at += length
  }
}
