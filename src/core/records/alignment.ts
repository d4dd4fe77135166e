/**
 * What the person added to the alignment, as it lies in the file. The list may also hold shapes that this program does not know: they
 * have another `what` (or none), are kept and left alone.
 */
import * as v from 'valibot'
import { rounded } from './digits.ts'
import { instantMs } from './instant.ts'
import { ALIGNMENT_STEPS, AlignmentSchema } from './schemas/alignment.ts'
import type { Solution } from './solution.ts'

export { ALIGNMENT_STEPS }
export type AlignmentRecord = v.InferOutput<typeof AlignmentSchema>
export type AlignmentStep = (typeof ALIGNMENT_STEPS)[number]
/** Degrees, mm, ratios. */
export type CarriedNumbers = NonNullable<CarriedRecord['numbers']>
type CarriedRecord = Extract<AlignmentRecord, { what: 'carried' }>
type StepAct = Exclude<AlignmentRecord['what'], 'carried'>

/** The entries that this program knows, oldest first. */
export const alignmentOf = (list: readonly unknown[] | undefined): AlignmentRecord[] =>
  (list ?? [])
    .filter((x): x is AlignmentRecord => v.safeParse(AlignmentSchema, x).success)
    .sort((a, b) => instantMs(a.utc) - instantMs(b.utc))

/** The last time at or before `nowMs` that a step was left out, or set by hand; null: never. */
export const lastAct = (
  list: readonly AlignmentRecord[],
  what: StepAct,
  step: AlignmentStep,
  nowMs: number,
): AlignmentRecord | null =>
  list.filter(r => r.what === what && r.step === step && instantMs(r.utc) <= nowMs).at(-1) ?? null

/** The last time at or before `nowMs` that a feed's numbers were carried over; null: never. */
export const lastCarried = (list: readonly AlignmentRecord[], feed: string, nowMs = Infinity): CarriedRecord | null =>
  list.filter((r): r is CarriedRecord => r.what === 'carried' && r.feed === feed && instantMs(r.utc) <= nowMs).at(-1) ??
  null

/** A solution's numbers as they are carried over with one feed: degrees, mm, ratios. */
export const carriedNumbers = ({ feed: of, parameters }: Solution): CarriedNumbers =>
  parameters
    .filter(({ feed }) => feed === undefined || feed === of)
    .map(({ id, feed, value }) => ({ id, ...(feed !== undefined && { feed }), value: rounded(value, 6) }))
