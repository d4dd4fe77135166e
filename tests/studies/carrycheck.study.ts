/**
 * Pages typed wrong: every cause 100 times, and 100 typed right, with rounding and what a clock and an almanac are off by; shares in per
 * cent. By a program that shows tenths of a degree, by one that shows hundredths, and by one that knows Sun, Moon and sources only.
 */
import { checkTally, sharesOf } from '../helpers/carrychecktrials.ts'

export default async () => ({
  tenths: sharesOf(checkTally(100, 3)),
  hundredths: sharesOf(checkTally(100, 6, 'any', 2)),
  'bodies only': sharesOf(checkTally(40, 8, 'bodies', 2)),
})
