/** A few sentences folded under a word; opens and closes by tap, space or enter. */
import type { ComponentChildren } from 'preact'
import { useRef } from 'preact/hooks'

interface HelpLineProps {
  children: ComponentChildren
  /** In place of "Help": "In words", "What this rests on". */
  word?: string
  /** Something in it is at fault: it opens, and stays open while that is mended. */
  atFault?: boolean
}

export function HelpLine({ children, word = 'Help', atFault = false }: HelpLineProps) {
  const wasAtFault = useRef(false)
  wasAtFault.current ||= atFault
  return (
    <details class="help" {...(wasAtFault.current && { open: true })}>
      <summary>{word}</summary>
      <div>{children}</div>
    </details>
  )
}
