/** Whether the sheet of the dish at hand is open, and which of its tabs is shown. */
import { signal } from '@preact/signals'
import type { Tab } from './words.ts'

export const isSheetOpen = signal(false)
export const tab = signal<Tab>('drive')
