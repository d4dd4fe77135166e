/**
 * Which way is up for the phone, as a held value: the last event counts until the next. Orientation events first,
 * acceleration where there are none. The different reasons for hearing nothing are kept apart, since each needs another remedy.
 * Nothing outside this file uses the angles: all else uses the up vector.
 */
import { type Source, USUAL_STEP } from '../core/level/phone.ts'
import { rateOf, seenStep } from '../core/level/still.ts'
import {
  GRAVITY,
  type GravitySign,
  signLyingFaceUp,
  signOfGravity,
  upFromAngles,
  upFromGravity,
} from '../core/level/upvector.ts'
import { type Rad, radFromDeg } from '../core/units.ts'
import { add, scale, type Vec3 } from '../core/vectors.ts'
import { hasMotion, type MotionSeen, watchMotion } from './motion.ts'
import { hasOrientation, mustAskForSensors, type OrientationSeen, watchOrientation } from './orientation.ts'

export type AttitudeState =
  | 'delivering'
  /** No event for a while, after events came and with the page visible all the time: nothing moves. */
  | 'silent'
  /** No event yet, but listening for a short time only. */
  | 'starting'
  /** The phone must be asked, in a tap. */
  | 'not-asked'
  | 'denied'
  /** No event at all. */
  | 'absent'
  /** Events without values: the phone has no such sensor. */
  | 'null-events'
  | 'hidden'
  /** Events came before the page was hidden, and none since it is back: the held value may be old. */
  | 'stale'
  /** Orientation and acceleration are more than 5° apart, and not for a moment only. */
  | 'disagree'
  /** Acceleration only, and which way it counts is not known: lay the phone on its back once. */
  | 'sign-unknown'

export interface Attitude {
  state: AttitudeState
  /** Null unless delivering or silent. */
  up: Vec3<'Phone'> | null
  source: Source | null
  /** Rounding of the source as an angle: as seen, else what the specification asks for. */
  step: Rad
  rateHz: number | null
}

/** What a source really delivers, for the page that shows it. */
interface SourceFacts {
  events: number
  nullEvents: number
  /** Smallest step seen: degrees, or m/s². */
  step: number | null
  rateHz: number | null
}

export interface AttitudeFacts {
  orientation: SourceFacts
  motion: SourceFacts
  sign: GravitySign | null
  /** Between the two sources. */
  apart: Rad | null
  mustAsk: boolean
  permission: 'not-asked' | 'granted' | 'denied'
}

export interface AttitudeDevice {
  hasOrientation: boolean
  hasMotion: boolean
  mustAsk: boolean
  watchOrientation: (tell: (seen: OrientationSeen) => void) => () => void
  watchMotion: (tell: (seen: MotionSeen) => void) => () => void
  isVisible: () => boolean
  onVisibility: (listener: () => void) => () => void
  nowMs: () => number
}

export const attitudeDevice = (): AttitudeDevice => ({
  hasOrientation: hasOrientation(),
  hasMotion: hasMotion(),
  mustAsk: mustAskForSensors(),
  watchOrientation,
  watchMotion,
  isVisible: () => document.visibilityState === 'visible',
  onVisibility(listener) {
    document.addEventListener('visibilitychange', listener)
    return () => document.removeEventListener('visibilitychange', listener)
  },
  nowMs: () => performance.now(),
})

/** After this long without an event it is reported. */
export const SILENT_MS = 1500
export const WAIT_MS = 3000
/** Acceleration is taken when the orientation has not come by then: some phones start it late. */
const FALLBACK_MS = 1000
/** The two are compared over this time: either may lag while the phone moves. */
const SMOOTH_MS = 300
const APART_MS = 1500
const KEEP_EVENTS = 240

/** Statistics of one kind of event. */
function heard() {
  const times: number[] = []
  const values: number[] = []
  let events = 0
  let nullEvents = 0
  return {
    missed() {
      nullEvents++
    },
    came(atMs: number, fresh: readonly number[]) {
      events++
      times.push(atMs)
      values.push(...fresh)
      if (times.length > KEEP_EVENTS) times.splice(0, times.length - KEEP_EVENTS)
      if (values.length > 2 * KEEP_EVENTS) values.splice(0, values.length - 2 * KEEP_EVENTS)
    },
    step: () => seenStep(values),
    /** Over the last three seconds. */
    rate: () => rateOf(times.filter(t => t >= times.at(-1)! - 3000)),
    facts(): SourceFacts {
      return { events, nullEvents, step: this.step(), rateHz: this.rate() }
    },
    get nulls() {
      return nullEvents
    },
    get any() {
      return events > 0
    },
  }
}

interface AttitudeModel {
  /** Listens until the returned function is called. */
  start(): () => void
  /** The held value now. */
  read(): Attitude
  facts(): AttitudeFacts
  /** The person says that the phone lies on its back. @returns false when the acceleration contradicts it */
  liesFaceUp(): boolean
  permission: 'not-asked' | 'granted' | 'denied'
}

