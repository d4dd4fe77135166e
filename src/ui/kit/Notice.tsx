/**
 * States, shown by word and shape before colour: good is a square with a tick, look out a triangle, stop an octagon with a
 * bar, caution (of harm to a person or the dish) a diamond. `next` has a frame and no mark: what is worth doing.
 */
import type { ComponentChildren } from 'preact'

type NoticeState = 'good' | 'look-out' | 'caution' | 'stop' | 'next'

export const STATE_WORDS: Readonly<Record<NoticeState, string>> = {
  good: 'Good',
  'look-out': 'Look out',
  caution: 'Caution',
  stop: 'Stop',
  next: 'Worth doing next',
}

/** The shape alone, 36 px; always beside its word. */
export function StateMark({ state }: { state: Exclude<NoticeState, 'next'> }) {
  return (
    <svg class="notice-glyph" viewBox="0 0 36 36" aria-hidden="true">
      {state === 'good' && (
        <>
          <rect class="full" x="3" y="3" width="30" height="30" />
          <path class="cut" d="M9 19 L15.5 25.5 L27.5 11" />
        </>
      )}
      {state === 'look-out' && (
        <>
          <path d="M18 4 L34 32.5 L2 32.5 Z" />
          <path d="M18 13.5 V23" />
          <path d="M18 26 V29.5" />
        </>
      )}
      {state === 'caution' && (
        <>
          <path class="full" d="M18 2 L34 18 L18 34 L2 18 Z" />
          <path class="cut" d="M18 9 V20.5" />
          <path class="cut" d="M18 23.5 V27.5" />
        </>
      )}
      {state === 'stop' && (
        <>
          <path class="full" d="M11.5 2.5 H24.5 L33.5 11.5 V24.5 L24.5 33.5 H11.5 L2.5 24.5 V11.5 Z" />
          <path class="cut" d="M9 18 H27" />
        </>
      )}
    </svg>
  )
}

interface NoticeProps {
  state: NoticeState
  /** In place of the state's own word: "Saved", "Beyond the stop". */
  word?: string
  children: ComponentChildren
  /** status: said when the screen reader is free; alert: at once. Without it, read in its place. */
  live?: 'status' | 'alert'
}

export function Notice({ state, word, children, live }: NoticeProps) {
  return (
    <div class={`notice notice-${state}`} role={live}>
      {state !== 'next' && (
        <div class="notice-mark">
          <StateMark state={state} />
        </div>
      )}
      <div>
        <span class="notice-word">{word ?? STATE_WORDS[state]}</span>
        <div>{children}</div>
      </div>
    </div>
  )
}
