/**
 * Levels with times from a receiver's log, pasted or from a file: one sample a line, the time first, then the level; comma,
 * semicolon, tab or blanks between. A line that cannot be read is named and left out; the rest is kept.
 * Times: an instant (2026-05-01T10:00:00Z), a date and time, a time of day (10:00:00.5, on the day given), seconds since 1970, or
 * plain seconds from the start. All UTC.
 */
import { DAY_MS } from '../units.ts'

interface PastedSample {
  /** UTC ms; for plain seconds counted from `startMs`. */
  utcMs: number
  level: number
}

type BadWhy =
  /** No level beside the time. */
  | 'one-value'
  | 'no-time'
  | 'no-level'
  /** Not after the line before, and no midnight between them. */
  | 'not-later'

export interface BadLine {
  /** From 1, as an editor counts. */
  line: number
  text: string
  why: BadWhy
}

export type TimeKind = 'instant' | 'time-of-day' | 'unix' | 'seconds'

export interface Pasted {
  samples: PastedSample[]
  bad: BadLine[]
  /** How the times were understood; null when no line could be read. */
  times: TimeKind | null
  /** Lines passed over as headings or remarks. */
  passed: number
}

const INSTANT = /^(\d{4})[-/](\d{1,2})[-/](\d{1,2})(?:[T ]+(\d{1,2}):(\d{2})(?::(\d{2}(?:\.\d+)?))?)?(?: ?(?:Z|UTC))?$/i
const CLOCK = /^(\d{1,2}):(\d{2})(?::(\d{2}(?:\.\d+)?))?(?: ?(?:Z|UTC))?$/i

/**
 * No time and no number is longer. The patterns above and below backtrack, and their cost grows with a text's
 * square: a longer one is not tried at all, so a line costs no more than its length.
 */
const LONGEST = 64
const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i

/** Blanks collapsed, or null where it is too long to be a time or a number. */
function short(text: string): string | null {
  const t = text.split(/\s+/).join(' ')
  return t.length > LONGEST ? null : t
}

/** A finite number, with or without its unit; 1e309 is not one. */
function numberFrom(text: string, comma: boolean): number | null {
  const given = short(text)
  if (given === null) return null
  const bare = /dBm?$/i.test(given) ? given.slice(0, given.toLowerCase().lastIndexOf('db')).trimEnd() : given
  const t = (comma ? bare.replace(',', '.') : bare).replace('\u2212', '-')
  const n = NUMBER.test(t) ? Number(t) : Number.NaN
  return Number.isFinite(n) ? n : null
}

/** One line apart: a date and its time stay together. */
function partsOf(line: string): { parts: string[]; comma: boolean } {
  const strong = line.includes('\t') ? '\t' : line.includes(';') ? ';' : null
  if (strong !== null)
    return {
      parts: line
        .split(strong)
        .map(p => p.trim())
        .filter(p => p !== ''),
      comma: true,
    }
  if (line.includes(','))
    return {
      parts: line
        .split(',')
        .map(p => p.trim())
        .filter(p => p !== ''),
      comma: false,
    }
  return { parts: line.trim().split(/\s+/), comma: false }
}

/** Milliseconds of day, or null. */
function clockMs(text: string): number | null {
  const m = CLOCK.exec(short(text) ?? '')
  if (m === null) return null
  const [h, min, s] = [Number(m[1]), Number(m[2]), Number(m[3] ?? 0)]
  return h < 24 && min < 60 && s < 61 ? 1000 * (3600 * h + 60 * min + s) : null
}

function instantMs(text: string): number | null {
  const m = INSTANT.exec(short(text) ?? '')
  if (m === null) return null
  const [y, mo, d] = [Number(m[1]), Number(m[2]), Number(m[3])]
  const [h, min, s] = [Number(m[4] ?? 0), Number(m[5] ?? 0), Number(m[6] ?? 0)]
  const day = Date.UTC(y, mo - 1, d)
  const real = new Date(day)
  if (real.getUTCMonth() !== mo - 1 || real.getUTCDate() !== d || h > 23 || min > 59 || s >= 61) return null
  return day + 1000 * (3600 * h + 60 * min + s)
}

