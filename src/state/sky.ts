/**
 * Sun and Moon now with the readings to drive to, and the sky for the drawings: asked of the worker for the current station,
 * kept fresh while something watches. Between the worker's rows the reading is a straight line.
 */
import { computed, type ReadonlySignal } from '@preact/signals'
import type { BodyRow, DialBody } from '../core/plan/dial.ts'
import { ask, isoOf, soundValue, trueNowMs, watched } from './ask.ts'
import { feedHere } from './chosenfeed.ts'
import { clockMs, clockSpeed, isOwnTime, now } from './now.ts'
import { answeredOfFeed } from './offeed.ts'

/** Seconds between rows; a clock that may hurry by 600 × has the straight lines longer, so that they last it for 12 s. */
const STEP_S = 10
const OWN_STEP_S = 120
const COUNT = 61
/** Asked again when this much of the rows is used up, and never more often than every 4 s of the phone's. */
const FRESH_MS = 400_000
const LEAST_MS = 4000

const dialled = watched({
  about: station => ({ feed: feedHere(station), stepS: isOwnTime.value ? OWN_STEP_S : STEP_S }),
  ask: (station, about) => {
    // What the screens show is up to a tick old, and of a clock that hurries that is minutes: the rows begin there.
    const fromMs = clockMs() - (clockSpeed.peek() > 1 ? 1000 * clockSpeed.peek() : 0)
    return ask(station, 'dial', { ...about, count: COUNT }, { at: isoOf(trueNowMs(station, fromMs)) })
  },
  ageMs: () => Math.max(FRESH_MS, LEAST_MS * clockSpeed.peek()),
  tick: now,
})

/** One body now. */
export interface BodyNow extends BodyRow {
  body: 'sun' | 'moon'
  event: DialBody['event']
}

const between = (a: number | null, b: number | null, f: number): number | null =>
  a === null || b === null ? null : a + (b - a) * f

function bodyAt(dial: DialBody, stepS: number, utcMs: number): BodyNow | null {
  const first = dial.rows[0]
  if (!first) return null
  const s = (utcMs - first.utcMs) / (1000 * stepS)
  const k = Math.max(0, Math.min(dial.rows.length - 2, Math.floor(s)))
  const a = dial.rows[k]!
  const b = dial.rows[k + 1]!
  const f = s - k
  if (f < -1 || f > 2) return null
  const turn = Math.abs(b.azDeg - a.azDeg) > 180
  return {
    body: dial.body,
    event: dial.event,
    utcMs,
    azDeg: turn ? b.azDeg : a.azDeg + (b.azDeg - a.azDeg) * f,
    elDeg: a.elDeg + (b.elDeg - a.elDeg) * f,
    // A jump from one pose to the other is not interpolated.
    lower: f < 0.5 || Math.abs((b.lower ?? 0) - (a.lower ?? 0)) < 30 ? between(a.lower, b.lower, f) : b.lower,
    upper: f < 0.5 || Math.abs((b.upper ?? 0) - (a.upper ?? 0)) < 60 ? between(a.upper, b.upper, f) : b.upper,
    reachable: a.reachable,
    distanceKm: a.distanceKm,
  }
}

/** Sun and Moon at this second; empty before the first answer. */
export const bodiesNow: ReadonlySignal<readonly BodyNow[]> = computed(() => {
  const { station, about } = dialled.held.value
  const bodies = soundValue(dialled.held.value)
  if (bodies === null || station === null || about === null) return []
  const utcMs = trueNowMs(station, now.value)
  return bodies.map(d => bodyAt(d, about.stepS, utcMs)).filter(b => b !== null)
})

/** The sky for the drawings; ten minutes old at most. */
export const landscape = answeredOfFeed('landscape', { ageMs: 600_000 })
