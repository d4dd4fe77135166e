/**
 * Values of the dish at hand go into the field that was touched last on the screen behind it: typed for the person, so that the
 * form reads them as it reads what is typed. Fields of the sheet itself are left out.
 */
import { signal } from '@preact/signals'

/** The field that a value would go into; null: none was touched, or it is gone. */
export const field = signal<HTMLInputElement | null>(null)

const isField = (x: unknown): x is HTMLInputElement =>
  x instanceof HTMLInputElement && x.type === 'text' && !x.readOnly && x.closest('#rehearsal') === null

export function watchFields(page: Document): void {
  page.addEventListener('focusin', event => {
    if (isField(event.target)) field.value = event.target
  })
}

/** @returns whether there was a field to fill */
export function fillIn(text: string): boolean {
  const into = field.peek()
  if (into === null || !into.isConnected) {
    field.value = null
    return false
  }
  // As if typed: what watches the field hears it.
  into.value = text
  into.dispatchEvent(new Event('input', { bubbles: true }))
  into.focus({ preventScroll: false })
  return true
}
