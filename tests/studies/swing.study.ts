/**
 * Swinging with invented phones, a thousand a method: does the stated 2 σ cover, and is σ no larger than it must be? One
 * clamping, where the sensor's bias along the axis is the error; two turned about, where noise and rounding are; by each
 * of the two ways that browsers deliver; and the same (three thousand) with phones held for three seconds, σ made from what they did.
 */
import { swingTrials } from '../helpers/swingtrials.ts'
import { heldSwingTrials } from '../helpers/swungphones.ts'

export default async () => ({
  ...Object.fromEntries(
    (['angles', 'accelerations'] as const).flatMap(delivery =>
      ([1, 2] as const).map(clampings => [
        `${delivery}, ${clampings} clamping${clampings > 1 ? 's' : ''}`,
        swingTrials(1000, { delivery, clampings }, 10_000),
      ]),
    ),
  ),
  ...Object.fromEntries(
    (['orientation', 'motion'] as const).flatMap(source =>
      ([1, 2] as const).map(clampings => [
        `held still, by ${source}, ${clampings} clamping${clampings > 1 ? 's' : ''}`,
        heldSwingTrials(3000, { source, clampings }, 0),
      ]),
    ),
  ),
})
