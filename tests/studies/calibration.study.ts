/**
 * Calibrations of a thousand invented readouts each: jacks from taped lengths and an inclinometer of 0.1° steps, counts by
 * swinging with one clamping and with two. Does 2 σ cover, and is σ no larger than it must be? (`base` and `rod`: the
 * figures named Deg are millimetres × 180/π.)
 */
import { jackTrials, swungCountTrials } from '../helpers/calibrationtrials.ts'

export default async () => ({
  jack: jackTrials(1000, 50_000),
  'counts, 1 clamping': swungCountTrials(1000, 1, 60_000),
  'counts, 2 clampings': swungCountTrials(1000, 2, 60_000),
})
