/**
 * What is typed into a form, kept on the phone letter by letter until the form is done: a page that the phone closes in
 * the background, or a walk to another place, loses nothing.
 */
import { useState } from 'preact/hooks'
import { remember, remembered } from '../../state/memory.ts'
import type { SightForm } from '../sightform.ts'

const keyOf = (name: string): string => `moonplumb.typed.${name}`

/** The remembered form where it has the same fields; else the initial one. */
function restored(name: string, initial: SightForm): SightForm {
  try {
    const old = JSON.parse(remembered(keyOf(name)) ?? '') as SightForm
    const isWhole = Object.entries(initial).every(
      ([field, value]) => field in old && (value === null || typeof value === typeof old[field as keyof SightForm]),
    )
    if (!isWhole) return initial
    // Readings that came meanwhile from the other half of the sighting stand where none was typed.
    return { ...old, lower: old.lower || initial.lower, upper: old.upper || initial.upper }
  } catch {
    // nothing typed before
  }
  return initial
}

/** @param name  of the form: "half.ID" */
export function useKeptForm(name: string, initial: SightForm): [SightForm, (change: Partial<SightForm>) => void] {
  const [form, setForm] = useState(() => restored(name, initial))
  return [
    form,
    change =>
      setForm(before => {
        const next = { ...before, ...change }
        remember(keyOf(name), JSON.stringify(next))
        return next
      }),
  ]
}

export const forgetForm = (name: string): void => remember(keyOf(name), null)
