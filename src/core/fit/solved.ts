/** A solved station: the fit with all that it was made from. */
import type { Suspect } from '../records/solution.ts'
import type { Station } from '../records/station.ts'
import type { Problem } from './map.ts'
import type { Parameters } from './parameters.ts'
import type { Fitted } from './reject.ts'
import type { Sighting } from './sighting.ts'

/** The fit with what it was made from. */
export interface Solved {
  station: Station
  parameters: Parameters
  problem: Problem
  /** The same with references that contradict one another; the fit leaves those out. */
  whole: Problem
  /** All sightings, those never to be used included. */
  sightings: Sighting[]
  fit: Fitted
  /** s²: (data + prior objective) / data rows; 0 without data. */
  misfit: number
  /** σ's are scaled by this; 1 unless the misfit passes the 99 % point. */
  sigmaScale: number
  /** What was suspected on the way to the fit. */
  foreseen: Suspect[]
}

/**
 * By what the σ of a sighting to come is multiplied: it will scatter as those so far do. Whatever looks ahead asks here. Levels and marks
 * are not meant: their own σ is not what the misfit speaks of.
 */
export const scatterToCome = (solved: Solved): number => solved.sigmaScale
