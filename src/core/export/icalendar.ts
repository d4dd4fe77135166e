/**
 * Windows as a calendar: RFC 5545, an event a spell, all in UTC; CRLF, folded at 75 octets, escaped. The events are shown as free
 * time: a spell does not mark the person as busy.
 */
import type { SpellJson, WindowsJson } from '../plan/windowsjson.ts'
import type { TargetRecord } from '../records/fieldbook.ts'
import { msFromUtc, utcFromMs } from '../records/instant.ts'
import { textFromTarget } from '../records/targetname.ts'
import type { UtcMs } from '../units.ts'

/** `20260501T120000Z`. */
const stamp = (ms: UtcMs): string => utcFromMs(Math.floor(ms / 1000) * 1000).replaceAll(/[-:]/g, '')

/** TEXT of RFC 5545 3.3.11: no control characters, no half characters; a line break is two letters. */
const escaped = (text: string): string =>
  text
    .replace(/\r\n|[\r\n\u2028\u2029]/g, '\n')
    .replace(/[\p{Cc}\ud800-\udfff]/gu, c => (c === '\n' ? c : ''))
    .replace(/[\\;,]/g, c => `\\${c}`)
    .replaceAll('\n', '\\n')

const octets = (codePoint: number): number =>
  codePoint < 0x80 ? 1 : codePoint < 0x800 ? 2 : codePoint < 0x10000 ? 3 : 4

/** A content line folded: no physical line above 75 octets without its break, and no character torn (3.1). */
export function folded(line: string): string {
  let out = ''
  let used = 0
  for (const c of line) {
    const size = octets(c.codePointAt(0)!)
    if (used + size > 75) {
      out += '\r\n '
      used = 1
    }
    out += c
    used += size
  }
  return out
}

const titleOf = (target: TargetRecord): string =>
  ({ moon: 'Moon', sun: 'Sun' })[target.type as string] ??
  (target.type === 'source' ? target.name : textFromTarget(target))

/** The facts of a spell, a sentence a line. */
function told({ maxElDeg, maxElUtc, middle, hours }: SpellJson): string {
  const { distanceKm, echoPathDb, noise } = middle
  const near = noise?.near ?? []
  return [
    `${hours.toFixed(1)} hours. Highest ${maxElDeg.toFixed(1)}° at ${maxElUtc.slice(11, 16)} UTC, declination ${middle.declinationDeg.toFixed(1)}°.`,
    ...(distanceKm === null || echoPathDb === null
      ? []
      : [
          `${Math.round(distanceKm)} km: echoes ${Math.abs(echoPathDb).toFixed(1)} dB ${echoPathDb > 0 ? 'weaker' : 'stronger'} than at the mean distance.`,
        ]),
    ...(near.includes('galaxy') ? ['Noisy sky: within 10° of the bright part of the Milky Way.'] : []),
    ...(near.includes('sun') ? ['Noisy sky: within 10° of the Sun.'] : []),
  ].join('\n')
}

/**
 * The calendar as text. A spell keeps its UID from export to export as long as its middle stays in the same hour, so that a calendar
 * that takes the file again moves the event and makes no second one.
 *
 * @param stationId  of the record: names may change
 * @param now        when it is made: DTSTAMP
 */
export function windowsCalendar(w: WindowsJson, stationId: string, now: UtcMs): string {
  const taken = new Map<string, number>()
  const title = titleOf(w.target)
  const events = w.spells.flatMap(s => {
    // Whole seconds, inward; what is shorter than one is no event.
    const [a, b] = [Math.ceil(msFromUtc(s.inUtc) / 1000) * 1000, Math.floor(msFromUtc(s.outUtc) / 1000) * 1000]
    if (b <= a) return []
    const hour = stamp(msFromUtc(s.middle.utc)).slice(0, 11)
    const count = (taken.get(hour) ?? 0) + 1
    taken.set(hour, count)
    const uid = `${hour}${count === 1 ? '' : `-${count}`}-${textFromTarget(w.target)}-${w.feed}-${stationId}@moonplumb`
    return [
      'BEGIN:VEVENT',
      `UID:${escaped(uid)}`,
      `DTSTAMP:${stamp(now)}`,
      `DTSTART:${stamp(a)}`,
      `DTEND:${stamp(b)}`,
      `SUMMARY:${escaped(`${title}, ${w.station}`)}`,
      `DESCRIPTION:${escaped(told(s))}`,
      'TRANSP:TRANSPARENT',
      'END:VEVENT',
    ]
  })
  const lines = ['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:-//Moonplumb//Windows//EN', ...events, 'END:VCALENDAR']
  return lines.map(line => `${folded(line)}\r\n`).join('')
}
