/** Whether the station that is shown has moved, by all that was measured: asked while something watches. */
import { computed, type ReadonlySignal } from '@preact/signals'
import type { HasMovedJson } from '../core/plan/hasmovedjson.ts'
import { ask, soundValue, watched } from './ask.ts'
import { feedHere } from './chosenfeed.ts'

const compared = watched({
  about: station => ({ feed: feedHere(station) }),
  ask: (station, about) => ask(station, 'hasMoved', about),
  ageMs: 1_800_000,
})

/** Half an hour old at most; null before the first answer. */
export const moved: ReadonlySignal<HasMovedJson | null> = computed(() => soundValue(compared.held.value))
