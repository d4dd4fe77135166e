/** What a guess costs, in one line each: at its field, and in the review. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { type Guess, isGuess, isOffsetFed } from '../../core/records/guesses.ts'
import { type StepId, stepOf } from './fields.ts'

const STOPS = 'Stops not known: no reading is ruled out. Let the limit switch stop the drive.'
const ARM = 'Known to 25 % only: the sightings must find it. Take twelve, spread over the whole travel.'
const ZERO = 'The zero is open by 60°: the first sightings find it.'

/** The gravest first: the review has room for one line. */
const COSTS = {
  readout: 'Taken as degrees, with no stops. Say what it shows before the first sighting.',
  'readout.baseArmMm': ARM,
  'readout.rodArmMm': ARM,
  'readout.phiAtAngleZeroDeg': ZERO,
  'readout.zeroCounts': ZERO,
  minReading: STOPS,
  maxReading: STOPS,
  'dish.focalRatio': 'Shadows off the middle count for less until it is measured.',
  'mount.headingDeg': 'Costs nothing: the first sightings find it.',
  'site.heightM': 'A kilometre out moves the Moon by 0.01° at 8°, less higher up.',
} as const

const general = (path: Guess): keyof typeof COSTS => path.replace(/^mount\.(lower|upper)\./, '') as keyof typeof COSTS

/** At an empty field: what it is taken as, and the cost. */
export const guessWords = (path: Guess, shown: string): string => `Empty: ${shown}, a guess. ${COSTS[general(path)]}`

/** What the guesses of one line of the review cost, the gravest; null where nothing in it is a guess. */
export function costOf(station: StationRecord, step: StepId): string | null {
  const here = (Object.keys(station.guesses ?? {}) as Guess[])
    .filter(path => isGuess(station, path) && stepOf(path) === step)
    // With an offset feed nothing is read off the bowl.
    .filter(path => !(path === 'dish.focalRatio' && isOffsetFed(station)))
    .map(general)
  const worst = (Object.keys(COSTS) as (keyof typeof COSTS)[]).find(name => here.includes(name))
  return worst === undefined ? null : COSTS[worst]
}

const GUESSED: Partial<Record<StepId, string>> = {
  place: 'height guessed',
  mount: 'heading guessed',
}

/** What of a line is a guess. */
export const guessedWord = (step: StepId): string => GUESSED[step] ?? 'guessed'
