/** Words of "When": hours, spells and days, what ends a spell, what the Moon does meanwhile; polarisation; the other end of a contact. */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { PlaceJson } from '../../core/plan/partner.ts'
import type { PolarisationRow } from '../../core/plan/polarisationjson.ts'
import type { SpellEnd } from '../../core/plan/windows.ts'
import type { PassageJson, SpellJson, StandingJson, WindowsJson } from '../../core/plan/windowsjson.ts'
import type { MountRecord, TargetRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { locatorFromPlace } from '../../core/records/locator.ts'
import { DAY_MS, HOUR_MS, MINUTE_MS } from '../../core/units.ts'
import { midnightOf } from '../../state/coming.ts'
import {
  countOf,
  decibels,
  degrees,
  duration,
  fixed,
  latitude,
  localTime,
  longitude,
  MINUS,
  NBSP,
  roughDegrees,
  utcAndLocal,
  utcDate,
  utcTime,
} from '../kit/format.ts'
import { hindranceWords } from '../kit/hindrancewords.ts'
import { lossWords } from '../kit/loss.ts'
import { capital, listed, targetWords, theTarget, windOf } from '../kit/phrases.ts'
import { changedDays, type Day, dateMs, dayOf, MONTH_NAMES, monthWords, type Span } from './calendar.ts'

export const WHEN = {
  title: 'When',
  noStation: 'There is no station yet. With one, this shows the hours in which the Moon is in reach.',
  computing: 'Computing…',
  target: 'Target',
  drive: (target: TargetRecord) => `Drive to ${theTarget(target)}`,
  inReach: (target: TargetRecord) => `${capital(targetWords(target))} in reach`,
  bothHave: (target: TargetRecord) => `${capital(targetWords(target))} at both ends`,
  here: (hours: string) => `here alone ${hours}${NBSP}h`,
  legend: 'thick: in reach, above skyline and minimum elevation · thin: up. Tap a day to open it.',
  legendDay: 'thick: in reach, above skyline and minimum elevation · thin: up',
  legendDayBoth: 'thick: at both ends · half as thick: in reach here · thin: up here',
  legendBoth: 'thick: at both ends · half as thick: in reach here · thin: up here. Tap a day to open it.',
  coming: '28 days from today',
  show: (month: string) => `Show ${month}`,
  otherMonth: 'Another month',
  month: 'Month',
  monthHint: 'Such as Dec 2026, or 2026-12.',
  monthWrong: 'Write a month and a year from 1900 to 2180, such as Dec 2026.',
  showIt: 'Show this month',
  list: 'As a list',
  export: 'Export as a file or calendar',
  partner: 'The other end of a contact',
  noPartner: 'none',
  polarisation: 'Polarisation',
  backToDays: 'All days',
  listTitle: 'When: the list',
  listBoth: (place: string) => `The other end: ${place}.`,
  both: 'both ends',
  notBoth: 'never at both ends',
  upTo: (el: string) => `up to ${el}`,
  none: (target: TargetRecord) => `Nothing in reach: ${theTarget(target)} cannot be used in these days.`,
  neverUp: (target: TargetRecord) => `${capital(theTarget(target))} does not rise here in these days.`,
  partnerLandmark: 'A landmark is seen from one place only: the other end is left out.',
} as const

export const DAY = {
  before: 'Day before',
  after: 'Day after',
  hours: 'In reach this day',
  hoursBoth: 'At both ends this day',
  noSpell: 'Not in reach this day.',
  noSpellBoth: 'Not at both ends this day.',
  passages: 'Rise, transit, set',
  fixed: 'Stands still: it neither rises nor sets.',
  noPassage: 'It neither rises nor sets this day.',
  spell: (k: number, of: number) => (of === 1 ? 'In reach' : `In reach, ${k + 1} of ${of}`),
  inAt: 'In',
  outAt: 'Out',
  highest: 'Highest',
  pointing: 'Expected pointing loss',
  bothEnds: 'At both ends',
  never: 'not in this window',
  standing: 'Where it is',
  declination: 'Declination',
  distance: 'Distance',
  echo: 'Own echoes',
  at: (time: string) => `At ${time}.`,
  noDay: 'This address names no day. Choose one from the strip.',
} as const

export const PARTNER = {
  title: 'The other end',
  lead: 'Where the other station is. The strip and the list then show when both have the Moon: in reach here, and above the horizon there.',
  keep: 'Keep this place',
  remove: 'Leave out the other end',
  missing: 'Write a locator, or latitude and longitude.',
  rough: 'A locator of four characters is enough: 100 km shifts moonrise there by a few minutes.',
} as const

export const FILES = {
  title: 'When: export',
  what: 'What to export',
  csv: 'A list, CSV',
  csvNote: 'one row for each window: in, out, hours, highest, declination, distance',
  ics: 'A calendar, .ics',
  icsNote: 'one event for each window, for the calendar of phone or desk',
  preparing: 'Preparing…',
  nothing: 'There is no window in these days: nothing to export.',
} as const

export const POL = {
  title: 'Polarisation',
  lead: 'How far the UP mark on the rim is rolled from the vertical, as seen from behind the dish.',
  circular: 'With circular feeds none of this matters: only the sense, right- or left-hand, must be right.',
  help: [
    'With a linear feed the roll is the angle by which its plane is turned on the sky, beyond how it sits in the dish.',
    'Below a few GHz the ionosphere turns the plane as well (Faraday rotation), by an angle that cannot be known in advance.',
    'Counted for the mount with the corrections applied; clockwise as seen from behind the dish, looking out.',
  ],
  now: 'Rolled now',
  atStart: 'Rolled at the start',
  none: 'Not in reach this day: no window to show.',
  noPose: 'No pose of this mount points there.',
  plot: 'Roll of the UP mark over the window',
  byPartner: 'Spatial offset to the other end',
  partnerDown: 'At the other end it is down then.',
  setPartner: 'Set the other end for the spatial offset',
} as const

/** "161", "9.4": no tenth where nobody counts it. */
export const hoursDigits = (hours: number): string => fixed(hours, hours < 99.95 ? 1 : 0)

/** "in 28 days from today", "in Dec 2026" */
export const spanWords = (span: Span): string =>
  span.month === null ? `in ${span.days.length} days` : `in ${monthWords(span.month)}`

/** "19:41 to 03:20 UTC" */
export const utcTimes = (fromMs: number, toMs: number): string =>
  `${utcTime(fromMs, 'minute')} to ${utcTime(toMs, 'minute')}${NBSP}UTC`

/** "20:41 to 04:20 here"; nothing where local time is UTC. */
export function hereTimes(fromMs: number, toMs: number): string {
  const [a, b] = [fromMs, toMs].map(ms => ms - MINUTE_MS * new Date(ms).getTimezoneOffset()) as [number, number]
  return a === fromMs && b === toMs ? '' : `${utcTime(a, 'minute')} to ${utcTime(b, 'minute')}${NBSP}here`
}

/** "19:41 to 03:20 UTC (20:41 to 04:20 here)" */
export function timesWords(fromMs: number, toMs: number): string {
  const here = hereTimes(fromMs, toMs)
  return utcTimes(fromMs, toMs) + (here && ` (${here})`)
}

const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'] as const
/** "Wed 2 Dec", as the person counts days. */
export function dayWords(ms: number): string {
  const d = new Date(ms)
  return `${DAYS[d.getDay()]}${NBSP}${d.getDate()}${NBSP}${MONTH_NAMES[d.getMonth()]}`
}

/** "Wed 2 Dec", as UTC counts days: beside a time in UTC. */
export function utcDayWords(ms: number): string {
  const d = new Date(ms)
  return `${DAYS[d.getUTCDay()]}${NBSP}${d.getUTCDate()}${NBSP}${MONTH_NAMES[d.getUTCMonth()]}`
}

/** "tonight", "tomorrow" where the day here and that of UTC say the same; else "Wed 2 Dec" of UTC. */
function dayFromNow(ms: number, nowMs: number): string {
  const utcDaysOn = Math.floor(ms / DAY_MS) - Math.floor(nowMs / DAY_MS)
  const isSame = (daysOn: number) => utcDaysOn === daysOn && midnightOf(ms) === midnightOf(nowMs, daysOn)
  if (isSame(0)) return new Date(ms).getHours() >= 18 ? 'tonight' : 'today'
  return isSame(1) ? 'tomorrow' : utcDayWords(ms)
}

interface Times {
  inUtc: string
  outUtc: string
}

/** "now, until 03:20 UTC", "tonight 19:41 to 03:20 UTC", and the same as the clock here shows it; null when none is to come. */
export function comingWords(spells: readonly Times[], nowMs: number): { utc: string; here: string } | null {
  const next = spells.find(s => instantMs(s.outUtc) > nowMs)
  if (next === undefined) return null
  const [from, to] = [instantMs(next.inUtc), instantMs(next.outUtc)]
  return from <= nowMs
    ? { utc: `now, until ${utcTime(to, 'minute')}${NBSP}UTC`, here: localTime(to) }
    : { utc: `${dayFromNow(from, nowMs)} ${utcTimes(from, to)}`, here: hereTimes(from, to) }
}

/** The part of a spell here that both ends have: "both ends 20:10 to 01:15 UTC". */
export function bothWords(shared: readonly Times[], fromMs: number, toMs: number): string {
  const own = shared.filter(s => instantMs(s.outUtc) > fromMs && instantMs(s.inUtc) < toMs)
  if (own.length === 0) return WHEN.notBoth
  return `${WHEN.both} ${own.map(s => utcTimes(instantMs(s.inUtc), instantMs(s.outUtc))).join(', ')}`
}

/** Where the clock is changed in these days. */
export const clockWords = (span: Span): string[] =>
  changedDays(span).map(
    ({ day, hours }) =>
      `On ${dayWords(day.fromMs)} the clock is changed here: that day has ${fixed(hours, 0)} hours, drawn as 24.`,
  )

/** Which hours the rows count: "UTC+1". */
export function zoneWords(ms: number): string {
  const minutes = -new Date(ms).getTimezoneOffset()
  const size = Math.abs(minutes)
  const text = size % 60 === 0 ? String(size / 60) : `${Math.floor(size / 60)}:${String(size % 60).padStart(2, '0')}`
  return minutes === 0 ? 'UTC' : `UTC${minutes < 0 ? MINUS : '+'}${text}`
}

/** The same where there is room for six letters beside the strip's 00: else "here", and the words below say it. */
export const zoneShort = (ms: number): string => {
  const zone = zoneWords(ms)
  return zone.length > 6 ? 'here' : zone
}

/** "Rows run from midnight to midnight here, UTC+1." */
export const rowsWords = (ms: number): string => {
  const zone = zoneWords(ms)
  return zone === 'UTC' ? 'Rows run from 00 to 24 UTC.' : `Rows run from midnight to midnight here, ${zone}.`
}

/** The strip in words. */
export function stripWords(w: WindowsJson, both: WindowsJson | null, span: Span): string[] {
  const best = [...span.days]
    .map(day => ({ day, hours: hoursBetween(w.spells, day.fromMs, day.toMs) }))
    .reduce((a, b) => (b.hours > a.hours ? b : a))
  return [
    `${capital(targetWords(w.target))} in reach for ${hoursDigits(w.hours)} hours ${spanWords(span)}, in ${countOf(w.spells.length, 'window')}.`,
    ...(best.hours > 0 ? [`Most on ${dayWords(best.day.fromMs)}: ${fixed(best.hours, 1)} hours.`] : []),
    ...(both ? [`At both ends for ${hoursDigits(both.hours)} hours.`] : []),
  ]
}

const hoursBetween = (spells: readonly Times[], fromMs: number, toMs: number): number =>
  spells.reduce(
    (sum, s) => sum + Math.max(0, Math.min(toMs, instantMs(s.outUtc)) - Math.max(fromMs, instantMs(s.inUtc))),
    0,
  ) / HOUR_MS

/** Why nothing is in reach: what takes most of the hours in which it is up. */
export function noneWhy({ hindered, target }: Pick<WindowsJson, 'hindered' | 'target'>, mount: MountRecord): string {
  const [most, second] = hindered
  if (most === undefined) return WHEN.neverUp(target)
  const part = ({ to, hours }: { to: SpellEnd; hours: number }) =>
    `${hindranceWords(mount, to)} takes ${hoursDigits(hours)}${NBSP}h`
  return `Of the hours in which it is up, ${listed([most, second].flatMap(h => (h ? [part(h)] : [])))}.`
}

/** What begins and what ends a spell: "begins at your skyline"; and that it was on another day than the one that is shown. */
export function edgeWords(mount: MountRecord, by: SpellEnd, is: 'in' | 'out', ms: number, shown: Day): string {
  const otherDay = ms < shown.fromMs ? 'the day before; ' : ms >= shown.toMs ? 'the day after; ' : ''
  const verb = is === 'in' ? 'begins' : 'ends'
  return by === 'span'
    ? is === 'in'
      ? 'began before that'
      : 'goes on after that'
    : `${otherDay}${verb} at ${hindranceWords(mount, by)}`
}

export const PASSAGE_WORDS: Readonly<Record<PassageJson['what'], string>> = {
  rise: 'Rises',
  transit: 'Transit',
  set: 'Sets',
}

/** "15:32 UTC (16:32 here)" and "azimuth 62°, in the north-east". */
export const passageWords = (p: PassageJson): { time: string; where: string } => ({
  time: utcAndLocal(instantMs(p.utc)),
  where:
    p.what === 'transit'
      ? `elevation ${degrees(p.elDeg, 1)}, azimuth ${degrees(p.azDeg, 1)}`
      : `azimuth ${degrees(p.azDeg, 1)}, in the ${windOf(p.azDeg)}`,
})

/** "45.1° at 22:05 UTC" */
export const highestWords = (s: SpellJson): string =>
  `${degrees(s.maxElDeg, 1)} at ${utcAndLocal(instantMs(s.maxElUtc))}`

/** "0.2 dB", and what it is of; the loss one way where there are no echoes. */
export const pointingWords = (
  { rmsDeg, echoLossDb }: SpellJson['pointing'],
  target: TargetRecord,
): { value: string; note: string } => {
  const off = `the beam is expected ${roughDegrees(rmsDeg)} off (rms), corrections applied.`
  if (target.type === 'moon') return { value: lossWords(echoLossDb), note: `On own echoes, both ways; ${off}` }
  return { value: isBeamOffTarget(echoLossDb) ? `over 3${NBSP}dB` : decibels(echoLossDb / 2), note: `One way; ${off}` }
}

/** "northern, 12.3°" is said as "12.3° north". */
export const declinationWords = (deg: number): string =>
  `${degrees(Math.abs(deg), 1)}${NBSP}${deg < 0 ? 'south' : 'north'}`

/** "0.6 dB stronger than at mean distance" */
export const echoWords = (db: number): string =>
  Math.abs(db) < 0.05
    ? 'as at mean distance'
    : `${decibels(Math.abs(db))} ${db > 0 ? 'weaker' : 'stronger'} than at mean distance`

export const distanceWords = (km: number): string => `${fixed(km, km > 1e7 ? -5 : km > 1e6 ? -3 : 0)}${NBSP}km`

/** What is heard behind it, where that matters. */
export function noiseWords({ noise }: StandingJson): string[] {
  if (noise === null) return []
  return noise.near.map(near =>
    near === 'sun'
      ? `The Sun is ${degrees(noise.sunDeg!, 1)} away: its noise comes in by the beam’s edge and hides weak echoes. Keep the feed off the Sun itself.`
      : `The bright part of the Milky Way is ${degrees(noise.galaxyDeg, 1)} away: the sky behind is noisy, and weak echoes are harder to hear, the lower the band the more.`,
  )
}

/** "47.1° N, 9.3° E (JN47pc)" */
export const siteWords = ({ latDeg, lonDeg }: PlaceJson): string =>
  `${latitude(latDeg, 1)}, ${longitude(lonDeg, 1)} (${locatorFromPlace(latDeg, lonDeg, 6)})`

/** What the file holds, in a sentence. */
export function fileSays(w: WindowsJson, isBoth: boolean, span: Span): string {
  const from = `${utcDate(dateMs(span.days[0]!))} to ${utcDate(dateMs(span.days.at(-1)!))}`
  return `${countOf(w.spells.length, 'window')} of ${theTarget(w.target)}, ${hoursDigits(w.hours)} hours, ${from}, times in UTC; ${
    isBoth ? 'in reach here and above the horizon at the other end' : 'in reach, above skyline and minimum elevation'
  }.`
}

const isUpright = (deg: number): boolean => Math.abs(deg) < 0.5
/** "clockwise", beside the number. */
export const rollSide = (deg: number): string => (isUpright(deg) ? 'upright' : deg < 0 ? 'anticlockwise' : 'clockwise')
/** "23° clockwise", "upright" */
const rollWords = (deg: number): string => (isUpright(deg) ? 'upright' : `${fixed(Math.abs(deg), 0)}° ${rollSide(deg)}`)

/** "34° between the verticals: linear feeds lose 1.6 dB one way". */
export const offsetWords = (p: NonNullable<PolarisationRow['partner']>): string => {
  const size = Math.abs(p.offsetDeg)
  const loss = p.lossDb >= 20 ? `${fixed(20, 0)}${NBSP}dB and more` : decibels(p.lossDb)
  return size < 0.5
    ? 'The verticals of both ends agree: linear feeds lose nothing by it.'
    : `The verticals of both ends stand ${fixed(size, 0)}° apart, as the Moon sees them: two linear feeds of one plane lose ${loss} by it, one way.`
}

/** The pass in words: at its beginning, highest and end. */
export function passWords(rows: readonly PolarisationRow[]): string[] {
  const seen = rows.filter(r => r.rollDeg !== null)
  const [first, last] = [seen[0], seen.at(-1)]
  if (first === undefined || last === undefined) return []
  const high = seen.reduce((a, b) => (b.elDeg > a.elDeg ? b : a))
  const at = (r: PolarisationRow) => `${utcTime(instantMs(r.utc), 'minute')} ${rollWords(r.rollDeg!)}`
  return [`At ${at(first)}, highest at ${at(high)}, at ${at(last)} (UTC).`]
}

/** "7 h 39 min" */
export const spellLengthWords = (s: Times): string => duration(instantMs(s.outUtc) - instantMs(s.inUtc))
export const spellDay = (s: Times): string => dayOf(instantMs(s.inUtc)).key
