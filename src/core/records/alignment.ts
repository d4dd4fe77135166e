/**
 * What the person added to the alignment, as it lies in the file. The list may also hold shapes that this program does not know: they
 * have another `what` (or none), are kept and left alone.
 */
import * as v from 'valibot'
import { instantMs } from './instant.ts'
import { ALIGNMENT_STEPS, AlignmentSchema } from './schemas/alignment.ts'
import type { Solution } from './solution.ts'

export { ALIGNMENT_STEPS }
export type AlignmentRecord = v.InferOutput<typeof AlignmentSchema>
export type AlignmentStep = (typeof ALIGNMENT_STEPS)[number]
export type AlignmentAct = AlignmentRecord['what']

/** The entries that this program knows, oldest first. */
export const alignmentOf = (list: readonly unknown[] | undefined): AlignmentRecord[] =>
  (list ?? [])
    .filter((x): x is AlignmentRecord => v.safeParse(AlignmentSchema, x).success)
    .sort((a, b) => instantMs(a.utc) - instantMs(b.utc))

/** The last entry of an act (at a step, where the act has one) at or before a time; null where there is none. */
export const lastAct = (
  list: readonly AlignmentRecord[],
  what: AlignmentAct,
  step: AlignmentStep | null,
  nowMs: number,
): AlignmentRecord | null =>
  list.filter(r => r.what === what && (step === null || r.step === step) && instantMs(r.utc) <= nowMs).at(-1) ?? null

/** A solution's numbers as they are carried over with one feed: degrees, mm, ratios. */
export const carriedNumbers = ({ feed: of, parameters }: Solution): NonNullable<AlignmentRecord['numbers']> =>
  parameters
    .filter(({ feed }) => feed === undefined || feed === of)
    .map(({ id, feed, value }) => ({ id, ...(feed !== undefined && { feed }), value: Number(value.toFixed(6)) }))
