/** The field report of the station in use, through the feed in use; asked while it is watched. */
import { canPrint, printPage } from '../device/print.ts'
import { answeredOfFeed } from './offeed.ts'

export { canPrint, printPage }

export const report = answeredOfFeed('report', { ageMs: 600_000 })
