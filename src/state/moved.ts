/** Whether the station that is shown has moved, by all that was measured. Half an hour old at most. */
import { answeredOfFeed } from './offeed.ts'

export const moved = answeredOfFeed('hasMoved', { ageMs: 1_800_000 })
