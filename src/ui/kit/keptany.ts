/**
 * What is typed into a form, kept on the phone letter by letter until the form is done: a page that the phone closes in
 * the background, or going to another place, loses nothing. A form that changes a record remembers which revision it was
 * opened on, so that a newer one from elsewhere is not overwritten unasked.
 */
import { useEffect, useState } from 'preact/hooks'
import { type ListKind, recordId } from '../../core/records/kinds.ts'
import { fieldBook, newId } from '../../state/book.ts'
import { rememberHere as remember, rememberedHere as remembered } from '../../state/memory.ts'

const keyOf = (name: string): string => `moonplumb.typed.${name}`
const baseKeyOf = (name: string): string => `moonplumb.base.${name}`

/** The record that a form changes; null: it makes a new one. */
export type Changes = { kind: ListKind; station: string; id: string } | null

const revisionNow = (id: string): number => fieldBook.records.peek().find(record => record.id === id)?.revision ?? 0

/** Whether something typed waits under this name. */
export const isTyped = (name: string): boolean => remembered(keyOf(name)) !== null

/** The remembered form where it has the same fields of the same types; else the initial one. */
function restored<T extends object>(name: string, initial: T, meet: (kept: T) => T): T {
  try {
    const old = JSON.parse(remembered(keyOf(name)) ?? '') as T
    const isWhole = Object.entries(initial).every(
      ([field, value]) =>
        field in old &&
        (value === null || // nothing picked initially: any kept type is accepted
          (typeof value === typeof old[field as keyof T] &&
            Array.isArray(value) === Array.isArray(old[field as keyof T]))),
    )
    if (isWhole) return meet(old)
  } catch {
    // nothing typed before
  }
  return initial
}

/**
 * @param name  of the form; null: not kept (a record that is being edited)
 * @param meet  joins what was kept with what arrived meanwhile
 * @param changes  the record that it changes
 */
export function useKept<T extends object>(
  name: string | null,
  initial: () => T,
  meet: (kept: T) => T = kept => kept,
  changes: Changes = null,
): [T, (next: T | ((now: T) => T)) => void] {
  const [form, setForm] = useState(() => (name === null ? initial() : restored(name, initial(), meet)))
  const id = changes && recordId(changes.kind, changes.station, changes.id)
  const [base] = useState(() => {
    const before = name !== null && isTyped(name) ? remembered(baseKeyOf(name)) : null
    return before !== null ? Number(before) : id === null ? 0 : revisionNow(id)
  })
  useEffect(() => (id === null ? undefined : fieldBook.openForm(id, base)), [id])
  return [
    form,
    next =>
      setForm(now => {
        const fresh = typeof next === 'function' ? next(now) : next
        if (name !== null) {
          remember(keyOf(name), JSON.stringify(fresh))
          if (id !== null) remember(baseKeyOf(name), String(base))
        }
        return fresh
      }),
  ]
}

const idKeyOf = (name: string): string => `moonplumb.id.${name}`

/**
 * The id of the record that a form makes, the same over a reload, so that nothing is made twice. A form whose record has
 * come into the book since (it waited to be written) is done, and begins empty.
 *
 * @param old  the record that is changed, in place of a new one
 */
export function useRecordId(name: string, kind: ListKind, station: string, old: string | null): string {
  const [id] = useState(() => {
    if (old !== null) return old
    const before = remembered(idKeyOf(name))
    if (before !== null && isTyped(name)) {
      if (revisionNow(recordId(kind, station, before)) === 0) return before
      forget(name)
    }
    const fresh = newId()
    remember(idKeyOf(name), fresh)
    return fresh
  })
  // Another tab that began with the same text may have made it already.
  useEffect(() => (old === null ? fieldBook.openForm(recordId(kind, station, id), 0) : undefined), [id])
  return id
}

export function forget(name: string): void {
  remember(keyOf(name), null)
  remember(idKeyOf(name), null)
  remember(baseKeyOf(name), null)
}
