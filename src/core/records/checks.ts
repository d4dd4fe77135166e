/**
 * Checks after a storm as they are read. What they are made of are ordinary sightings, levels and marks; the answer is computed
 * again, from all since, whenever it is shown.
 */
import * as v from 'valibot'
import { STORM_VERDICTS, StormCheckSchema } from './schemas/check.ts'

export { STORM_VERDICTS }
export type StormCheckRecord = v.InferOutput<typeof StormCheckSchema>

/** The checks after a storm, in the order of the list. */
export const stormChecksOf = (records: readonly unknown[] | undefined): StormCheckRecord[] =>
  (records ?? []).filter((x): x is StormCheckRecord => v.safeParse(StormCheckSchema, x).success)
