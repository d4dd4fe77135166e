import { effect } from '@preact/signals'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { HOLD_MS } from '../../src/core/level/still.ts'
import { degFromRad } from '../../src/core/units.ts'
import type { AttitudeDevice } from '../../src/device/attitude.ts'
import type { OrientationSeen } from '../../src/device/orientation.ts'
import { createLevel, LINGER_MS, type Live } from '../../src/state/level.ts'

let tell: (seen: OrientationSeen) => void = () => {}
let listening = false
let held = 0
const device = (): AttitudeDevice => ({
  hasOrientation: true,
  hasMotion: false,
  mustAsk: false,
  watchOrientation(listener) {
    tell = listener
    listening = true
    return () => {
      listening = false
    }
  },
  watchMotion: () => () => {},
  isVisible: () => true,
  onVisibility: () => () => {},
  nowMs: () => performance.now(),
})
const level = () =>
  createLevel({
    attitude: device,
    ask: async () => 'denied',
    wakeLock: () => ({
      hold() {
        held++
        return () => {
          held--
        }
      },
    }),
  })
const turn = (betaDeg: number) => tell({ betaDeg, gammaDeg: 0, atMs: performance.now() })
const topDeg = (live: Live | null): number => degFromRad(Math.asin(live!.reading!.up[1]))

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval', 'setTimeout', 'clearTimeout', 'performance'] })
})
afterEach(() => {
  vi.useRealTimers()
})

describe('createLevel', () => {
  it('runs the sensors and keeps the screen on only while something watches', () => {
    const model = level()
    expect([listening, held]).toEqual([false, 0])
    const stop = effect(() => void model.live.value)
    expect([listening, held]).toEqual([true, 1])
    stop()
    vi.advanceTimersByTime(LINGER_MS)
    expect([listening, held]).toEqual([false, 0])
  })
  it('samples nothing while the page is hidden, says so once, and counts the seconds from its return', () => {
    let visible = true
    const listeners = new Set<() => void>()
    const seen = {
      isVisible: () => visible,
      onVisibility(listener: () => void) {
        listeners.add(listener)
        return () => void listeners.delete(listener)
      },
    }
    const turnPage = (to: boolean) => {
      visible = to
      for (const listener of listeners) listener()
    }
    const model = createLevel({
      attitude: () => ({ ...device(), ...seen }),
      ask: async () => 'granted',
      wakeLock: () => ({ hold: () => () => {} }),
      seen,
    })
    const stop = effect(() => void model.live.value)
    turn(12)
    vi.advanceTimersByTime(1000)
    turnPage(false)
    expect([vi.getTimerCount(), model.live.value!.attitude.state, model.live.value!.reading]).toEqual([
      0,
      'hidden',
      null,
    ])
    vi.advanceTimersByTime(60_000)
    turnPage(true)
    turn(12)
    vi.advanceTimersByTime(HOLD_MS - 200)
    expect(model.live.value!.reading).toBeNull()
    vi.advanceTimersByTime(400)
    expect(topDeg(model.live.value)).toBeCloseTo(12, 6)
    stop()
    vi.advanceTimersByTime(LINGER_MS)
    expect([vi.getTimerCount(), listeners.size]).toEqual([0, 0])
  })
  it('keeps what it holds from one screen to the next, since a phone that rests does not send it again', () => {
    const model = level()
    const first = effect(() => void model.live.value)
    turn(12)
    first()
    vi.advanceTimersByTime(LINGER_MS - 1)
    const second = effect(() => void model.live.value)
    model.anew()
    vi.advanceTimersByTime(60_000)
    expect(topDeg(model.live.value)).toBeCloseTo(12, 6)
    expect(model.live.value!.attitude.state).toBe('silent')
    second()
  })
  it('counts three seconds down from the last move and then has the reading', () => {
    const model = level()
    const seconds: (number | null)[] = []
    const stop = effect(() => {
      const left = model.live.value?.secondsLeft ?? null
      if (seconds.at(-1) !== left) seconds.push(left)
    })
    turn(40)
    vi.advanceTimersByTime(1000)
    turn(12.3)
    // What lay before the move is forgotten as the window slides: at most the window and the settling in.
    vi.advanceTimersByTime(HOLD_MS + 300)
    expect(topDeg(model.live.value)).toBeCloseTo(12.3, 6)
    expect(seconds.slice(-3)).toEqual([2, 1, 0])
    stop()
  })
  it('takes at once on demand, from before the tap', () => {
    const model = level()
    const stop = effect(() => void model.live.value)
    turn(5)
    vi.advanceTimersByTime(1000)
    turn(9) // the tap
    vi.advanceTimersByTime(100)
    const taken = model.takeNow()!
    expect(degFromRad(Math.asin(taken.up[1]))).toBeCloseTo(5, 6)
    expect(taken).toMatchObject({ source: 'orientation' })
    // Moved just before: not the mean of here and there.
    vi.advanceTimersByTime(2000)
    turn(50)
    vi.advanceTimersByTime(700)
    expect(degFromRad(Math.asin(model.takeNow()!.up[1]))).toBeCloseTo(50, 6)
    model.anew()
    expect(model.takeNow()).toBeNull()
    stop()
  })
  it('tells a denial, without an event', async () => {
    const model = level()
    const stop = effect(() => void model.live.value)
    expect(await model.ask()).toBe('denied')
    vi.advanceTimersByTime(200)
    expect(model.live.value!.attitude.state).toBe('denied')
    expect(model.takeNow()).toBeNull()
    stop()
  })
})
