/** The way that always works: select and copy by hand. Drawn only when opened, since it may be long. */
import { useState } from 'preact/hooks'
import { HAND_ON } from './backupwords.ts'

export function TheText({ text }: { text: string }) {
  const [open, setOpen] = useState(false)
  return (
    <details class="help" onToggle={event => setOpen(event.currentTarget.open)}>
      <summary>{HAND_ON.text}</summary>
      {open && (
        <textarea
          class="book-text"
          readOnly
          rows={10}
          aria-label={HAND_ON.text}
          dir="ltr"
          value={text}
          onFocus={event => event.currentTarget.select()}
        />
      )}
    </details>
  )
}
