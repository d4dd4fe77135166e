/**
 * Days as a strip: one row a day from midnight to midnight, a thick bar in reach, a thin line while the target is up, the hours at the
 * right. With the other end of a contact the thick bar is what both have, and a bar half as high what is in reach here alone. A row
 * is as long as its day, of 23 or 25 hours where the clock is changed. Drawing units, y down.
 */

import { HOUR_MS } from '../../core/units.ts'
import { fixed, NBSP, NONE } from '../kit/format.ts'
import { n1 } from '../kit/marks.ts'
import { type Day, MONTH_NAMES } from './calendar.ts'

/** From one instant to another, ms. */
export type Stretch = readonly [fromMs: number, toMs: number]

export interface Strip {
  days: readonly Pick<Day, 'fromMs' | 'toMs' | 'key' | 'date' | 'month' | 'isSunday'>[]
  /** In reach here; in reach at both ends, null without a partner; above the horizon. */
  own: readonly Stretch[]
  both: readonly Stretch[] | null
  up: readonly Stretch[]
  nowMs: number
  width?: number
}

export interface StripBar {
  x: number
  width: number
}

export interface StripRow {
  key: string
  /** Its middle. */
  y: number
  label: string
  isToday: boolean
  /** Hours of the thick bars. */
  hours: number
  hoursText: string
  thick: StripBar[]
  half: StripBar[]
  thin: StripBar[]
}

export interface StripShapes {
  width: number
  height: number
  left: number
  right: number
  top: number
  bottom: number
  rows: StripRow[]
  hours: { x: number; label: string }[]
  now: { x: number; y1: number; y2: number } | null
}

export const ROW_HEIGHT = 16
export const THICK = 11
export const HALF = 5
const LEFT = 66
const RIGHT = 56
const TOP = 20

/** The parts of some stretches that lie in a day. */
const within = (stretches: readonly Stretch[], { fromMs, toMs }: { fromMs: number; toMs: number }): Stretch[] =>
  stretches.map(([a, b]): Stretch => [Math.max(a, fromMs), Math.min(b, toMs)]).filter(([a, b]) => b > a)

export const totalHours = (stretches: readonly Stretch[]): number =>
  stretches.reduce((sum, [a, b]) => sum + (b - a), 0) / HOUR_MS

export const hoursInDay = (stretches: readonly Stretch[], day: { fromMs: number; toMs: number }): number =>
  totalHours(within(stretches, day))

/** "Sun 6", "1 Dec", "7". The first row says its month too, except on a Sunday. */
const labelOf = (day: Strip['days'][number], isFirst: boolean): string =>
  [day.isSunday && 'Sun', String(day.date), (day.date === 1 || (isFirst && !day.isSunday)) && MONTH_NAMES[day.month]]
    .filter(Boolean)
    .join(NBSP)

export function stripShapes(s: Strip): StripShapes {
  const width = s.width ?? 358
  const [left, right] = [LEFT, width - RIGHT]
  const bottom = TOP + ROW_HEIGHT * s.days.length
  const rows = s.days.map((day, k): StripRow => {
    const x = (ms: number) => left + ((right - left) * (ms - day.fromMs)) / (day.toMs - day.fromMs)
    const bars = (stretches: readonly Stretch[]): StripBar[] =>
      within(stretches, day).map(([a, b]) => ({ x: x(a), width: x(b) - x(a) }))
    const counted = s.both ?? s.own
    const hours = hoursInDay(counted, day)
    return {
      key: day.key,
      y: TOP + ROW_HEIGHT * (k + 0.5),
      label: labelOf(day, k === 0),
      isToday: s.nowMs >= day.fromMs && s.nowMs < day.toMs,
      hours,
      hoursText: hours === 0 ? NONE : `${hours < 0.05 ? '<0.1' : fixed(hours, 1)}${NBSP}h`,
      thick: bars(counted),
      half: s.both === null ? [] : bars(s.own),
      thin: bars(s.up),
    }
  })
  const today = s.days.findIndex((_, k) => rows[k]!.isToday)
  const day = s.days[today]
  return {
    width,
    height: bottom + 2,
    left,
    right,
    top: TOP,
    bottom,
    rows,
    hours: [0, 6, 12, 18, 24].map(h => ({
      x: n1(left + ((right - left) * h) / 24),
      label: String(h).padStart(2, '0'),
    })),
    now: day
      ? {
          x: n1(left + ((right - left) * (s.nowMs - day.fromMs)) / (day.toMs - day.fromMs)),
          y1: TOP + ROW_HEIGHT * today - 2,
          y2: TOP + ROW_HEIGHT * (today + 1) + 2,
        }
      : null,
  }
}

/** Which day a tap means; null above and below the rows. */
export function rowAtTap(shapes: Pick<StripShapes, 'rows' | 'top'>, y: number): string | null {
  const k = Math.floor((y - shapes.top) / ROW_HEIGHT)
  return shapes.rows[k]?.key ?? null
}

/**
 * The stretches in which a target is up, from its risings and settings; up all along where it never sets but is seen to be up.
 *
 * @param isUp  whether it is known to be up at some time of the span: asked where it neither rises nor sets
 */
export function upStretches(
  passages: readonly { what: 'rise' | 'transit' | 'set'; ms: number; elDeg: number }[],
  fromMs: number,
  toMs: number,
  isUp: boolean,
): Stretch[] {
  const turns = passages.filter(p => p.what !== 'transit').sort((a, b) => a.ms - b.ms)
  if (turns.length === 0) return isUp || passages.some(p => p.elDeg > 0) ? [[fromMs, toMs]] : []
  const out: Stretch[] = []
  let from: number | null = turns[0]!.what === 'set' ? fromMs : null
  for (const { what, ms } of turns) {
    if (what === 'rise') from ??= ms
    else if (from !== null) {
      out.push([from, ms])
      from = null
    }
  }
  if (from !== null) out.push([from, toMs])
  return out
}
