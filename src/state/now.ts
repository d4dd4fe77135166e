/**
 * The time for the screens, once a second on the full second, only while something watches it and the page is visible.
 * Beside it: whether the phone's clock was set while we looked.
 */
import { type ReadonlySignal, signal } from '@preact/signals'
import { type Stamp, stamp, stepBetween } from '../device/clock.ts'
import { page, type SeenDevice } from './whileseen.ts'

export interface NowDevice extends SeenDevice {
  stamp: () => Stamp
}

const browser: NowDevice = { stamp, ...page }

interface ClockStep {
  /** By how much the clock was set, ms, + forward. */
  stepMs: number
  /** Unix ms by the new clock when it was noticed; sightings from then on are marked. */
  noticedMs: number
}

export interface Now {
  /** Unix ms. */
  now: ReadonlySignal<number>
  /** The last step seen since the page was loaded. A clock set while the page was hidden is not seen. */
  clockStep: ReadonlySignal<ClockStep | null>
  /** A fresh stamp for a sighting, compared with the last tick so that a step is noticed at once. */
  takeStamp: () => Stamp
  /** The clock was compared with a good one: what it stepped by before is in the comparison, and no longer of interest. */
  clockCompared: () => void
}

export function createNow(device: NowDevice = browser): Now {
  let timer: ReturnType<typeof setTimeout> | undefined
  let last: Stamp | null = null
  let unlisten: (() => void) | undefined
  const clockStep = signal<ClockStep | null>(null)

  const look = (): Stamp => {
    const fresh = device.stamp()
    const step = last && stepBetween(last, fresh)
    if (step !== null) clockStep.value = { stepMs: step, noticedMs: fresh.utcMs }
    return fresh
  }
  const tick = () => {
    last = look()
    const { utcMs } = last
    now.value = utcMs
    timer = setTimeout(tick, 1000 - (((utcMs % 1000) + 1000) % 1000))
  }
  const rest = () => {
    clearTimeout(timer)
    timer = undefined
    last = null // the monotonic clock may sleep now: no verdict over this gap
  }
  const settle = () => {
    rest()
    if (device.isVisible()) tick()
  }
  const now = signal<number>(device.stamp().utcMs, {
    watched() {
      unlisten = device.onVisibility(settle)
      // Not at once: a signal must not change while somebody begins to watch it.
      timer = setTimeout(settle, 0)
    },
    unwatched() {
      unlisten?.()
      rest()
    },
  })
  const clockCompared = () => {
    clockStep.value = null
  }
  return { now, clockStep, takeStamp: look, clockCompared }
}

export const { now, clockStep, takeStamp, clockCompared } = createNow()
