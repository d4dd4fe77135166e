/** What a guessed number of a station costs, in one line each: where it is asked, in the review, and where the mount is aligned. */
import type { Guess } from '../../core/records/guesses.ts'

const STOPS = 'Stops not known: no reading is ruled out. Let the limit switch stop the drive.'
const ARM = 'Known to 25 % only: the sightings must find it. Take twelve, spread over the whole travel.'
const ZERO = 'The zero is open by 60°: the first sightings find it.'

/** The gravest first: a review has room for one line. */
export const GUESS_COSTS = {
  readout: 'Taken as degrees, with no stops. Say what it shows before the first sighting.',
  'readout.baseArmMm': ARM,
  'readout.rodArmMm': ARM,
  'readout.phiAtAngleZeroDeg': ZERO,
  'readout.zeroCounts': ZERO,
  minReading: STOPS,
  maxReading: STOPS,
  'dish.focalRatio': 'Shadows off the middle count for less until it is measured.',
  'mount.headingDeg': 'The Sun may have to be searched for; the first sightings then find it.',
  'site.heightM': 'A kilometre out moves the Moon by 0.01° when it is 8° high, by less when it is higher.',
} as const

export type GuessName = keyof typeof GUESS_COSTS

/** A guess without its axis. */
export const guessName = (path: Guess): GuessName => path.replace(/^mount\.(lower|upper)\./, '') as GuessName
