/**
 * What a state of a record was made from: every edit in it, and which edit wrote which part. From that two phones tell whether one
 * of two states follows from the other, part by part, without having the history of the other: a value gives way only to a
 * writer who had seen it. Merging is a union of what was seen; it depends neither on order nor on repetition
 * (a register that keeps several values: Shapiro, Preguiça, Baquero and Zawirski 2011, INRIA report 7506, section 3.2.2).
 *
 * An edit is named "number.hash": one above the highest number it was made from, and the hash of the record after it. So no
 * phone needs a name, and a phone set back to an older state cannot give one name to two edits.
 */
import type * as v from 'valibot'
import { canonicalText } from './canonical.ts'
import { ENTRY_LISTS, type RecordKind, revisionNumber } from './kinds.ts'
import { contentHash, orderIn, partsOf } from './parts.ts'
import type { MadeSchema } from './schemas/made.ts'

/** As it is stored and, with `hash`, as it lies in a file. Edits in one text, blanks between. */
export type Made = v.InferOutput<typeof MadeSchema>

/** More edits than these are not listed: the oldest, but for the first, are left out. What was left out is asked again, never lost. */
export const MOST_EDITS = 100

export interface Known {
  seen: ReadonlySet<string>
  base: ReadonlySet<string>
  wrote: ReadonlyMap<string, ReadonlySet<string>>
  order: ReadonlyMap<string, { by: string; ids: readonly string[] }>
  deletedBy: ReadonlySet<string>
}

/** A record in one state. */
export interface RecordState {
  kind: RecordKind
  body: unknown
  deleted: boolean
  known: Known
}

const numberOfEdit = (edit: string): number => Number(edit.slice(0, edit.indexOf('.')))
/** By number, then by hash: the same on every phone. */
export const byAge = (a: string, b: string): number => numberOfEdit(a) - numberOfEdit(b) || (a < b ? -1 : a > b ? 1 : 0)
export const highestNumber = (edits: Iterable<string>): number => {
  let highest = 0
  for (const edit of edits) highest = Math.max(highest, numberOfEdit(edit))
  return highest
}

export const editsIn = (text: string | undefined): string[] =>
  text === undefined || text === '' ? [] : text.split(' ')
const inOne = (edits: Iterable<string>): string => [...edits].sort(byAge).join(' ')

const NOTHING: ReadonlySet<string> = new Set()

/** A record made from nothing under that number. */
export function firstKnown(kind: RecordKind, body: unknown, deleted: boolean, number: number): Known {
  const edit = new Set([`${number}.${contentHash(kind, body, deleted)}`])
  return { seen: edit, base: edit, wrote: new Map(), order: new Map(), deletedBy: deleted ? edit : NOTHING }
}

/**
 * Reads a `made`. Without one the record is a first state under its number.
 *
 * @param number  that goes with the record in the file, or in the store
 */
export function knownFrom(
  kind: RecordKind,
  body: unknown,
  deleted: boolean,
  number: number,
  made: Made | undefined,
): Known {
  if (made === undefined) return firstKnown(kind, body, deleted, number)
  const from = editsIn(made.from)
  const base = made.base === undefined ? from.slice(0, 1) : editsIn(made.base)
  const wrote = new Map(Object.entries(made.wrote ?? {}).map(([part, edits]) => [part, new Set(editsIn(edits))]))
  const order = new Map(Object.entries(made.order ?? {}))
  const deletedBy = new Set(deleted ? editsIn(made.deletedBy) : [])
  const seen = new Set([...from, ...base, ...deletedBy, ...[...wrote.values()].flatMap(edits => [...edits])])
  for (const { by } of order.values()) seen.add(by)
  const known = { seen, base: new Set(base), wrote, order, deletedBy }
  if (made.hash === undefined || made.hash === contentHash(kind, body, deleted)) return known
  // Altered by something that does not keep `made`: what exactly is not known, so all of it counts as written then.
  return wholly(known, kind, body, deleted, Math.max(number, highestNumber(seen) + 1))
}

/** Everything written again by one new edit. */
function wholly(known: Known, kind: RecordKind, body: unknown, deleted: boolean, number: number): Known {
  const edit = `${number}.${contentHash(kind, body, deleted)}`
  const one = new Set([edit])
  return {
    seen: new Set([...known.seen, edit]),
    base: one,
    wrote: new Map(),
    order: new Map(),
    deletedBy: deleted ? one : NOTHING,
  }
}

