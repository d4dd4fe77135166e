/** What makes a rehearsal, as it stands in its station's record: the same setup, the same dish. */
import type { StationRecord } from '../records/fieldbook.ts'

export type RehearsalSetup = NonNullable<StationRecord['rehearsalSetup']>
export type Difficulty = RehearsalSetup['difficulty']
/** Something that was done to the dish itself: a parameter's id, by so much, in its unit. */
export type Deed = NonNullable<RehearsalSetup['deeds']>[number]

export const DIFFICULTIES: readonly Difficulty[] = ['beginner', 'ordinary', 'hard']
