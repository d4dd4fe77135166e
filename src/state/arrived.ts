/** What was last received by codes, on its way from the camera's screen to the import. Lost with the page. */
import { signal } from '@preact/signals'
import type { ToShow } from './toshow.ts'

export const arrived = signal<ToShow | null>(null)
