/** Words of the first screen: how well the beam follows the Moon, and the one next thing to do. */
import type { SkyEvent } from '../../core/plan/dial.ts'
import { duration, NBSP } from '../kit/format.ts'

export const NOW = {
  record: 'Record a sighting',
  computing: 'Computing…',
  allAsideWhy: 'Look under Correct, “What looks wrong”, and at each sighting in the list.',
  noSightings: 'No sightings yet: the mount is known only as entered.',
  noSightingsWhy:
    'One sighting of the Sun shows more than an hour of measuring: drive to it, peak on it, mark the time.',
  scatter: (rms: string) => `The sightings themselves scatter by ${rms}.`,
  from: (used: string, aside: number) => `From ${used}${aside === 0 ? '' : `, ${aside} set aside`}.`,
  restsOn: 'What this is based on',
  upAllDay: 'up all day',
  down: 'down',
  notToday: 'Not within the coming day.',
  coming: 'When the Moon is in reach',
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
