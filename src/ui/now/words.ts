/** Words of the first screen before there is a solution; those that say what it means are in `answerwords.ts`. */
import type { SkyEvent } from '../../core/plan/dial.ts'
import { duration, NBSP } from '../kit/format.ts'

export const NOW = {
  record: 'Record a sighting',
  computing: 'Computing…',
  upAllDay: 'up all day',
  down: 'down',
  notToday: 'Not within the coming day.',
  coming: 'Moon in reach',
  align: 'Align',
  hours: (h: number) => `${Math.round(h)}${NBSP}h in 28${NBSP}days`,
  outOfReach: 'out of reach',
} as const

export const EVENT_WORDS = {
  rises: 'rises',
  sets: 'sets',
  'comes-within-reach': 'in reach',
  'leaves-reach': 'in reach until',
} as const

/** "rises in 2 h 32 min" beside the time; how long it takes to come up. */
export const untilWords = (event: SkyEvent, leftMs: number): string =>
  `${EVENT_WORDS[event]} ${leftMs > 0 ? `in${NBSP}${duration(leftMs)}` : 'now'}`
