/**
 * The command line of the batch command, read strictly: what is not understood is wrong usage, never guessed at.
 */
import type { WindowsWish } from '../core/plan/windowsjson.ts'
import type { TargetRecord } from '../core/records/fieldbook.ts'
import { instantMs, isInstant } from '../core/records/instant.ts'
import { quoted } from '../core/records/shown.ts'
import { targetFromText } from '../core/records/targetname.ts'
import { HOUR_MS, HOUR_S } from '../core/units.ts'

export interface Command {
  verb: 'solve' | 'targets' | 'windows' | 'recipe' | 'report' | 'check'
  file: string
  /** Null: the machine's clock. */
  now: string | null
  station?: string
  /** Not of `check`. */
  feed?: string
  /** Of `targets` only. */
  table?: {
    target: TargetRecord
    fromUtc: string
    hours: number
    stepS: number
    uncorrected: boolean
    allReadings: boolean
  }
  /** Of `windows` only. */
  windows?: WindowsWish
  /** Of `recipe` and `report` only: to read, not JSON. */
  asText?: boolean
}

/** `usage` is exit 2, `unknown` (a name that does not exist) is exit 1. */
type Parsed = { kind: 'command'; command: Command } | { kind: 'usage' | 'unknown'; why: string }

const USAGE = {
  solve: 'solve FILE [--station NAME] [--feed ID] [--now UTC]',
  targets:
    'targets FILE --target T --from UTC --hours H --step-s S [--station NAME] [--feed ID] [--uncorrected] [--all-readings] [--now UTC]',
  windows: 'windows FILE --target T --from UTC --days N [--station NAME] [--feed ID] [--partner LAT,LON] [--now UTC]',
  recipe: 'recipe FILE [--station NAME] [--feed ID] [--text] [--now UTC]',
  report: 'report FILE [--station NAME] [--feed ID] [--text] [--now UTC]',
  check: 'check FILE [--now UTC]',
} as const
type Verb = keyof typeof USAGE

/** Option → whether it takes a value. */
const OPTIONS: Record<Verb, Record<string, boolean>> = {
  solve: { '--station': true, '--feed': true, '--now': true },
  targets: {
    '--target': true,
    '--from': true,
    '--hours': true,
    '--step-s': true,
    '--station': true,
    '--feed': true,
    '--uncorrected': false,
    '--all-readings': false,
    '--now': true,
  },
  windows: {
    '--target': true,
    '--from': true,
    '--days': true,
    '--station': true,
    '--feed': true,
    '--partner': true,
    '--now': true,
  },
  recipe: { '--station': true, '--feed': true, '--text': false, '--now': true },
  report: { '--station': true, '--feed': true, '--text': false, '--now': true },
  check: { '--now': true },
}

/** A table with more rows than this is a typing slip. */
const MOST_ROWS = 1_000_000
/** Windows are looked for minute by minute: more than a cycle of the Moon's nodes is a typing slip too. */
const MOST_DAYS = 10_000
const LAST_MS = Date.UTC(9999, 11, 31)

const DECIMAL = /^\+?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/
const positive = (text: string): number | null => {
  const n = DECIMAL.test(text) ? Number(text) : Number.NaN
  return n > 0 && Number.isFinite(n) ? n : null
}

/** A place as `LAT,LON`, degrees. */
function placeFromText(text: string): WindowsWish['partner'] | null {
  const [latDeg, lonDeg, ...more] = text
    .split(',')
    .map(part => (/^[+-]?(?:\d+\.?\d*|\.\d+)$/.test(part) ? Number(part) : Number.NaN))
  const isPlace = more.length === 0 && Math.abs(latDeg!) <= 90 && Math.abs(lonDeg ?? Number.NaN) <= 180
  return isPlace ? { latDeg: latDeg!, lonDeg: lonDeg! } : null
}

const isVerb = (text: string | undefined): text is Verb => text !== undefined && Object.hasOwn(USAGE, text)

