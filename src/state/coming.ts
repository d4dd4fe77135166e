/**
 * The days ahead as the person counts them, from their own midnight, and the hours in which the Moon is in reach in them: asked of the
 * worker while something watches.
 */
import { computed, type ReadonlySignal } from '@preact/signals'
import { DAY_MS, HOUR_MS } from '../core/units.ts'
import { ask, isoOf, soundValue, trueNowMs, watched } from './ask.ts'
import { feedHere } from './chosenfeed.ts'

/** Days looked at unless a month is asked for: the Moon goes round in 27.3. */
export const COMING_DAYS = 28

/** The local midnight that began the day of a time, or the one `daysOn` days from it. Unix ms. */
export const midnightOf = (ms: number, daysOn = 0): number => {
  const d = new Date(ms)
  return new Date(d.getFullYear(), d.getMonth(), d.getDate() + daysOn).getTime()
}

const asked = watched({
  about: station => {
    const nowMs = trueNowMs(station)
    const fromMs = midnightOf(nowMs)
    const days = (midnightOf(nowMs, COMING_DAYS) - fromMs) / DAY_MS
    return { feed: feedHere(station), target: { type: 'moon' as const }, fromUtc: isoOf(fromMs), days }
  },
  ask: (station, about) => ask(station, 'windows', about, { topic: 'coming' }),
  ageMs: HOUR_MS,
})

/** Hours of the Moon in reach in the 28 days from today; null until that is known. */
export const comingHours: ReadonlySignal<number | null> = computed(() => soundValue(asked.held.value)?.hours ?? null)
