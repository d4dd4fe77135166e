/** Pages typed wrong: every cause 100 times, and 100 typed right, with rounding and what a clock and an almanac are off by; shares in per cent. */
import { checkTally, sharesOf } from '../helpers/carrychecktrials.ts'

export default async () => sharesOf(checkTally(100, 3))