/** @param known  the acceleration's sign as found on an earlier day; it is the phone's, and does not change */
export function createAttitude(
  device: AttitudeDevice,
  known: GravitySign | null = null,
  onSign: (sign: GravitySign) => void = () => {},
): AttitudeModel {
  let orientation = heard()
  let motion = heard()
  let up: Vec3<'Phone'> | null = null
  let upAtMs = 0
  let acceleration: Vec3<'Phone'> | null = null
  let accelerationAtMs = 0
  let smooth: { acceleration: Vec3<'Phone'>; up: Vec3<'Phone'>; atMs: number } | null = null
  let apartSinceMs: number | null = null
  let apart: Rad | null = null
  let sign = known
  let sinceMs = 0

  const forget = () => {
    up = null
    acceleration = null
    smooth = null
    apartSinceMs = null
    sinceMs = device.nowMs()
  }
  const learn = (found: GravitySign) => {
    if (found === sign) return
    sign = found
    onSign(found)
  }
  const compare = (seen: Vec3<'Phone'>, nowMs: number) => {
    if (up === null) return
    const k = smooth === null ? 1 : 1 - Math.exp(-(nowMs - smooth.atMs) / SMOOTH_MS)
    const toward = (from: Vec3<'Phone'>, to: Vec3<'Phone'>) => add(scale(from, 1 - k), scale(to, k))
    smooth = {
      acceleration: smooth ? toward(smooth.acceleration, seen) : seen,
      up: smooth ? toward(smooth.up, up) : up,
      atMs: nowMs,
    }
    const found = signOfGravity(smooth.acceleration, smooth.up)
    if (found.kind === 'not-still') return
    apart = found.apart
    if (found.kind === 'sign') {
      apartSinceMs = null
      learn(found.sign)
    } else apartSinceMs ??= nowMs
  }

  const stepOf = (source: Source): Rad => {
    const step = (source === 'orientation' ? orientation : motion).step()
    if (step === null) return USUAL_STEP[source]
    return source === 'orientation' ? radFromDeg(step) : step / GRAVITY
  }
  const none = (state: AttitudeState): Attitude => ({ state, up: null, source: null, step: 0, rateHz: null })

  return {
    permission: 'not-asked',
    start() {
      orientation = heard()
      motion = heard()
      forget()
      const stops = [
        device.watchOrientation(({ betaDeg, gammaDeg, atMs }) => {
          if (betaDeg === null || gammaDeg === null) return orientation.missed()
          orientation.came(atMs, [betaDeg, gammaDeg])
          up = upFromAngles(radFromDeg(betaDeg), radFromDeg(gammaDeg))
          upAtMs = device.nowMs()
        }),
        device.watchMotion(({ acceleration: seen, atMs }) => {
          if (seen === null) return motion.missed()
          motion.came(atMs, seen)
          acceleration = seen
          accelerationAtMs = device.nowMs()
          compare(seen, accelerationAtMs)
        }),
        device.onVisibility(forget),
      ]
      return () => {
        for (const stop of stops) stop()
        forget()
      }
    },
    read() {
      if (!device.isVisible()) return none('hidden')
      const nowMs = device.nowMs()
      const waited = nowMs - sinceMs
      if (up !== null) {
        if (apartSinceMs !== null && nowMs - apartSinceMs > APART_MS) return none('disagree')
        const state = nowMs - upAtMs > SILENT_MS ? 'silent' : 'delivering'
        return { state, up, source: 'orientation', step: stepOf('orientation'), rateHz: orientation.rate() }
      }
      if (acceleration !== null && (waited > FALLBACK_MS || orientation.nulls > 0 || !device.hasOrientation)) {
        if (sign === null) return none('sign-unknown')
        // Acceleration events come all the time: silence means that they have stopped.
        if (nowMs - accelerationAtMs > SILENT_MS) return none('stale')
        const from = upFromGravity(acceleration, sign)
        const rateHz = motion.rate()
        return { state: 'delivering', up: from, source: 'motion', step: stepOf('motion'), rateHz }
      }
      if (!device.hasOrientation && !device.hasMotion) return none('absent')
      if (this.permission === 'denied') return none('denied')
      if (
        device.mustAsk &&
        this.permission === 'not-asked' &&
        !orientation.any &&
        !motion.any &&
        orientation.nulls === 0
      )
        return none('not-asked')
      if (waited <= WAIT_MS && orientation.nulls === 0) return none('starting')
      if (orientation.any || motion.any) return none('stale')
      return none(orientation.nulls > 0 || motion.nulls > 0 ? 'null-events' : 'absent')
    },
    facts() {
      const { permission } = this
      const { mustAsk } = device
      return { orientation: orientation.facts(), motion: motion.facts(), sign, apart, mustAsk, permission }
    },
    liesFaceUp() {
      const found = acceleration && signLyingFaceUp(acceleration)
      if (found) learn(found)
      return !!found
    },
  }
}