/** The inverse of `knownFrom`. @returns undefined for a first state: its number says enough */
export function madeFrom(state: RecordState): Made | undefined {
  const { seen, base, wrote, order, deletedBy } = state.known
  const isFirst = seen.size === 1 && wrote.size === 0 && order.size === 0 && !state.deleted
  if (isFirst) {
    const [edit] = seen as unknown as [string]
    if (edit === `${numberOfEdit(edit)}.${contentHash(state.kind, state.body, false)}`) return undefined
  }
  const from = inOne(bounded(state.known))
  const made: Made = { from }
  if (inOne(base) !== from.split(' ')[0]) made.base = inOne(base)
  if (wrote.size > 0)
    made.wrote = Object.fromEntries([...wrote].sort(byName).map(([part, edits]) => [part, inOne(edits)]))
  if (order.size > 0)
    made.order = Object.fromEntries([...order].sort(byName).map(([list, o]) => [list, { by: o.by, ids: [...o.ids] }]))
  if (state.deleted) made.deletedBy = inOne(deletedBy)
  return made
}
const byName = ([a]: readonly [string, unknown], [b]: readonly [string, unknown]): number => (a < b ? -1 : 1)

/** What is listed of what was seen: the first edit, those that the parts name, and the newest. */
function bounded({ seen, base, wrote, order, deletedBy }: Known): ReadonlySet<string> {
  if (seen.size <= MOST_EDITS) return seen
  const inAge = [...seen].sort(byAge)
  const kept = new Set([inAge[0]!, ...base, ...deletedBy, ...[...wrote.values()].flatMap(edits => [...edits])])
  for (const { by } of order.values()) kept.add(by)
  for (let i = inAge.length - 1; i > 0 && kept.size < MOST_EDITS; i -= 1) kept.add(inAge[i]!)
  return kept
}

/** As it goes into a file, beside the record's number. */
export const madeForFile = (state: RecordState): Made | undefined => {
  const made = madeFrom(state)
  if (made === undefined) return undefined
  return state.deleted ? made : { hash: contentHash(state.kind, state.body, false), ...made }
}

/** The next state after an edit on this phone. The same content as before is not an edit. */
export function afterEdit(before: RecordState, body: unknown, deleted: boolean): RecordState {
  const { kind, known } = before
  if (deleted && before.deleted) return { ...before, body }
  const number = highestNumber(known.seen) + 1
  if (deleted || before.deleted) {
    const next = wholly(known, kind, body, deleted, number)
    // A deletion keeps who wrote what; a restored record counts as written whole.
    return { kind, body, deleted, known: deleted ? { ...known, seen: next.seen, deletedBy: next.deletedBy } : next }
  }
  const [was, is] = [partsOf(kind, before.body), partsOf(kind, body)]
  const changed = [...new Set([...was.keys(), ...is.keys()])].filter(
    part => was.has(part) !== is.has(part) || canonicalText(was.get(part)) !== canonicalText(is.get(part)),
  )
  const orders = ENTRY_LISTS.filter(
    list => kind === 'station' && canonicalText(orderIn(before.body, list)) !== canonicalText(orderIn(body, list)),
  )
  if (changed.length === 0 && orders.length === 0) return { ...before, body }
  const edit = `${number}.${contentHash(kind, body, false)}`
  const wrote = new Map(known.wrote)
  for (const part of changed) wrote.set(part, new Set([edit]))
  const order = new Map(known.order)
  for (const list of orders) order.set(list, { by: edit, ids: orderIn(body, list) ?? [] })
  return { kind, body, deleted, known: { ...known, seen: new Set([...known.seen, edit]), wrote, order } }
}

/** Whether whoever made this state had seen that edit. */
export function hasSeen(known: Known, edit: string): boolean {
  if (known.seen.has(edit)) return true
  // A file without `made`, of an older program: under a number above 1 it follows from the first state, number 1.
  if (numberOfEdit(edit) !== 1) return false
  for (const one of known.seen) if (numberOfEdit(one) === 1) return false
  return true
}

/** The number that an export wrote beside a record; 1 when there is none, or no valid one. */
export function revisionOf(body: unknown): number {
  const revision = typeof body === 'object' && body !== null ? (body as { revision?: unknown }).revision : undefined
  return revisionNumber(revision) ?? 1
}
