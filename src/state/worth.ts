/** What is worth doing next at the station that is shown, through the feed in use. Ten minutes old at most. */
import { answeredOfFeed } from './offeed.ts'

export const worth = answeredOfFeed('worth', 600_000)
