/** A few sentences folded under a word; opens and closes by tap, space or enter. */
import type { ComponentChildren } from 'preact'

interface HelpLineProps {
  children: ComponentChildren
  /** In place of "Help": "In words", "What this rests on". */
  word?: string
}

export function HelpLine({ children, word = 'Help' }: HelpLineProps) {
  return (
    <details class="help">
      <summary>{word}</summary>
      <div>{children}</div>
    </details>
  )
}
