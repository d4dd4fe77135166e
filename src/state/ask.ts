/**
 * How the core is asked about a station, once and as long as something watches. "Now" means one thing in every question: the
 * true time by the clock check that counts, not what the phone's clock shows.
 */
import { computed, effect, type ReadonlySignal, signal } from '@preact/signals'
import type * as questions from '../core/questions.ts'
import type { Answer, Fault } from '../core/records/answer.ts'
import { trueMsAt } from '../core/records/clockchecks.ts'
import type { FieldBook, StationRecord } from '../core/records/fieldbook.ts'
import { MINUTE_MS } from '../core/units.ts'
import { type Asked, askWorker } from '../worker/ask.ts'
import { fieldBook } from './book.ts'
import { clockMs as clockHere, clockPut, now, takeStamp } from './now.ts'
import { whileSeen } from './whileseen.ts'

type All = typeof questions
/** The questions about a station at an instant. */
type Question = {
  [K in keyof All]: All[K] extends (book: FieldBook, about: infer A) => Answer<unknown>
    ? A extends { now: string }
      ? K
      : never
    : never
}[keyof All]
type About<K extends Question> = Omit<Parameters<All[K]>[1], 'now' | 'station'>
/** Questions that need only a feed. */
export type AskedOfFeed = { [K in Question]: { feed: string } extends About<K> ? K : never }[Question]
export type ValueOf<K extends Question> = ReturnType<All[K]> extends Answer<infer T> ? T : never

export type Told<T> =
  | { kind: 'told'; value: T }
  /** `faults`: what the core refuses in this station. Empty: the program or the worker broke. */
  | { kind: 'failed'; why: 'refused' | 'threw' | 'worker-lost'; message: string; faults: readonly Fault[] }
  /** Overtaken by a newer question of its topic; no longer wanted. */
  | null

/** The true time at a station, Unix ms. @param clockMs  what the phone's clock shows */
export const trueNowMs = (station: Pick<StationRecord, 'clockChecks'>, clockMs = clockHere()): number =>
  trueMsAt(station, clockMs)

/** The true time at the station that is shown, once a second while something watches. */
export const trueNow: ReadonlySignal<number> = computed(() => trueNowMs(fieldBook.station.value ?? {}, now.value))

/** The same, taken now: for what a person notes with a time, beside a sighting, whose own stamp keeps the phone's time. */
export const takeTrueMs = (): number => trueNowMs(fieldBook.station.peek() ?? {}, takeStamp().utcMs)

export const isoOf = (ms: number): string => new Date(ms).toISOString()

/** The true time taken now, as a record keeps it. */
export const takeUtc = (): string => isoOf(takeTrueMs())

/** A book of one station, as questions take it. */
const bookOfOne = (station: StationRecord, utc: string): FieldBook => ({
  format: 'moonplumb-fieldbook',
  version: 1,
  exportedUtc: utc,
  stations: [station],
})

interface AskOptions {
  /** Which questions overtake this one; default: those of its name. */
  topic?: string
  /** The instant that the answer is for; default: now. ISO 8601. */
  at?: string
}

/** An answer of the worker as the screens take it. */
export function toldOf<T>(asked: Asked<Answer<T>>): Told<T> {
  if (asked.kind === 'overtaken') return null
  if (asked.kind === 'failed') return { kind: 'failed', why: asked.why, message: asked.message, faults: [] }
  if (asked.value.ok) return { kind: 'told', value: asked.value.value }
  const { faults } = asked.value
  return { kind: 'failed', why: 'refused', message: faults.map(f => `${f.path}: ${f.rule}`).join('. '), faults }
}

/** Asks the core about a station, off the page. */
export async function ask<K extends Question>(
  station: StationRecord,
  question: K,
  about: About<K>,
  { topic = question, at = isoOf(trueNowMs(station)) }: AskOptions = {},
): Promise<Told<ValueOf<K>>> {
  const args = [bookOfOne(station, at), { ...about, now: at }] as unknown as Parameters<typeof askWorker<K>>[1]
  return toldOf((await askWorker(question, args, topic)) as Asked<Answer<ValueOf<K>>>)
}

/** The value of an answer; null where there is none. */
export const valueTold = <T>(told: Told<T>): T | null => (told?.kind === 'told' ? told.value : null)

