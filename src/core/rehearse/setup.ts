/** What defines a rehearsal, in its station's record: the same setup gives the same dish. */
import type { StationRecord } from '../records/fieldbook.ts'

export type RehearsalSetup = NonNullable<StationRecord['rehearsalSetup']>
export type Difficulty = RehearsalSetup['difficulty']
/** An alteration of the dish itself: a parameter's id, by how much, in its unit. */
export type Deed = NonNullable<RehearsalSetup['deeds']>[number]

export const DIFFICULTIES: readonly Difficulty[] = ['beginner', 'ordinary', 'hard']
