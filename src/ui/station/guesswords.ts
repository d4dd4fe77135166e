/** What a guess costs, in one line each: at its field, and in the review. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { type Guess, isGuess, isOffsetFed } from '../../core/records/guesses.ts'
import { GUESS_COSTS, type GuessName, guessName } from '../kit/guesscosts.ts'
import { type StepId, stepOf } from './fields.ts'

/** At an empty field: what it is taken as, and the cost. */
export const guessWords = (path: Guess, shown: string): string =>
  `Empty: ${shown}, a guess. ${GUESS_COSTS[guessName(path)]}`

/** What the guesses of one line of the review cost, the gravest; null where nothing in it is a guess. */
export function costOf(station: StationRecord, step: StepId): string | null {
  const here = (Object.keys(station.guesses ?? {}) as Guess[])
    .filter(path => isGuess(station, path) && stepOf(path) === step)
    // With an offset feed nothing is read off the bowl.
    .filter(path => !(path === 'dish.focalRatio' && isOffsetFed(station)))
    .map(guessName)
  const worst = (Object.keys(GUESS_COSTS) as GuessName[]).find(name => here.includes(name))
  return worst === undefined ? null : GUESS_COSTS[worst]
}

const GUESSED: Partial<Record<StepId, string>> = {
  place: 'height guessed',
  mount: 'heading guessed',
}

/** What of a line is a guess. */
export const guessedWord = (step: StepId): string => GUESSED[step] ?? 'guessed'
