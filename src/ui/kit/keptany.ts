/**
 * What is typed into a form, kept on the phone letter by letter until the form is done: a page that the phone closes in
 * the background, or a walk to another place, loses nothing.
 */
import { useState } from 'preact/hooks'
import { remember, remembered } from '../../state/memory.ts'

const keyOf = (name: string): string => `moonplumb.typed.${name}`

/** The remembered form where it has the same fields of the same types; else the initial one. */
function restored<T extends object>(name: string, initial: T, meet: (kept: T) => T): T {
  try {
    const old = JSON.parse(remembered(keyOf(name)) ?? '') as T
    const isWhole = Object.entries(initial).every(
      ([field, value]) =>
        field in old &&
        (value === null || // not picked yet: anything may have been
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
 * @param meet  what was kept, with what came meanwhile
 */
export function useKept<T extends object>(
  name: string | null,
  initial: () => T,
  meet: (kept: T) => T = kept => kept,
): [T, (next: T | ((now: T) => T)) => void] {
  const [form, setForm] = useState(() => (name === null ? initial() : restored(name, initial(), meet)))
  return [
    form,
    next =>
      setForm(now => {
        const fresh = typeof next === 'function' ? next(now) : next
        if (name !== null) remember(keyOf(name), JSON.stringify(fresh))
        return fresh
      }),
  ]
}

export const forget = (name: string): void => remember(keyOf(name), null)
