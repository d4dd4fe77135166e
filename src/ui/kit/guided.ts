/**
 * Led by the alignment: which of its steps sent the person to this screen, so that a kept record leads back to it. Remembered over a
 * reload of this tab. What shows the way back on the screens themselves is set by the room of the alignment.
 */
import { signal } from '@preact/signals'
import { goInstead } from './navigation.ts'

const KEY = 'moonplumb.guided'

function kept(): string | null {
  try {
    return sessionStorage.getItem(KEY)
  } catch {
    return null // storage switched off
  }
}

/** The step that led here; null: none. */
export const guidedBy = signal<string | null>(kept())

export function guideFrom(step: string | null): void {
  if (guidedBy.peek() === step) return
  guidedBy.value = step
  try {
    if (step === null) sessionStorage.removeItem(KEY)
    else sessionStorage.setItem(KEY, step)
  } catch {
    // storage switched off: until the page is loaded again
  }
}

/** Where a form leads once its record is on the medium: back to the step that led to it, else where it leads otherwise. */
export const backToStep =
  (otherwise: () => void): (() => void) =>
  () => {
    const step = guidedBy.peek()
    if (step === null) otherwise()
    else goInstead('align', step)
  }
