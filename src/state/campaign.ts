/** The sightings of the coming days at the station that is shown, through the feed in use. Ten minutes old at most. */
import { answeredOfFeed } from './offeed.ts'

export const campaign = answeredOfFeed('campaign', { ageMs: 600_000, ofPresent: true })
