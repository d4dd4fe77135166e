/** Where the phone stands, averaged while something watches it. */
import { type ReadonlySignal, signal } from '@preact/signals'
import { type PositionTold, watchPosition } from '../device/position.ts'

export type { Position, PositionTold } from '../device/position.ts'

/** Watching starts the receiver, letting go stops it; each watch begins a new mean. */
function createPosition(watch: typeof watchPosition = watchPosition): ReadonlySignal<PositionTold | null> {
  let stop: (() => void) | undefined
  let soon: ReturnType<typeof setTimeout> | undefined
  const told = signal<PositionTold | null>(null, {
    watched() {
      // Not at once: a signal must not change while somebody begins to watch it.
      soon = setTimeout(() => {
        told.value = null
        stop = watch(fresh => {
          told.value = fresh
        })
      }, 0)
    },
    unwatched() {
      clearTimeout(soon)
      stop?.()
      stop = undefined
    },
  })
  return told
}

export const positionTold = createPosition()
