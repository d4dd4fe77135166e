/** What is pressed: the one action of a screen, and lesser buttons. Whole words on all of them. */
import type { ComponentChildren } from 'preact'

interface ActionProps {
  children: ComponentChildren
  onPress: () => void
  /** When the finger comes down, before it is a press: for what must be timed. A key has no such moment. */
  onDown?: () => void
  /** Why it cannot be done now: shown above; the button stays reachable and says it too. */
  notNow?: string | null
  /** In place of onPress's button: inside a form, submits it. */
  submit?: boolean
}

/** The one action: full width, 72 px. */
export function Action({ children, onPress, onDown, notNow, submit = false }: ActionProps) {
  return (
    <>
      {notNow && (
        <p class="action-why" id="action-why">
          {notNow}
        </p>
      )}
      <button
        type={submit ? 'submit' : 'button'}
        class="action"
        aria-disabled={notNow ? 'true' : undefined}
        aria-describedby={notNow ? 'action-why' : undefined}
        onPointerDown={onDown}
        onClick={event => {
          if (notNow) event.preventDefault()
          else onPress()
        }}
      >
        {children}
      </button>
    </>
  )
}

interface SecondaryButtonProps {
  children: ComponentChildren
  onPress: () => void
  /** For what takes away. */
  stop?: boolean
  disabled?: boolean
}

/** A lesser button, 56 px. */
export function SecondaryButton({ children, onPress, stop = false, disabled = false }: SecondaryButtonProps) {
  return (
    <button type="button" class={stop ? 'second second-stop' : 'second'} disabled={disabled} onClick={onPress}>
      {children}
    </button>
  )
}

/** Several lesser buttons, side by side where they fit. */
export function ButtonRow({ children }: { children: ComponentChildren }) {
  return <div class="seconds">{children}</div>
}
