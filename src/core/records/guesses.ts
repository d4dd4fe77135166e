/**
 * Which values of a station are only guesses (schemas/guesses.ts), and how much room the fit then gives: σ of a prior
 * that no one could call measured. Degrees, millimetres, ratios. Estimates, no source.
 */
import type { ParameterId } from '../mount/parameters.ts'
import type { Axis, StationRecord } from './fieldbook.ts'
import type { Guess } from './schemas/guesses.ts'

export { GUESSES, type Guess } from './schemas/guesses.ts'

/** 1 σ of what was guessed: an arm, a focal length, as a share of it; the zero of an axis in degrees; a scale as a ratio. */
export const GUESS_ARM = 0.25
export const GUESS_FOCAL = 0.2
const ZERO_DEG = 60
const SCALE_DEG = 30
const SCALE_RATIO = 0.1

export const isGuess = (record: StationRecord, path: Guess): boolean => record.guesses?.[path] === true

/** A station's guesses without those of these paths; no key at all where none is left. */
export function withoutGuesses(record: StationRecord, paths: readonly Guess[]): StationRecord {
  const { guesses, ...rest } = record
  if (guesses === undefined) return record
  const left = Object.entries(guesses).filter(([path]) => !(paths as readonly string[]).includes(path))
  return left.length === 0 ? rest : { ...rest, guesses: Object.fromEntries(left) }
}

/** σ of the prior of a parameter whose value on paper is a guess; null where it is not. In the parameter's own unit. */
export function guessSigma(record: StationRecord, id: ParameterId): number | null {
  const parts = /^(lower|upper)(BaseArm|RodArm|Zero|Scale)$/.exec(id)
  if (parts === null) return null
  const axis = parts[1] as Axis
  const { readout } = record.mount[axis]
  const guessed = (name: string): boolean => isGuess(record, `mount.${axis}.${name}` as Guess)
  switch (parts[2]) {
    case 'BaseArm':
      return readout.type === 'jack' && guessed('readout.baseArmMm') ? GUESS_ARM * readout.baseArmMm : null
    case 'RodArm':
      return readout.type === 'jack' && guessed('readout.rodArmMm') ? GUESS_ARM * readout.rodArmMm : null
    case 'Scale':
      return guessed('readout') ? SCALE_RATIO : null
    default:
      if (guessed('readout')) return SCALE_DEG
      return guessed('readout.phiAtAngleZeroDeg') || guessed('readout.zeroCounts') ? ZERO_DEG : null
  }
}

/** True where a limit of this axis was not measured: the file has a wide placeholder. */
export const isLimitGuessed = (record: StationRecord, axis: Axis): boolean =>
  isGuess(record, `mount.${axis}.minReading`) || isGuess(record, `mount.${axis}.maxReading`)

/** A jack's triangle of which an arm was guessed: what it says of the limits of the readings is a guess too. */
export const isArmGuessed = (record: StationRecord, axis: Axis): boolean =>
  isGuess(record, `mount.${axis}.readout.baseArmMm`) || isGuess(record, `mount.${axis}.readout.rodArmMm`)

/** The feed hangs below the beam of a cut-out bowl: no shadow of it falls in the dish, and its rim says nothing of the focus. */
export const isOffsetFed = (record: Pick<StationRecord, 'dish'>): boolean => record.dish.fed === 'offset'
