/** The strip: every bar lies in its day, and is as long as the hours that are said. */
import fc from 'fast-check'
import { afterEach, describe, expect, it } from 'vitest'
import { windows } from '../../../src/core/questions.ts'
import { spellStretches, upOf } from '../../../src/ui/when/asks.ts'
import { comingSpan, monthOfKey, monthSpan, spanWish } from '../../../src/ui/when/calendar.ts'
import { ROW_HEIGHT, rowAtTap, type Stretch, stripShapes, upStretches } from '../../../src/ui/when/strip-geometry.ts'
import { answered } from '../../helpers/answered.ts'
import { plain } from '../../helpers/plain.ts'
import { someOf } from '../../helpers/some.ts'
import { bookOf, gravelPit, weir } from '../../helpers/stations.ts'

const zone = process.env.TZ
afterEach(() => {
  process.env.TZ = zone
})
const HOUR = 3_600_000

/** Stretches that follow each other, from gaps and lengths in minutes. */
const stretches = (fromMs: number) =>
  fc
    .array(fc.tuple(fc.integer({ min: 1, max: 1500 }), fc.integer({ min: 1, max: 1500 })), { maxLength: 40 })
    .map(list => {
      let ms = fromMs - 12 * HOUR
      return list.map(([gap, length]): Stretch => {
        const a = ms + 60_000 * gap
        ms = a + 60_000 * length
        return [a, ms]
      })
    })

describe('stripShapes', () => {
  it('keeps every bar between 00 and 24, as long as the hours that it says, on days of 23 and 25 hours too', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('UTC', 'Europe/Berlin', 'America/St_Johns'),
        fc.constantFrom('2026-03', '2026-10', '2026-11', '2026-02').chain(key => {
          const from = Date.UTC(Number(key.slice(0, 4)), Number(key.slice(5)) - 1, 1)
          return fc.tuple(fc.constant(key), stretches(from), stretches(from))
        }),
        fc.boolean(),
        (name, [key, own, up], isBoth) => {
          process.env.TZ = name
          const span = monthSpan(monthOfKey(key)!)
          const s = stripShapes({ days: span.days, own, both: isBoth ? up : null, up, nowMs: span.fromMs + 90 * HOUR })
          expect(s.rows).toHaveLength(span.days.length)
          let sum = 0
          for (const [k, row] of someOf(s.rows.entries())) {
            for (const bar of [...row.thick, ...row.half, ...row.thin]) {
              expect(bar.x).toBeGreaterThanOrEqual(s.left - 1e-9)
              expect(bar.x + bar.width).toBeLessThanOrEqual(s.right + 1e-9)
              expect(bar.width).toBeGreaterThan(0)
            }
            const dayHours = (span.days[k]!.toMs - span.days[k]!.fromMs) / HOUR
            const drawn = row.thick.reduce((a, bar) => a + bar.width, 0) / (s.right - s.left)
            expect(drawn * dayHours).toBeCloseTo(row.hours, 8)
            sum += row.hours
          }
          const counted = isBoth ? up : own
          const all = counted.reduce(
            (a, [x, y]) => a + Math.max(0, Math.min(y, span.toMs) - Math.max(x, span.fromMs)),
            0,
          )
          expect(sum).toBeCloseTo(all / HOUR, 6)
        },
      ),
      { numRuns: 150 },
    )
  })

  it('draws what the core says: the hours of the rows add up to the whole, and reach lies within up', () => {
    for (const [station, name] of [
      [gravelPit(), 'UTC'],
      [weir('az-over-el', -34), 'America/St_Johns'],
      [weir('ha-dec', 52), 'Europe/Berlin'],
    ] as const) {
      process.env.TZ = name
      const span = comingSpan(Date.UTC(2026, 9, 12, 10))
      const told = answered(
        windows(bookOf(station), {
          now: '2026-10-12T10:00:00Z',
          target: { type: 'moon' },
          ...spanWish(span),
        }),
      )
      const own = spellStretches(told.spells)
      const up = upOf(told)
      const s = stripShapes({ days: span.days, own, both: null, up, nowMs: span.fromMs })
      expect(s.rows.reduce((a, row) => a + row.hours, 0)).toBeCloseTo(told.hours, 6)
      expect(told.hours).toBeGreaterThan(20)
      for (const row of someOf(s.rows))
        for (const bar of row.thick)
          expect(
            row.thin.some(t => t.x <= bar.x + 1e-6 && t.x + t.width >= bar.x + bar.width - 1e-6),
            row.key,
          ).toBe(true)
    }
  })

  it('names Sundays, the first of a month and the first row; marks now in its row, and nothing of a day that is not there', () => {
    const span = comingSpan(Date.UTC(2026, 10, 27, 13))
    const strip = { days: span.days, own: [], both: null, up: [] }
    const s = stripShapes({ ...strip, nowMs: Date.UTC(2026, 10, 28, 6) })
    const labels = s.rows.map(row => plain(row.label))
    expect(labels.slice(0, 6)).toEqual(['27 Nov', '28', 'Sun 29', '30', '1 Dec', '2'])
    expect(s.rows.filter(row => row.isToday).map(row => row.key)).toEqual(['2026-11-28'])
    expect(s.now!.x).toBeCloseTo(s.left + (s.right - s.left) / 4, 0)
    expect(s.rows[0]!.hoursText).toBe('–')
    expect(stripShapes({ ...strip, nowMs: span.toMs }).now).toBeNull()
  })

  it('finds the day that a tap means', () => {
    const span = comingSpan(Date.UTC(2026, 10, 27))
    const s = stripShapes({ days: span.days, own: [], both: null, up: [], nowMs: 0 })
    expect(rowAtTap(s, s.top - 1)).toBeNull()
    expect(rowAtTap(s, s.bottom + 1)).toBeNull()
    for (const [k, row] of someOf(s.rows.entries())) expect(rowAtTap(s, s.top + ROW_HEIGHT * (k + 0.5))).toBe(row.key)
  })
})

describe('upStretches', () => {
  const pass = (what: 'rise' | 'transit' | 'set', ms: number, elDeg = 0) => ({ what, ms, elDeg })

  it('goes from rise to set, open at the ends of the span', () => {
    expect(
      upStretches([pass('set', 5), pass('rise', 20), pass('transit', 25, 40), pass('set', 30)], 0, 50, true),
    ).toEqual([
      [0, 5],
      [20, 30],
    ])
    expect(upStretches([pass('rise', 20)], 0, 50, false)).toEqual([[20, 50]])
  })

  it('is all of it for what never sets, nothing for what never rises', () => {
    expect(upStretches([pass('transit', 9, 60)], 0, 50, false)).toEqual([[0, 50]])
    expect(upStretches([pass('transit', 9, -3)], 0, 50, false)).toEqual([])
    expect(upStretches([], 0, 50, true)).toEqual([[0, 50]])
    expect(upStretches([], 0, 50, false)).toEqual([])
  })
})
