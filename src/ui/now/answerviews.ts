/** What the first screen says of a solution: its code is loaded while the first one is computed, and the rest does not wait for it. */
import { signal } from '@preact/signals'

type Views = typeof import('./NowAnswer.tsx')
/** null: not loaded yet. 'lost': it did not load. */
export const answerViews = signal<Views | 'lost' | null>(null)

let loading: Promise<void> | undefined
/** With the first solution that is asked for, or with the other places. */
export function loadAnswer(): Promise<void> {
  loading ??= import('./NowAnswer.tsx').then(
    views => {
      answerViews.value = views
    },
    () => {
      answerViews.value = 'lost'
    },
  )
  return loading
}
