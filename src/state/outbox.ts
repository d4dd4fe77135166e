/**
 * What could not be written into the book, kept beside it until it can: a page that is loaded again, on the app's own
 * advice or not, begins with it. One entry a tab; a tab that starts takes over what closed ones have left.
 */
import type { Draft } from '../core/records/revisions.ts'
import type { StoreFailure } from '../store/database.ts'
import { remember, remembered, rememberedKeys } from './memory.ts'

/** Records that belong together and are not on the medium yet. */
export interface Unsaved {
  /** What the person did, in words, for the undo button and the list. */
  what: string
  drafts: readonly Draft[]
  failure: StoreFailure
  /** The revisions that it was made from: [id, revision]. */
  expected?: readonly (readonly [string, number])[]
}

const PREFIX = 'moonplumb.unsaved.'
const own = `${PREFIX}${Date.now().toString(36)}${Math.random().toString(36).slice(2, 8)}`

const isUnsaved = (x: unknown): x is Unsaved => {
  const { what, drafts, failure } = (x ?? {}) as Partial<Unsaved>
  return typeof what === 'string' && Array.isArray(drafts) && typeof failure?.kind === 'string'
}

/** What waits from before, oldest first. It is this tab's from now on. */
export function takeOutbox(): Unsaved[] {
  const waiting: Unsaved[] = []
  for (const key of rememberedKeys(PREFIX).sort()) {
    try {
      const read: unknown = JSON.parse(remembered(key) ?? '[]')
      if (Array.isArray(read)) waiting.push(...read.filter(isUnsaved))
    } catch {
      // not ours
    }
    if (key !== own) remember(key, null)
  }
  if (waiting.length > 0) putOutbox(waiting)
  return waiting
}

/** An import that is larger than this is still in its file, and too much for this place. */
const MOST_RECORDS = 2_000

export function putOutbox(waiting: readonly Unsaved[]): void {
  const small = waiting.filter(({ drafts }) => drafts.length <= MOST_RECORDS)
  remember(own, small.length === 0 ? null : JSON.stringify(small))
}
