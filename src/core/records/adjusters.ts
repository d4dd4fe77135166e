/**
 * What a spanner can turn, as it lies in the file. The list may also hold shapes that this program does not know: they have
 * another `by` (or none), are kept and left alone.
 */
import type { InferOutput } from 'valibot'
import { isLoose, type Loose } from './loose.ts'
import type { ADJUSTED_BY, AdjusterSchema } from './schemas/adjuster.ts'

export type AdjusterRecord = InferOutput<typeof AdjusterSchema>
export type AdjustedBy = AdjusterRecord['by']

const BYS: ReadonlySet<unknown> = new Set<(typeof ADJUSTED_BY)[number]>(['screw', 'shim', 'flange'])

/** The adjusters of a station that this program knows the shape of. */
export const knownAdjusters = (list: readonly unknown[] | undefined): AdjusterRecord[] =>
  (list ?? []).filter((r): r is AdjusterRecord & Loose => isLoose(r) && BYS.has(r.by))