/** @param args  the words after the command's own name */
export function parseArguments(args: readonly string[]): Parsed {
  const [verb, ...rest] = args
  if (!isVerb(verb)) {
    const why = verb === undefined ? 'a verb is missing' : `there is no verb ${quoted(verb)}`
    return { kind: 'usage', why: `${why}; usage: ${Object.values(USAGE).join(' | ')}` }
  }
  const wrong = (why: string): Parsed => ({ kind: 'usage', why: `${why}; usage: ${USAGE[verb]}` })

  const values = new Map<string, string>()
  const files: string[] = []
  for (let i = 0; i < rest.length; i += 1) {
    const word = rest[i]!
    if (!word.startsWith('-') || word === '-') {
      files.push(word)
      continue
    }
    const equals = word.indexOf('=')
    const option = equals < 0 ? word : word.slice(0, equals)
    if (!Object.hasOwn(OPTIONS[verb], option)) return wrong(`${verb} has no option ${quoted(option)}`)
    if (values.has(option)) return wrong(`${option} is given twice`)
    if (!OPTIONS[verb][option]) {
      if (equals >= 0) return wrong(`${option} takes no value`)
      values.set(option, '')
    } else if (equals >= 0) {
      values.set(option, word.slice(equals + 1))
    } else {
      const value = rest[i + 1]
      if (value === undefined || value.startsWith('--')) return wrong(`${option} needs a value`)
      values.set(option, value)
      i += 1
    }
  }
  const [file, extra] = files
  if (file === undefined || file === '') return wrong('FILE is missing')
  if (extra !== undefined) return wrong(`there is an argument too many, ${quoted(extra)}`)

  const now = values.get('--now') ?? null
  if (now !== null && !isInstant(now))
    return wrong(`--now must be an instant such as 2026-05-01T12:00:00Z, got ${quoted(now)}`)
  const station = values.get('--station')
  const feed = values.get('--feed')
  const command: Command = {
    verb,
    file,
    now,
    ...(station !== undefined && { station }),
    ...(feed !== undefined && { feed }),
  }
  if (verb === 'recipe' || verb === 'report')
    return { kind: 'command', command: { ...command, asText: values.has('--text') } }
  if (verb === 'solve' || verb === 'check') return { kind: 'command', command }

  const needed = verb === 'windows' ? ['--target', '--from', '--days'] : ['--target', '--from', '--hours', '--step-s']
  const missing = needed.find(option => !values.has(option))
  if (missing !== undefined) return wrong(`${missing} is missing`)
  const fromUtc = values.get('--from')!
  if (!isInstant(fromUtc))
    return wrong(`--from must be an instant such as 2026-05-01T12:00:00Z, got ${quoted(fromUtc)}`)
  const amounts = new Map<string, number>()
  for (const option of ['--hours', '--step-s', '--days'].filter(o => needed.includes(o))) {
    const amount = positive(values.get(option)!)
    if (amount === null) return wrong(`${option} must be a number above 0, got ${quoted(values.get(option)!)}`)
    amounts.set(option, amount)
  }
  const days = amounts.get('--days') ?? 0
  const stepS = amounts.get('--step-s') ?? Infinity
  const hours = amounts.get('--hours') ?? 24 * days
  if (Math.ceil((hours * HOUR_S) / stepS) > MOST_ROWS) return wrong(`the table would have more than ${MOST_ROWS} rows`)
  if (days > MOST_DAYS) return wrong(`--days must be at most ${MOST_DAYS}, got ${quoted(values.get('--days')!)}`)
  if (instantMs(fromUtc) + hours * HOUR_MS > LAST_MS) return wrong('the table would go beyond the year 9999')
  const target = targetFromText(values.get('--target')!)
  if (!target.ok) {
    const { path, rule } = target.faults[0]!
    return path === 'type' || path === 'name'
      ? { kind: 'unknown', why: `--target: ${rule}` }
      : wrong(`--target: ${rule}`)
  }
  if (verb === 'targets') {
    command.table = {
      target: target.value,
      fromUtc,
      hours,
      stepS,
      uncorrected: values.has('--uncorrected'),
      allReadings: values.has('--all-readings'),
      ...(feed !== undefined && { feed }),
    }
    return { kind: 'command', command }
  }
  command.windows = { target: target.value, fromUtc, days }
  const place = values.get('--partner')
  if (place !== undefined) {
    const partner = placeFromText(place)
    if (!partner) return wrong(`--partner must be LAT,LON in degrees, -90 to 90 and -180 to 180, got ${quoted(place)}`)
    if (target.value.type === 'landmark') return wrong('--partner: a landmark cannot be shared with another place')
    command.windows.partner = partner
  }
  return { kind: 'command', command }
}
