/**
 * Sun and Moon now with the readings to dial, and the sky for the drawings: asked of the worker for the current station,
 * kept fresh while something watches. Between the worker's rows (ten seconds apart) the reading is a straight line.
 */
import { computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { BodyRow, DialBody } from '../core/plan/dial.ts'
import type { Landscape } from '../core/plan/landscape.ts'
import type { Answer, Fault } from '../core/records/answer.ts'
import { trueMsAt } from '../core/records/clockchecks.ts'
import type { FieldBook, StationRecord } from '../core/records/fieldbook.ts'
import { type Asked, ask } from '../worker/ask.ts'
import { fieldBook } from './book.ts'
import { feedHere } from './chosenfeed.ts'
import { now } from './now.ts'
import { whileSeen } from './whileseen.ts'

const STEP_S = 10
const COUNT = 61
/** Asked again when this much of the rows is used up. */
const FRESH_MS = 400_000

interface Held<T> {
  station: StationRecord | null
  feed: string | null
  askedMs: number
  value: T | null
  faults: readonly Fault[]
}

const NOTHING = { station: null, feed: null, askedMs: 0, value: null, faults: [] } as const

const bookOf = (station: StationRecord, utc: string): FieldBook => ({
  format: 'moonplumb-fieldbook',
  version: 1,
  exportedUtc: utc,
  stations: [station],
})

/** A question about the chosen feed that is asked again when station or feed change or its answer has aged, while it is watched. */
export function watchedQuestion<T>(
  asking: (book: FieldBook, about: { now: string; feed: string }) => Promise<Asked<Answer<T>>>,
  ageMs: number,
): ReadonlySignal<Held<T>> {
  let stop: (() => void) | undefined
  let latest = 0
  const held: Signal<Held<T>> = signal<Held<T>>(NOTHING, {
    watched() {
      const later = setTimeout(() => {
        const dispose = effect(() => void renew(fieldBook.station.value))
        const rest = whileSeen(5000, () => {
          if (Date.now() - held.peek().askedMs >= ageMs) void renew(fieldBook.station.peek())
        })
        stop = () => {
          dispose()
          rest()
        }
      }, 0)
      stop = () => clearTimeout(later)
    },
    unwatched() {
      stop?.()
      stop = undefined
    },
  })
  async function renew(station: StationRecord | null): Promise<void> {
    const mine = ++latest
    if (station === null) {
      held.value = NOTHING
      return
    }
    const feed = feedHere(station)
    const askedMs = Date.now()
    const { station: of, feed: through, value, askedMs: before } = held.peek()
    if (of === station && through === feed && value !== null && askedMs >= before && askedMs - before < ageMs) return // young enough
    const utc = new Date(trueMsAt(station, askedMs)).toISOString()
    const asked = await asking(bookOf(station, utc), { now: utc, feed })
    if (mine !== latest || asked.kind !== 'answer') return
    held.value = asked.value.ok
      ? { station, feed, askedMs, value: asked.value.value, faults: [] }
      : { station, feed, askedMs, value: null, faults: asked.value.faults }
  }
  return held
}

const dialHeld = watchedQuestion<DialBody[]>(
  (book, about) => ask('dial', [book, { ...about, stepS: STEP_S, count: COUNT }]),
  FRESH_MS,
)

/** One body now. */
export interface BodyNow extends BodyRow {
  body: 'sun' | 'moon'
  event: DialBody['event']
}

const between = (a: number | null, b: number | null, f: number): number | null =>
  a === null || b === null ? null : a + (b - a) * f

function bodyAt(dial: DialBody, utcMs: number): BodyNow | null {
  const first = dial.rows[0]
  if (!first) return null
  const s = (utcMs - first.utcMs) / (1000 * STEP_S)
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
    // A jump from one pose to the other is not a line.
    lower: f < 0.5 || Math.abs((b.lower ?? 0) - (a.lower ?? 0)) < 30 ? between(a.lower, b.lower, f) : b.lower,
    upper: f < 0.5 || Math.abs((b.upper ?? 0) - (a.upper ?? 0)) < 60 ? between(a.upper, b.upper, f) : b.upper,
    reachable: a.reachable,
    distanceKm: a.distanceKm,
  }
}

/** Sun and Moon at this second; empty before the first answer. */
export const bodiesNow: ReadonlySignal<readonly BodyNow[]> = computed(() => {
  const { value, station } = dialHeld.value
  if (value === null || station === null) return []
  const utcMs = trueMsAt(station, now.value)
  return value.map(d => bodyAt(d, utcMs)).filter(b => b !== null)
})

/** The sky for the drawings; ten minutes old at most. */
export const landscape: ReadonlySignal<Landscape | null> = (() => {
  const held = watchedQuestion<Landscape>((book, about) => ask('landscape', [book, about]), 600_000)
  return computed(() => held.value.value)
})()
