/**
 * The phone as a level: the held attitude, whether it is still, and the reading once it has been. The sensors run while
 * something watches `live`, and the screen stays on for as long.
 */
import { type ReadonlySignal, signal } from '@preact/signals'
import type { PhoneReading } from '../core/level/phone.ts'
import { type HeldStill, HOLD_MS, heldBefore, heldMean, type Stillness, stillness } from '../core/level/still.ts'
import type { GravitySign } from '../core/level/upvector.ts'
import {
  type Attitude,
  type AttitudeDevice,
  type AttitudeFacts,
  type AttitudeState,
  attitudeDevice,
  createAttitude,
} from '../device/attitude.ts'
import { askForSensors, type SensorPermission } from '../device/orientation.ts'
import { buzz, readySound, tone } from '../device/sound.ts'
import { createWakeLock, type WakeLock } from '../device/wakelock.ts'
import { remember, remembered } from './memory.ts'
import { sound } from './settings.ts'
import { page, type SeenDevice, whileSeen } from './whileseen.ts'

export type { Attitude, AttitudeFacts, AttitudeState }

export interface Live {
  attitude: Attitude
  still: Stillness
  /** Full seconds until it is taken; null while it moves. */
  secondsLeft: number | null
  /** Still for long enough: this is the reading. */
  reading: TakenReading | null
}

/** What is kept of a reading by the phone. */
export interface TakenReading extends PhoneReading {
  rateHz: number | null
}

/** Our own timer: each tick samples the held value. */
const SAMPLE_MS = 50
/** The screen follows at half of that. */
const SHOW_EVERY = 2
const KEEP = 100
/** The tap on "Take now" shakes the phone: the last samples before it, ms, are not counted. */
const TAP_MS = 300
/** No more samples make one reading. */
const MOST = Math.ceil(HOLD_MS / SAMPLE_MS)
/** How long the sensors run on when nothing watches them any more. */
export const LINGER_MS = 1500

interface LevelModel {
  /** Watching it starts the sensors; null until the first sample. */
  live: ReadonlySignal<Live | null>
  /** In a tap. */
  ask(): Promise<SensorPermission>
  /** Forgets what was held: the seconds are counted from the start. */
  anew(): void
  /** The mean of the samples before the tap, over no longer than an ordinary reading; null when there is nothing to take. */
  takeNow(): TakenReading | null
  liesFaceUp(): boolean
  facts(): AttitudeFacts
  /** The browser's own name for itself: shown in a report, never used to decide anything. */
  agent(): string
}

interface LevelDevice {
  attitude: () => AttitudeDevice
  ask: () => Promise<SensorPermission>
  wakeLock: () => Pick<WakeLock, 'hold'>
  /** Whether the page is seen; default: this page. */
  seen?: SeenDevice
}

let ours: WakeLock | undefined
const browser: LevelDevice = {
  attitude: attitudeDevice,
  ask: () => askForSensors(),
  wakeLock: () => {
    ours ??= createWakeLock()
    return ours
  },
}

const SIGN_KEY = 'moonplumb.gravity-sign'
const knownSign = (): GravitySign | null => ({ '1': 1, '-1': -1 })[remembered(SIGN_KEY) ?? ''] as GravitySign | null

export function createLevel(device: LevelDevice = browser): LevelModel {
  let samples: HeldStill[] = []
  const seen = device.seen ?? page
  let rest: (() => void) | undefined
  let ending: ReturnType<typeof setTimeout> | undefined
  let stop: (() => void) | undefined
  let release: (() => void) | undefined
  let model: ReturnType<typeof createAttitude> | undefined
  const attitude = () => {
    model ??= createAttitude(device.attitude(), knownSign() ?? null, sign => remember(SIGN_KEY, String(sign)))
    return model
  }

  const takenFrom = (a: Attitude, own: readonly HeldStill[]): TakenReading | null =>
    a.up === null || a.source === null || own.length === 0
      ? null
      : { ...heldMean(own, a.step), source: a.source, step: a.step, rateHz: a.rateHz }

  let ticks = 0
  const tick = () => {
    const a = attitude().read()
    if (a.up === null) samples = []
    else samples.push({ atMs: performance.now(), up: a.up })
    if (samples.length > KEEP) samples = samples.slice(-KEEP)
    if (ticks++ % SHOW_EVERY === 0) show(a)
  }
  const show = (a: Attitude) => {
    const still = stillness(samples, a.step)
    const isDone = still.kind === 'still' && still.forMs >= HOLD_MS
    live.value = {
      attitude: a,
      still,
      secondsLeft: still.kind === 'still' ? Math.ceil((HOLD_MS - still.forMs) / 1000) : null,
      reading: isDone && a.source !== null ? { ...still.mean, source: a.source, step: a.step, rateHz: a.rateHz } : null,
    }
  }

  const live = signal<Live | null>(null, {
    watched() {
      clearTimeout(ending)
      if (stop !== undefined) return
      samples = []
      stop = attitude().start()
      // Hidden pages get no sensors: nothing is sampled, and that is shown once.
      const sampling = whileSeen(SAMPLE_MS, tick, seen)
      const unlisten = seen.onVisibility(() => {
        if (seen.isVisible()) return
        samples = []
        show(attitude().read())
      })
      rest = () => {
        sampling()
        unlisten()
      }
      release = device.wakeLock().hold()
    },
    unwatched() {
      // Not at once: between two screens the held value must survive, since a resting phone would not send it again.
      ending = setTimeout(() => {
        rest?.()
        stop?.()
        stop = undefined
        release?.()
        samples = []
      }, LINGER_MS)
    },
  })

  return {
    live,
    async ask() {
      const answer = await device.ask()
      attitude().permission = answer === 'denied' ? 'denied' : 'granted'
      return answer
    },
    anew() {
      samples = []
    },
    takeNow() {
      const a = attitude().read()
      return takenFrom(a, heldBefore(samples, performance.now() - TAP_MS, a.step).slice(-MOST))
    },
    liesFaceUp: () => attitude().liesFaceUp(),
    facts: () => attitude().facts(),
    agent: () => navigator.userAgent,
  }
}

/** For the whole app: one set of sensors. */
export const phoneLevel = createLevel()

/** In a tap: the later tones need it. */
export function readySigns(): void {
  if (sound.value === 'on') readySound()
}
/** A reading was taken: a high tone and a buzz. */
export function signTaken(): void {
  if (sound.value === 'on') tone(880)
  buzz(80)
}
/** It was refused: a low tone and two buzzes. */
export function signRefused(): void {
  if (sound.value === 'on') tone(330, 250)
  buzz([60, 80, 60])
}
