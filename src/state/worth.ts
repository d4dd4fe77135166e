/**
 * What is worth doing next at the station that is shown, through the feed in use. Ten minutes old at most. None
 * while it is worked out anew for other records: what was just done is no longer worth doing.
 */
import { answeredOfFeed } from './offeed.ts'

export const worth = answeredOfFeed('worth', { ageMs: 600_000, ofPresent: true })
