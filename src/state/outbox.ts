/**
 * What could not be written into the book, kept beside it until it can be: a page that is reloaded, on the app's own
 * advice or not, starts with it. One entry a tab; a new tab takes over what closed ones have left.
 */
import { isLoose } from '../core/records/loose.ts'
import type { Draft } from '../core/records/stored.ts'
import type { StoreFailure } from '../store/database.ts'
import { remember, remembered, rememberedKeys } from './memory.ts'
import { stepFrom, type UndoStep } from './steps.ts'

/** Records that belong together and are not on the medium yet. */
export interface Unsaved {
  /** What the person did. */
  step: UndoStep
  drafts: readonly Draft[]
  failure: StoreFailure
  /** The revisions that it was made from: [id, revision]. */
  expected?: readonly (readonly [string, number])[]
}

const PREFIX = 'moonplumb.unsaved.'
const own = `${PREFIX}${Date.now().toString(36)}${Math.random().toString(36).slice(2, 8)}`

const isDraft = (x: unknown): x is Draft =>
  isLoose(x) && [x.id, x.kind, x.station].every(part => typeof part === 'string')

/**
 * A waiting entry, also as earlier versions wrote it, with a sentence (`what`) for the step. Null only where it holds nothing that
 * could be written.
 */
function unsavedFrom(x: unknown): Unsaved | null {
  const { what, step, drafts, failure, expected } = (x ?? {}) as Partial<Unsaved> & { what?: unknown }
  if (!Array.isArray(drafts) || !drafts.every(isDraft) || typeof failure?.kind !== 'string') return null
  return { step: stepFrom(step ?? what), drafts, failure, ...(expected && { expected }) }
}

/** What waits from before, oldest first. It is this tab's from now on. */
export function takeOutbox(): Unsaved[] {
  const waiting: Unsaved[] = []
  for (const key of rememberedKeys(PREFIX).sort()) {
    try {
      const read: unknown = JSON.parse(remembered(key) ?? '[]')
      if (Array.isArray(read)) waiting.push(...read.flatMap(one => unsavedFrom(one) ?? []))
    } catch {
      // not ours
    }
    if (key !== own) remember(key, null)
  }
  if (waiting.length > 0) putOutbox(waiting)
  return waiting
}

/** A larger import is still in its file, and too much for this store. */
const MOST_RECORDS = 2_000

export function putOutbox(waiting: readonly Unsaved[]): void {
  const small = waiting.filter(({ drafts }) => drafts.length <= MOST_RECORDS)
  remember(own, small.length === 0 ? null : JSON.stringify(small))
}
