/** Buttons: the one action of a screen, and lesser ones. Whole words on all of them. */
import type { ComponentChildren } from 'preact'

/** Two taps of one finger come within this; common practice, no source. ms */
const DOUBLE_MS = 400
interface Tap {
  ms: number
  x: number
  y: number
}
const NEVER: Tap = { ms: Number.NEGATIVE_INFINITY, x: 0, y: 0 }
/** The last tap anywhere, and the one before it: a double tap has no other tap in between. */
let last = NEVER
let before = NEVER

if (typeof document !== 'undefined')
  document.addEventListener(
    'click',
    event => {
      before = last
      const isTouch = (event as Partial<PointerEvent>).pointerType === 'touch'
      last = isTouch ? { ms: event.timeStamp, x: event.clientX, y: event.clientY } : NEVER
    },
    true,
  )

/**
 * Whether a press is the second of a double tap: the first has done what was meant, and the screen may already show another button in
 * its place.
 */
export function isSecondTap(event: MouseEvent): boolean {
  const { timeStamp: ms, clientX: x, clientY: y, detail } = event
  // With fingers the browser counts two taps within 100 px as a double tap: say a key and then the button below it.
  if ((event as Partial<PointerEvent>).pointerType !== 'touch') return detail > 1
  return ms - before.ms < DOUBLE_MS && Math.hypot(x - before.x, y - before.y) < 30
}

interface ActionProps {
  children: ComponentChildren
  onPress: () => void
  /** When the finger comes down, before it is a press: for what must be timed. A key has no such moment. */
  onDown?: () => void
  /** Why it cannot be done now: shown above; the button stays reachable and says it too. */
  notNow?: string | null
  /** There is nothing to do yet; the text above says why. */
  off?: boolean
  /** In place of onPress's button: inside a form, submits it. */
  submit?: boolean
}

/** The one action: full width, 72 px. */
export function Action({ children, onPress, onDown, notNow, off = false, submit = false }: ActionProps) {
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
        aria-disabled={notNow || off ? 'true' : undefined}
        aria-describedby={notNow ? 'action-why' : undefined}
        onPointerDown={onDown}
        onClick={event => {
          const isSecond = isSecondTap(event)
          if (notNow || off || isSecond) event.preventDefault()
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
