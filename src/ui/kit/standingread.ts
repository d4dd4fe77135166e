/** What stands in for a database that does not open: whether the person has read so, and the screens that say it. */
import { signal } from '@preact/signals'
import { saidEverywhere } from './Screen.tsx'

/** The person has read it, and goes on with what there is. */
export const standingRead = signal(false)

type Views = typeof import('./Standing.tsx')
/** null: not loaded yet. 'lost': it did not load. */
export const standingViews = signal<Views | 'lost' | null>(null)

let loading: Promise<void> | undefined
/** With the other places, or when first needed. */
export function loadStanding(): Promise<void> {
  loading ??= import('./Standing.tsx').then(
    views => {
      standingViews.value = views
      saidEverywhere.value = views.StandingLine
    },
    () => {
      loading = undefined
      standingViews.value = 'lost'
    },
  )
  return loading
}
