/** Whether the dish at hand lies over the screen, and which of its sides is up. */
import { signal } from '@preact/signals'
import type { Tab } from './words.ts'

export const isOpen = signal(false)
export const tab = signal<Tab>('drive')
