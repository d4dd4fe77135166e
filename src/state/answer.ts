/**
 * The solution of the current station, from the worker, kept up to date while something watches it. It is never stored:
 * it is computed again from what was measured. While a newer one is being computed the old one is marked stale.
 */
import { effect, type ReadonlySignal, signal } from '@preact/signals'
import type { Fault } from '../core/records/answer.ts'
import type { FieldBook, StationRecord } from '../core/records/fieldbook.ts'
import type { Solution } from '../core/records/solution.ts'
import { type Asked, ask } from '../worker/ask.ts'
import { fieldBook } from './book.ts'
import { chosenFeed } from './chosenfeed.ts'
import { whileSeen } from './whileseen.ts'

export interface AnswerState {
  /** Id of the station that this is about. */
  station: string | null
  /** The last solution of this station; stays while a newer one is being computed or fails. */
  solution: Solution | null
  /** Being computed again: what is shown does not know the latest records yet. */
  stale: boolean
  /** What the core refuses in this station, in words. */
  faults: readonly Fault[]
  /** The program or the worker broke. */
  failure: { why: 'threw' | 'worker-lost'; message: string } | null
}

type Solved = { ok: true; value: Solution } | { ok: false; faults: Fault[] }
export type AskSolve = (book: FieldBook, now: string, feed: string | undefined) => Promise<Asked<Solved>>

export interface AnswerModel {
  answer: ReadonlySignal<AnswerState>
  /** Computes again for the present time: the Moon's path and what comes next move on. */
  refresh(): void
}

const NOTHING: AnswerState = { station: null, solution: null, stale: false, faults: [], failure: null }
/** The Moon's month is followed in half hours: a solution of ten minutes ago is as good. */
const AGE_MS = 600_000

export function createAnswer(
  station: ReadonlySignal<StationRecord | null>,
  askSolve: AskSolve,
  clock: () => number = Date.now,
  feed: ReadonlySignal<string | undefined> = signal(undefined),
): AnswerModel {
  const again = signal(0)
  let stop: (() => void) | undefined
  let askedMs = 0
  let latest = 0
  /** What the solution shown was computed from: the same again is not asked again while it is young. */
  let known: { station: StationRecord; feed: string | undefined; turn: number } | null = null

  const answer = signal<AnswerState>(NOTHING, {
    watched() {
      // Not at once: a signal must not change while somebody begins to watch it.
      const soon = setTimeout(() => {
        const dispose = effect(() => {
          void solve(station.value, feed.value, again.value)
        })
        const rest = whileSeen(60_000, () => {
          if (clock() - askedMs > AGE_MS) again.value++
        })
        stop = () => {
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

  async function solve(current: StationRecord | null, through: string | undefined, turn: number): Promise<void> {
    const age = clock() - askedMs
    const isSame = known?.station === current && known?.feed === through && known?.turn === turn
    if (isSame && age >= 0 && age < AGE_MS) return
    known = null
    const mine = ++latest
    if (!current) {
      answer.value = NOTHING
      return
    }
    const before = answer.peek()
    answer.value =
      before.station === current.id ? { ...before, stale: true } : { ...NOTHING, station: current.id, stale: true }
    askedMs = clock()
    const now = new Date(askedMs).toISOString()
    const book: FieldBook = { format: 'moonplumb-fieldbook', version: 1, exportedUtc: now, stations: [current] }
    const asked = await askSolve(book, now, through)
    if (mine !== latest || asked.kind === 'overtaken') return
    const shown = answer.peek()
    if (asked.kind === 'failed')
      answer.value = { ...shown, stale: false, failure: { why: asked.why, message: asked.message } }
    else if (asked.value.ok) {
      known = { station: current, feed: through, turn }
      answer.value = { station: current.id, solution: asked.value.value, stale: false, faults: [], failure: null }
    } else answer.value = { ...shown, stale: false, faults: asked.value.faults, failure: null }
  }

  return {
    answer,
    refresh() {
      again.value++
    },
  }
}

const model = createAnswer(
  fieldBook.station,
  (book, now, feed) => ask('solve', [book, { now, ...(feed !== undefined && { feed }) }]),
  Date.now,
  chosenFeed,
)
export const { answer } = model
