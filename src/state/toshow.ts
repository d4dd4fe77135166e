/** What is to be shown as codes, on its way from the screen that made it to the one that shows it. Lost with the page. */
import { signal } from '@preact/signals'

export interface ToShow {
  /** The file's name. */
  name: string
  text: string
}

export const toShow = signal<ToShow | null>(null)
