/**
 * What to drive to: Sun and Moon over the coming minutes with both readings, and what happens to them next (rises, sets,
 * comes within reach, leaves it). The screen interpolates between the rows; the sky is asked here.
 */
import { aim, midRange } from '../mount/aim.ts'
import type { Built } from '../mount/slots.ts'
import { type Feed, isHighEnough, type Station } from '../records/station.ts'
import { siteFrame, topocentric } from '../sky/earthfixed.ts'
import { apparentDirection } from '../sky/refraction.ts'
import { bodyTrack } from '../sky/track.ts'
import { HOUR_MS, type UtcMs } from '../units.ts'
import { azElFromEnu } from '../vectors.ts'
import { type DialRow, dialRows, evenTimes } from './dialrows.ts'

export type BodyRow = DialRow & { distanceKm: number }

export type SkyEvent = 'rises' | 'sets' | 'comes-within-reach' | 'leaves-reach'

export interface DialBody {
  body: 'sun' | 'moon'
  rows: BodyRow[]
  /** The next that happens within 25 hours; null: nothing does. */
  event: { what: SkyEvent; utcMs: UtcMs } | null
}

const EVENT_STEP_MS = 300_000
const EVENT_SPAN_MS = 25 * HOUR_MS

/** @param stepMs and count of the rows from `now` on */
export function dialOf(
  station: Station,
  feed: Feed,
  built: Built,
  now: UtcMs,
  stepMs: number,
  count: number,
): DialBody[] {
  const { model } = station
  const frame = siteFrame(station.site)
  const mid = midRange(model, built)
  return (['sun', 'moon'] as const).map(body => {
    const track = bodyTrack(body, now, now + Math.max(EVENT_SPAN_MS, stepMs * count))
    const at = (utcMs: UtcMs) => {
      const airless = topocentric(track(utcMs), frame)
      const direction = apparentDirection(airless.direction, station.site.air, 'radio')
      return { direction, ...azElFromEnu(direction), distanceKm: airless.distanceKm }
    }
    const rows = dialRows(station, feed, built, at, evenTimes(now, stepMs, count), ({ distanceKm }) => ({ distanceKm }))
    const stateAt = (utcMs: UtcMs): 'down' | 'up' | 'reached' => {
      const place = at(utcMs)
      if (place.el < 0) return 'down'
      if (!isHighEnough(station, feed, place.az, place.el)) return 'up'
      return aim(model, built, 'beam', place.direction, mid)?.inside ? 'reached' : 'up'
    }
    return { body, rows, event: nextEvent(stateAt, now) }
  })
}

/** The first change of state, to ten seconds. */
export function nextEvent(stateAt: (utcMs: UtcMs) => 'down' | 'up' | 'reached', now: UtcMs): DialBody['event'] {
  const first = stateAt(now)
  for (let t = now + EVENT_STEP_MS; t <= now + EVENT_SPAN_MS; t += EVENT_STEP_MS) {
    const next = stateAt(t)
    if (next === first) continue
    let a = t - EVENT_STEP_MS
    let b = t
    while (b - a > 10_000) {
      const m = Math.round((a + b) / 2)
      if (stateAt(m) === first) a = m
      else b = m
    }
    const then = stateAt(b)
    const what: SkyEvent =
      first === 'reached'
        ? 'leaves-reach'
        : then === 'reached'
          ? 'comes-within-reach'
          : first === 'down'
            ? 'rises'
            : 'sets'
    return { what, utcMs: b }
  }
  return null
}
