/** The calendar of windows: read back by ical.js, and by the letter of RFC 5545. */
import fc from 'fast-check'
import ICAL from 'ical.js'
import { describe, expect, it } from 'vitest'
import { folded } from '../../../src/core/export/icalendar.ts'
import { windows, windowsText } from '../../../src/core/questions.ts'
import type { FieldBook, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { answered } from '../../helpers/answered.ts'
import { someOf } from '../../helpers/some.ts'
import { bookOf, gravelPit } from '../../helpers/stations.ts'

const NOW = '2026-05-01T12:34:56Z'
const FROM = '2026-05-01T00:00:00Z'
type Wish = Partial<Parameters<typeof windowsText>[1]>

const wished = (o: Wish) =>
  ({ now: NOW, target: { type: 'moon' }, fromUtc: FROM, days: 20, as: 'ics', ...o }) as Parameters<
    typeof windowsText
  >[1]
function calendar(book: FieldBook, o: Wish = {}): string {
  return answered(windowsText(book, wished(o)))
}
const eventsOf = (text: string) =>
  new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map(c => ({ c, event: new ICAL.Event(c) }))

/** Commas, semicolons, backslashes, a line break and characters of two, three and four octets, one long word. */
const NAME = `Ridge, "east"; C:\\new 月の台 🌙 ${'Ü'.repeat(120)}\nby the gate`
const pit = (more: Partial<StationRecord> = {}) => bookOf(gravelPit({ name: NAME, ...more }))

describe('the calendar of windows, read back by ical.js', () => {
  it('holds every spell, to the second, with its own UID, stamped now, and the name unharmed', () => {
    const answer = answered(windows(pit(), wished({})))
    const { spells } = answer
    const events = eventsOf(calendar(pit()))
    expect(events.length).toBe(spells.length)
    expect(spells.length).toBeGreaterThan(18)
    events.forEach(({ c, event }, k) => {
      const s = spells[k]!
      expect(event.startDate.toJSDate().toISOString()).toBe(s.inUtc.replace('Z', '.000Z'))
      expect(event.endDate.toJSDate().toISOString()).toBe(s.outUtc.replace('Z', '.000Z'))
      expect(event.startDate.zone).toBe(ICAL.Timezone.utcTimezone)
      expect(String(c.getFirstPropertyValue('dtstamp'))).toBe('2026-05-01T12:34:56Z')
      expect(c.getFirstPropertyValue('transp')).toBe('TRANSPARENT')
      expect(event.summary).toBe(`Moon, ${NAME}`)
      expect(event.description).toContain(`Highest ${s.maxElDeg.toFixed(1)}° at ${s.maxElUtc.slice(11, 16)} UTC`)
      expect(event.description).toContain(`${Math.round(s.middle.distanceKm!)} km`)
      expect(event.description.includes('Milky Way')).toBe(s.middle.noise!.near.includes('galaxy'))
      expect(event.description.includes('of the Sun.')).toBe(s.middle.noise!.near.includes('sun'))
      expect(event.description.split('\n').length).toBeGreaterThanOrEqual(2)
    })
    expect(events.some(({ event }) => event.description.includes('Milky Way'))).toBe(true)
    expect(new Set(events.map(({ event }) => event.uid)).size).toBe(events.length)
  })

  it('keeps the UIDs when made again a little later, and has others for another station, target or feed', () => {
    const uids = (text: string) => eventsOf(text).map(({ event }) => event.uid)
    const first = uids(calendar(pit()))
    // A floor 0.2° higher: every spell a little shorter, and the same event.
    const again = uids(
      calendar(pit({ tolerance: { minElevationDeg: 8.2 } as StationRecord['tolerance'] }), {
        now: '2026-05-02T00:00:00Z',
      }),
    )
    expect(again).toEqual(first)
    for (const other of [
      calendar(pit({ id: 'another' })),
      calendar(pit(), { target: { type: 'sun' } }),
      calendar(pit({ feeds: [{ id: 'b', name: 'horn', frequencyMHz: 1296 }] })),
    ])
      expect(uids(other).filter(uid => first.includes(uid))).toEqual([])
  })

  it('tells two spells of one hour apart', () => {
    const gaps = [
      { azDeg: 0, elDeg: 89 },
      { azDeg: 178.9, elDeg: 89 },
      { azDeg: 179, elDeg: 5 },
      { azDeg: 180, elDeg: 5 },
      { azDeg: 180.1, elDeg: 89 },
      { azDeg: 181.9, elDeg: 89 },
      { azDeg: 182, elDeg: 5 },
      { azDeg: 183, elDeg: 5 },
      { azDeg: 183.1, elDeg: 89 },
    ]
    const events = eventsOf(calendar(pit({ horizonMask: gaps })))
    expect(events.length).toBeGreaterThan(30)
    expect(new Set(events.map(({ event }) => event.uid)).size).toBe(events.length)
  })

  it('is whole seconds where the span is not, and a calendar without events where there is no spell', () => {
    const [first] = eventsOf(
      calendar(pit(), {
        fromUtc: '2026-05-01T00:00:00.250Z',
        days: 1 / 24,
        target: { type: 'landmark', azDeg: 1, elDeg: 20 },
      }),
    )
    expect(first!.event.startDate.toJSDate().toISOString()).toBe('2026-05-01T00:00:01.000Z')
    expect(first!.event.endDate.toJSDate().toISOString()).toBe('2026-05-01T01:00:00.000Z')
    expect(eventsOf(calendar(pit(), { target: { type: 'landmark', azDeg: 1, elDeg: 2 } }))).toEqual([])
  })
})

describe('by the letter of RFC 5545', () => {
  const text = calendar(pit())

  it('ends every line with CRLF, has none above 75 octets, tears no character', () => {
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true)
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/)
    const lines = text.slice(0, -2).split('\r\n')
    expect(lines[0]).toBe('BEGIN:VCALENDAR')
    for (const line of someOf(lines)) {
      const bytes = new TextEncoder().encode(line)
      expect(bytes.length).toBeLessThanOrEqual(75)
      expect(new TextDecoder('utf-8', { fatal: true }).decode(bytes)).toBe(line)
    }
    expect(lines.filter(l => l.startsWith(' ')).length).toBeGreaterThan(20)
  })

  it('has what a calendar and an event must have, once (3.6, 3.6.1)', () => {
    for (const name of ['VERSION:2.0', 'PRODID:']) expect(text.split(`\r\n${name}`).length).toBe(2)
    const events = text.match(/BEGIN:VEVENT\r\n.*?END:VEVENT\r\n/gs)!
    expect(events.length).toBe(eventsOf(text).length)
    for (const event of events)
      for (const name of ['UID', 'DTSTAMP', 'DTSTART', 'DTEND', 'SUMMARY'])
        expect(event.split(`\r\n${name}:`).length).toBe(2)
  })

  it('folds any line so that unfolding gives it back', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 300 }), s => {
        const line = s.replace(/[\r\n]/g, '')
        const out = folded(line)
        expect(out.replaceAll('\r\n ', '')).toBe(line)
        for (const l of someOf(out.split('\r\n'))) expect(new TextEncoder().encode(l).length).toBeLessThanOrEqual(75)
      }),
    )
  })

  it('drops control characters and halves of characters from a name', () => {
    const [first] = eventsOf(calendar(pit({ name: 'a\u0007b\ud83cc\u2028d' })))
    expect(first!.event.summary).toBe('Moon, abc\nd')
  })
})
