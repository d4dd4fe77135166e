/**
 * Values of the dish at hand go into the field touched last on the screen behind the sheet, as if typed, so that the form reads them
 * like any other entry. Fields of the sheet itself do not count.
 */
import { signal } from '@preact/signals'

/** The field that a value would go into; null: none was touched, or it is no longer on the page. */
export const touchedField = signal<HTMLInputElement | null>(null)

const isField = (x: unknown): x is HTMLInputElement =>
  x instanceof HTMLInputElement && x.type === 'text' && !x.readOnly && x.closest('#rehearsal') === null

export function watchFields(page: Document): void {
  page.addEventListener('focusin', event => {
    if (isField(event.target)) touchedField.value = event.target
  })
}

/** @returns whether there was a field to fill */
export function fillIn(text: string): boolean {
  const into = touchedField.peek()
  if (into === null || !into.isConnected) {
    touchedField.value = null
    return false
  }
  // Setting `value` fires no event; the form listens for `input`.
  into.value = text
  into.dispatchEvent(new Event('input', { bubbles: true }))
  into.focus({ preventScroll: false })
  return true
}
