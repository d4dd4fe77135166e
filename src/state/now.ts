/**
 * The time for the screens, once a second on the full second, only while something watches it and the page is visible.
 * Also: whether the phone's clock was set meanwhile. The one place that says what time it is: a demo station may
 * have its own hour, to which the clock is set when it is opened, and a rehearsal a clock that waits or runs fast.
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
  /** Unix ms; at an invented station its own time. */
  now: ReadonlySignal<number>
  /** Unix ms by the phone, whatever is shown: for everything about the phone itself. */
  phoneNow: ReadonlySignal<number>
  /** The same, taken now. */
  phoneMs: () => number
  /** Whether `now` is an invented station's. */
  isOwnTime: ReadonlySignal<boolean>
  /** How many times as fast as the phone's clock `now` runs. */
  clockSpeed: ReadonlySignal<number>
  /** Sets the clock to this time, Unix ms, from where it runs on `speed` times as fast; null: the phone's own again. */
  putClockAt: (utcMs: number | null, speed?: number) => void
  /** How often the clock was set: answers for another time are then asked for again. */
  clockPut: ReadonlySignal<number>
  /** What the clock shows, without a stamp. */
  clockMs: () => number
  /** The last step seen since the page was loaded. A clock set while the page was hidden is not seen. */
  clockStep: ReadonlySignal<ClockStep | null>
  /** A fresh stamp for a sighting, compared with the last tick so that a step is noticed at once. */
  takeStamp: () => Stamp
  /** Call when the clock was compared with a good one: earlier steps are in the comparison and are forgotten. */
  clockCompared: () => void
}

export function createNow(device: NowDevice = browser): Now {
  let timer: ReturnType<typeof setTimeout> | undefined
  let last: Stamp | null = null
  let unlisten: (() => void) | undefined
  const clockStep = signal<ClockStep | null>(null)
  /** An invented station's clock: the time it was set to, the phone's time then, and how fast it runs. */
  const own = signal<{ fromMs: number; atMs: number; speed: number } | null>(null)
  const shown = (phoneMs: number): number => {
    const at = own.peek()
    return at === null ? phoneMs : at.atMs + (phoneMs - at.fromMs) * at.speed
  }

  const look = (): Stamp => {
    const fresh = device.stamp()
    const step = last && stepBetween(last, fresh)
    if (step !== null) clockStep.value = { stepMs: step, noticedMs: fresh.utcMs }
    return fresh
  }
  const phoneMs = (): number => device.stamp().utcMs
  const clockMs = (): number => shown(phoneMs())
  const tick = () => {
    last = look()
    const { utcMs } = last
    phone.value = utcMs
    now.value = shown(utcMs)
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
  const phone = signal(phoneMs())
  const now = signal<number>(phone.peek(), {
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
  const clockPut = signal(0)
  const putClockAt = (utcMs: number | null, speed = 1) => {
    const fromMs = phoneMs()
    own.value = utcMs === null ? null : { fromMs, atMs: utcMs, speed }
    phone.value = fromMs
    now.value = shown(fromMs)
    clockPut.value = clockPut.peek() + 1
  }
  const takeStamp = (): Stamp => {
    const fresh = look()
    return { ...fresh, utcMs: shown(fresh.utcMs) }
  }
  const phoneNow = computed(() => {
    void now.value // what ticks
    return phone.value
  })
  const isOwnTime = computed(() => own.value !== null)
  const clockSpeed = computed(() => own.value?.speed ?? 1)
  return {
    now,
    phoneNow,
    phoneMs,
    isOwnTime,
    clockSpeed,
    putClockAt,
    clockPut,
    clockMs,
    clockStep,
    takeStamp,
    clockCompared,
  }
}

export const {
  now,
  phoneNow,
  phoneMs,
  isOwnTime,
  clockSpeed,
  putClockAt,
  clockPut,
  clockMs,
  clockStep,
  takeStamp,
  clockCompared,
} = createNow()
