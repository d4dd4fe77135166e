/**
 * What is worth doing next at the station that is shown, through the feed in use. Ten minutes old at most. None
 * until it is worked out for the records as they are now: what was just done is no longer worth doing.
 */
import { answeredOfFeed } from './offeed.ts'

export const worth = answeredOfFeed('worth', { ageMs: 600_000, ofPresent: true })
