/** Words of the first screen: how well the beam follows the Moon, and the one next thing to do. */
import { instantMs } from '../../core/records/instant.ts'
import type { NextSighting, Solution } from '../../core/records/solution.ts'
import { allowedDecibels, NBSP, roughDegrees, utcAndLocal, utcDate } from '../kit/format.ts'
import { METHOD_WORDS, placeWords } from '../kit/phrases.ts'

export const NOW = {
  record: 'Record a sighting',
  ofEchoes: 'of your own echoes',
  allowed: (db: number) => `allowed ${allowedDecibels(db).replace(`${NBSP}dB`, '')}`,
  computing: 'Computing…',
  allAsideWhy: 'Look under Correct, “What looks wrong”, and at each sighting in the list.',
  noSightings: 'No sightings yet, so nothing is known but paper.',
  noSightingsWhy:
    'One sighting of the Sun tells more than an hour of measuring. Set the mount as on paper, find the Sun, stamp the time.',
  madeOf: (open: string, floor: string) =>
    `The usual error is made of what the sightings leave open, ${open}, and of counts and play, ${floor}.`,
  scatter: (rms: string) => `The sightings themselves scatter by ${rms}.`,
  from: (used: string, aside: number) => `From ${used}${aside === 0 ? '' : `, ${aside} set aside`}.`,
  restsOn: 'What this rests on',
  upAllDay: 'up all day',
  downAllDay: 'down all day',
  outOfReach: 'out of reach',
} as const

export const EVENT_WORDS = {
  rises: 'rises',
  sets: 'sets',
  'comes-within-reach': 'in reach from',
  'leaves-reach': 'in reach till',
} as const

/** "Sun by feed's shadow, 26 Nov 11:48, low in the south-east" */
export function nextWords(next: NextSighting, now: number): string {
  const ms = instantMs(next.utc)
  const body = next.target === 'sun' ? 'Sun' : 'Moon'
  const day = utcDate(ms) === utcDate(now) ? 'today' : utcDate(ms)
  return `${body} by ${METHOD_WORDS[next.method]}, ${day} ${utcAndLocal(ms)}, ${placeWords(next.azDeg, next.elDeg)}`
}

/** What the next sighting would do for the error. */
export function nextWhy(solution: Solution, next: NextSighting): string {
  const before = solution.sky.after.rmsDeg
  return `Would bring the usual error from ${roughDegrees(before)} to ${roughDegrees(next.rmsAfterDeg)}.`
}
