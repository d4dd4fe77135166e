/** Noise records as they are read: those of the list that this program knows, and the ratio of powers that each says. */
import * as v from 'valibot'
import { NOISE_OF, NoiseRowSchema, NoiseSchema, ROW_SETTINGS } from './schemas/noise.ts'

export { NOISE_OF, ROW_SETTINGS }
export type NoiseRecord = v.InferOutput<typeof NoiseSchema>
export type NoiseOf = NoiseRecord['of']

/** The noise records of a list that this program knows how to read, in the order of the list. */
export const noiseOf = (records: readonly unknown[] | undefined): NoiseRecord[] =>
  (records ?? []).filter((x): x is NoiseRecord => v.safeParse(NoiseSchema, x).success)

export type NoiseRowRecord = v.InferOutput<typeof NoiseRowSchema>
export type RowSetting = NoiseRowRecord['setting']

/** The rows of a list against a setting of a feed, in the order of the list. */
export const noiseRowsOf = (records: readonly unknown[] | undefined): NoiseRowRecord[] =>
  (records ?? []).filter((x): x is NoiseRowRecord => v.safeParse(NoiseRowSchema, x).success)

/** Y as a ratio of powers. */
export function ratioOf(record: NoiseRecord): number {
  const { levels } = record
  if (levels?.unit === 'power') return levels.hot / levels.cold
  return 10 ** ((levels === undefined ? (record.yDb ?? 0) : levels.hot - levels.cold) / 10)
}
