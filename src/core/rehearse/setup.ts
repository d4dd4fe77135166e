/** What defines a rehearsal, in its station's record: the same setup gives the same dish. */
import type { StationRecord } from '../records/fieldbook.ts'

export type RehearsalSetup = NonNullable<StationRecord['rehearsalSetup']>
export type Difficulty = RehearsalSetup['difficulty']

/** The dish that the first rehearsal of a book proposes: the walk-through is known to lead through it. */
export const FIRST_SEED = 1

export const DIFFICULTIES: readonly Difficulty[] = ['beginner', 'ordinary', 'hard']
