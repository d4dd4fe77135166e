/** The notices that something stands in for the database: the code is loaded once the first screen stands, or when it is needed. */
import { signal } from '@preact/signals'
import { saidEverywhere } from '../kit/Screen.tsx'

type Views = typeof import('./Standing.tsx')
/** null: not loaded yet. 'lost': it did not load. */
export const standingViews = signal<Views | 'lost' | null>(null)

let loading: Promise<void> | undefined
/** With the other places, or when first needed. */
export function loadStanding(): Promise<void> {
  loading ??= import('./Standing.tsx').then(
    views => {
      standingViews.value = views
      saidEverywhere.value = [...saidEverywhere.value, views.StandingLine]
    },
    () => {
      loading = undefined
      standingViews.value = 'lost'
    },
  )
  return loading
}
