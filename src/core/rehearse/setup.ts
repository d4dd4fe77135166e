/** What makes a rehearsal, as it stands in its station's record: the same four, the same dish. Types alone. */
import type { MountKind } from '../mount/names.ts'
import type { Paper } from './mount.ts'

export const DIFFICULTIES = ['beginner', 'ordinary', 'hard'] as const
export type Difficulty = (typeof DIFFICULTIES)[number]

/** Something that was done to the dish itself in a rehearsal: by so much, in the unit of the parameter. */
export interface Deed {
  utc: string
  id: string
  by: number
}

export interface RehearsalSetup {
  /** 0 to 999 999: what a person can read out to another. */
  seed: number
  difficulty: Difficulty
  kind: MountKind
  /** What the rehearsal's clock showed when it began. */
  startUtc: string
  /** A copy of one's own station as entered; without it the station is drawn too. */
  paper?: Paper
  deeds?: readonly Deed[]
}
