/** The sightings of the coming days at the station that is shown, through the feed in use: asked while something watches. */
import { computed, type ReadonlySignal } from '@preact/signals'
import type { CampaignJson } from '../core/plan/campaignjson.ts'
import { ask, soundValue, watched } from './ask.ts'
import { feedHere } from './chosenfeed.ts'

const planned = watched({
  about: station => ({ feed: feedHere(station) }),
  ask: (station, about) => ask(station, 'campaign', about),
  ageMs: 600_000,
})

/** Ten minutes old at most; null before the first answer. */
export const campaign: ReadonlySignal<CampaignJson | null> = computed(() => soundValue(planned.held.value))