/** A question that is kept answered while something watches it. */
export interface HeldAnswer<T, A> {
  /** The station that this is about. */
  station: StationRecord | null
  /** What the value was asked about besides the station. */
  about: A | null
  /** The last answer for this station; stays while a newer one is on its way, or fails. */
  value: T | null
  /** The station's records as they were when that was asked. */
  toldOf: StationRecord | null
  /** A newer answer is on its way: what is shown does not include the latest records yet. */
  stale: boolean
  /** What the core refuses in this station. */
  faults: readonly Fault[]
  /** The program or the worker broke. */
  failure: { why: 'threw' | 'worker-lost'; message: string } | null
}

interface Watched<T, A> {
  held: ReadonlySignal<HeldAnswer<T, A>>
  /** Asks again, however young the answer is. */
  refresh(): void
}

/** The value, unless the core refuses the records as they are now. */
export const soundValue = <T>({ value, faults }: HeldAnswer<T, unknown>): T | null => (faults.length > 0 ? null : value)

const NOTHING = {
  station: null,
  about: null,
  value: null,
  toldOf: null,
  stale: false,
  faults: [],
  failure: null,
} as const
/** How often the age of an answer is checked, and how soon one that failed is asked for again. */
const LOOK_MS = 5000
const RETRY_MS = MINUTE_MS

/**
 * Asked again when the station or `about` changes, and when the answer has aged.
 *
 * @param o.about  reads signals; the same JSON is the same question
 */
export function watched<T, A>(o: {
  about: (station: StationRecord) => A
  ask: (station: StationRecord, about: A) => Promise<Told<T>>
  /** How long an answer is fresh, ms; read again at each check. */
  ageMs: number | (() => number)
  /** Looked at with every tick of this, so that an answer that has aged is asked for at once. */
  tick?: ReadonlySignal<unknown>
  station?: ReadonlySignal<StationRecord | null>
  clock?: () => number
}): Watched<T, A> {
  const { station: current = fieldBook.station, clock = clockHere } = o
  const again = signal(0)
  let stop: (() => void) | undefined
  let latest = 0
  /** What the present answer is for, and since when. */
  let known: { station: StationRecord; key: string; turn: number; fromMs: number; isAnswer: boolean } | null = null
  // A clock that was set back does not make an answer fresher.
  const isYoung = (of: { fromMs: number; isAnswer: boolean }) => {
    const age = clock() - of.fromMs
    return age >= 0 && age < (of.isAnswer ? (typeof o.ageMs === 'number' ? o.ageMs : o.ageMs()) : RETRY_MS)
  }
  const renewAged = () => {
    if (known !== null && !isYoung(known)) again.value = again.peek() + 1
  }

  const held = signal<HeldAnswer<T, A>>(NOTHING, {
    watched() {
      // Not at once: a signal must not change while something begins to watch it.
      const soon = setTimeout(() => {
        const dispose = effect(() => {
          const station = current.value
          void clockPut.value // an answer for another time is no longer fresh
          void renew(station, station && o.about(station), again.value)
        })
        const rest = whileSeen(LOOK_MS, renewAged)
        const unheard = o.tick?.subscribe(renewAged)
        stop = () => {
          unheard?.()
          dispose()
          rest()
        }
      }, 0)
      stop = () => clearTimeout(soon)
    },
    unwatched() {
      stop?.()
      stop = undefined
    },
  })

  async function renew(station: StationRecord | null, about: A | null, turn: number): Promise<void> {
    const key = JSON.stringify(about)
    const nowMs = clock()
    const isSame = known?.station === station && known?.key === key && known?.turn === turn
    if (isSame && isYoung(known!)) return
    const mine = ++latest
    known = null
    if (station === null || about === null) {
      held.value = NOTHING
      return
    }
    const before = held.peek()
    held.value =
      before.station?.id === station.id ? { ...before, station, stale: true } : { ...NOTHING, station, stale: true }
    const told = await o.ask(station, about)
    if (mine !== latest || told === null) return
    const isAnswer = told.kind === 'told' || told.faults.length > 0
    known = { station, key, turn, fromMs: nowMs, isAnswer }
    const shown = { ...held.peek(), stale: false }
    if (told.kind === 'told')
      held.value = { station, about, value: told.value, toldOf: station, stale: false, faults: [], failure: null }
    else if (told.why === 'refused') held.value = { ...shown, faults: told.faults, failure: null }
    else held.value = { ...shown, failure: { why: told.why, message: told.message } }
  }

  return {
    held,
    refresh() {
      again.value++
    },
  }
}
