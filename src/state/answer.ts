/**
 * The solution of the current station, through the chosen feed, kept up to date while something watches it. It is never
 * stored: it is computed again from what was measured.
 */
import { computed, type ReadonlySignal } from '@preact/signals'
import type { Fault } from '../core/records/answer.ts'
import type { StationRecord } from '../core/records/fieldbook.ts'
import type { Solution } from '../core/records/solution.ts'
import { ask, type HeldAnswer, watched } from './ask.ts'
import { feedHere } from './chosenfeed.ts'

interface AnswerState {
  /** Id of the station that this is about. */
  station: string | null
  /** The last solution of this station; stays while a newer one is being computed or fails. */
  solution: Solution | null
  /** Being computed again: what is shown does not include the latest records yet. */
  stale: boolean
  /** What the core refuses in this station, in words. */
  faults: readonly Fault[]
  /** The program or the worker broke. */
  failure: HeldAnswer<Solution, unknown>['failure']
}

/** Whether no sighting is in use, which is known before any solution: the list is empty, or the person left out every one. */
export const hasNoneInUse = ({ sightings }: Pick<StationRecord, 'sightings'>): boolean =>
  sightings.every(s => s.use === 'never')

/** The Moon's month is followed in half hours: a solution of ten minutes ago is as good. */
const AGE_MS = 600_000

const model = watched({
  about: station => ({ feed: feedHere(station) }),
  ask: (station, about) => ask(station, 'solve', about),
  ageMs: AGE_MS,
})

export const answer: ReadonlySignal<AnswerState> = computed(() => {
  const { station, value, stale, faults, failure } = model.held.value
  return { station: station?.id ?? null, solution: value, stale, faults, failure }
})
