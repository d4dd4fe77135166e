/**
 * Values from a file, made safe to quote: short, on one line, nothing that reverses the text or acts as a control character.
 * A book comes from anywhere; its names are shown as text, never trusted.
 */

/** Longest quotation, in UTF-16 units before escaping. */
const LONGEST = 40

// Control characters, line and paragraph separators, direction marks and isolates, invisible spaces, byte order mark,
// and (with the u flag a surrogate class matches only lone ones) half characters.
const UNSAFE = /[\p{Cc}\u061c\u200b\u200e\u200f\u2028\u2029\u202a-\u202e\u2060\u2066-\u2069\ufeff\ud800-\udfff]/gu

const escaped = (text: string): string =>
  text.replace(UNSAFE, c => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`).replace(/"/g, "'")

/** A string in double quotes, cut after 40 characters; `"` inside becomes `'`. */
export function quoted(text: string, longest: number = LONGEST): string {
  if (text.length <= longest) return `"${escaped(text)}"`
  // Never cut a surrogate pair in two: the half would be shown as an escape that the file does not hold.
  const high = text.charCodeAt(longest - 1)
  const cut = high >= 0xd800 && high <= 0xdbff ? longest - 1 : longest
  return `"${escaped(text.slice(0, cut))}…"`
}

/** Any JSON value in a few words. */
export function shown(value: unknown): string {
  if (typeof value === 'string') return quoted(value)
  if (Array.isArray(value)) return 'a list'
  if (typeof value === 'object' && value !== null) return 'an object'
  return String(value)
}

const PLAIN_KEY = /^[A-Za-z_$][\w$-]{0,63}$/

/** One step of a path: `.key`, `[3]`, or `["odd key"]`. */
export function pathStep(key: string | number): string {
  if (typeof key === 'number') return `[${key}]`
  return PLAIN_KEY.test(key) ? `.${key}` : `[${quoted(key)}]`
}

/** `stations[0].site.latDeg` from a base path and keys. */
export function recordPath(base: string, keys: readonly (string | number)[]): string {
  const path = base + keys.map(pathStep).join('')
  return path.startsWith('.') ? path.slice(1) : path
}
