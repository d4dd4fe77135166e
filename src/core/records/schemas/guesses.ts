/**
 * Which numbers of a station nobody measured: the program filled them in so that the station could be kept. By their path in
 * the station; true where it is a guess. Measuring a value later removes its key.
 */
import { flag, object, opt } from '../shapes.ts'

const AXIS_GUESSES = [
  'readout',
  'readout.zeroCounts',
  'readout.baseArmMm',
  'readout.rodArmMm',
  'readout.phiAtAngleZeroDeg',
  'minReading',
  'maxReading',
] as const

export const GUESSES = [
  'site.heightM',
  'dish.focalRatio',
  'mount.headingDeg',
  ...AXIS_GUESSES.map(name => `mount.lower.${name}` as const),
  ...AXIS_GUESSES.map(name => `mount.upper.${name}` as const),
] as const

export type Guess = (typeof GUESSES)[number]

export const GuessesSchema = object(
  Object.fromEntries(GUESSES.map(path => [path, opt(flag())])) as Record<
    Guess,
    ReturnType<typeof opt<ReturnType<typeof flag>>>
  >,
)