interface Read {
  kind: TimeKind
  ms: number
  level: number
}

function readLine(line: string): Read | BadWhy {
  const { parts, comma } = partsOf(line)
  if (parts.length < 2) return 'one-value'
  const asRead = (time: string, rest: readonly string[]): Read | BadWhy | null => {
    const whole = instantMs(time)
    const clock = whole === null ? clockMs(time) : null
    const plain = whole === null && clock === null ? numberFrom(time, comma) : null
    if (whole === null && clock === null && plain === null) return null
    const level = rest[0] === undefined ? null : numberFrom(rest[0], comma)
    if (level === null) return 'no-level'
    if (whole !== null) return { kind: 'instant', ms: whole, level }
    if (clock !== null) return { kind: 'time-of-day', ms: clock, level }
    // From 1990 to 2200 in seconds or milliseconds since 1970; anything smaller counts from the start.
    if (plain! > 6e8 && plain! < 7.3e9) return { kind: 'unix', ms: 1000 * plain!, level }
    if (plain! > 6e11 && plain! < 7.3e12) return { kind: 'unix', ms: plain!, level }
    return { kind: 'seconds', ms: 1000 * plain!, level }
  }
  // "2026-05-01 10:00:00 4.2" and "2026-05-01,10:00:00,4.2": date and time in two pieces.
  if (parts.length >= 3 && instantMs(parts[0]!) !== null && clockMs(parts[1]!) !== null) {
    const joined = asRead(`${parts[0]} ${parts[1]}`, parts.slice(2))
    if (joined !== null) return joined
  }
  return asRead(parts[0]!, parts.slice(1)) ?? 'no-time'
}

/**
 * Reads pasted levels.
 *
 * @param startMs where plain seconds count from, and the day on which a time of day falls (the first one on or after 12 h before
 *                it); UTC ms
 */
export function pastedLevels(text: string, startMs: number): Pasted {
  const out: Pasted = { samples: [], bad: [], times: null, passed: 0 }
  const lines = text.replace(/^\ufeff/, '').split(/\r\n|\r|\n/)
  let dayMs: number | null = null
  let before: number | null = null
  lines.forEach((raw, index) => {
    const line = raw.trim()
    if (line === '') return
    const isRemark = line.startsWith('#') || line.startsWith('//')
    const read = isRemark ? null : readLine(line)
    // A heading: no digit leads any of its pieces, and nothing was read yet.
    const isHeading = out.samples.length === 0 && out.bad.length === 0 && /^["']?[A-Za-z_(]/.test(line)
    if (read === null || (typeof read === 'string' && isHeading)) {
      out.passed++
      return
    }
    const bad = (why: BadWhy) => out.bad.push({ line: index + 1, text: line.slice(0, 80), why })
    if (typeof read === 'string') {
      bad(read)
      return
    }
    // Times of another kind than the first line's are not times of this log.
    if (out.times !== null && out.times !== read.kind) {
      bad('no-time')
      return
    }
    let utcMs = read.ms
    if (read.kind === 'seconds') utcMs += startMs
    if (read.kind === 'time-of-day') {
      if (dayMs === null) {
        dayMs = DAY_MS * Math.floor(startMs / DAY_MS)
        if (dayMs + read.ms < startMs - DAY_MS / 2) dayMs += DAY_MS
        else if (dayMs + read.ms > startMs + DAY_MS / 2) dayMs -= DAY_MS
      }
      utcMs += dayMs
      // Past midnight: the clock fell back by most of a day.
      if (before !== null && utcMs < before - DAY_MS / 2) {
        dayMs += DAY_MS
        utcMs += DAY_MS
      }
    }
    if (before !== null && utcMs < before) {
      bad('not-later')
      return
    }
    before = utcMs
    out.times ??= read.kind
    out.samples.push({ utcMs, level: read.level })
  })
  return out
}
