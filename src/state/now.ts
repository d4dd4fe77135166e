/**
 * The time for the screens, once a second on the full second, only while something watches it and the page is visible.
 * Beside it: whether the phone's clock was set while we looked. The one place that says what time it is: a demo station may
 * have an hour of its own, at which the clock is put when it is opened.
 */
import { computed, type ReadonlySignal, signal } from '@preact/signals'
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
  /** Unix ms; at a demo station its own time. */
  now: ReadonlySignal<number>
  /** Unix ms by the phone, whatever is shown: what is said of the phone itself goes by this. */
  phoneNow: ReadonlySignal<number>
  /** Whether `now` is a demo's. */
  isDemoTime: ReadonlySignal<boolean>
  /** Puts the clock at this instant, Unix ms, from where it runs on; null: the phone's own again. */
  putClockAt: (utcMs: number | null) => void
  /** What the clock shows, without a stamp. */
  clockMs: () => number
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
  /** How far a demo's time is ahead of the phone's, ms. */
  const ahead = signal(0)

  const look = (): Stamp => {
    const fresh = device.stamp()
    const step = last && stepBetween(last, fresh)
    if (step !== null) clockStep.value = { stepMs: step, noticedMs: fresh.utcMs }
    return fresh
  }
  const clockMs = (): number => device.stamp().utcMs + ahead.peek()
  const tick = () => {
    last = look()
    const { utcMs } = last
    now.value = utcMs + ahead.peek()
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
  const putClockAt = (utcMs: number | null) => {
    ahead.value = utcMs === null ? 0 : utcMs - device.stamp().utcMs
    now.value = clockMs()
  }
  const takeStamp = (): Stamp => {
    const fresh = look()
    return { ...fresh, utcMs: fresh.utcMs + ahead.peek() }
  }
  const phoneNow = computed(() => now.value - ahead.value)
  const isDemoTime = computed(() => ahead.value !== 0)
  return { now, phoneNow, isDemoTime, putClockAt, clockMs, clockStep, takeStamp, clockCompared }
}

export const { now, phoneNow, isDemoTime, putClockAt, clockMs, clockStep, takeStamp, clockCompared } = createNow()
