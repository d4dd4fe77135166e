/** Instants that a rehearsal can skip to: the Moon well up, the Sun at its highest, an hour on, the same hour tomorrow. */

import { DAY_MS, HOUR_MS } from '../units.ts'
import { heightDeg } from './turning.ts'
import type { World } from './world.ts'

export type Moment = 'moon-up' | 'noon' | 'hour' | 'tomorrow'

/** High enough for a good peak. */
export const MOON_UP_DEG = 15
const STEP_MS = 300_000
/** The Moon stays below that for some days in a month at high latitudes. */
const MOST_DAYS = 20

/** Where f turns from false to true between two instants, to the second. */
function edge(low: number, high: number, f: (ms: number) => boolean): number {
  let [a, b] = [low, high]
  while (b - a > 1000) {
    const middle = (a + b) / 2
    if (f(middle)) b = middle
    else a = middle
  }
  return Math.ceil(b / 1000) * 1000
}

/**
 * The next such instant, by the rehearsal's clock, Unix ms. Null: not within twenty days.
 *
 * @param clockMs  what the rehearsal's clock shows now, Unix ms
 */
export function nextMoment(world: World, clockMs: number, moment: Moment): number | null {
  if (moment === 'hour') return clockMs + HOUR_MS
  if (moment === 'tomorrow') return clockMs + DAY_MS
  const height = (body: 'sun' | 'moon', ms: number) => heightDeg(world.bodyAt(body, world.trueMs(ms), 'radio'))
  if (moment === 'noon') {
    const falls = (ms: number) => height('sun', ms + 30_000) < height('sun', ms - 30_000)
    // A minute on, so that a noon just reached is not offered again.
    for (let ms = clockMs + 120_000; ms < clockMs + DAY_MS * 1.1; ms += STEP_MS)
      if (!falls(ms) && falls(ms + STEP_MS)) return edge(ms, ms + STEP_MS, falls)
    return null
  }
  const isUp = (ms: number) => height('moon', ms) >= MOON_UP_DEG
  for (let ms = clockMs; ms < clockMs + MOST_DAYS * DAY_MS; ms += STEP_MS)
    if (!isUp(ms) && isUp(ms + STEP_MS)) return edge(ms, ms + STEP_MS, isUp)
  return null
}
