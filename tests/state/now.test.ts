import { effect } from '@preact/signals'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { createNow, type NowDevice } from '../../src/state/now.ts'

/** A phone whose system clock can be set; vi's time is the monotonic one. */
function phone() {
  let offset = 1_000_000_000_400
  let sleeping = 0
  let visible = true
  const listeners = new Set<() => void>()
  const device: NowDevice = {
    stamp: () => ({
      utcMs: offset + vi.getMockedSystemTime()!.getTime(),
      monotonicMs: vi.getMockedSystemTime()!.getTime() - sleeping,
    }),
    isVisible: () => visible,
    onVisibility(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  }
  return {
    device,
    setClock: (ms: number) => {
      offset += ms
    },
    sleep: (ms: number) => {
      sleeping += ms
      vi.setSystemTime(vi.getMockedSystemTime()!.getTime() + ms)
    },
    show: (now: boolean) => {
      visible = now
      for (const listener of listeners) listener()
    },
    listeners,
  }
}

beforeEach(() => vi.useFakeTimers({ now: 0 }))
afterEach(() => vi.useRealTimers())

describe('now', () => {
  it('ticks on the full second while watched, and not otherwise', () => {
    const { device, listeners } = phone()
    const { now } = createNow(device)
    expect(vi.getTimerCount()).toBe(0)
    const seen: number[] = []
    const stop = effect(() => void seen.push(now.value % 1000))
    vi.advanceTimersByTime(3_100)
    expect(seen.length).toBeGreaterThanOrEqual(4)
    expect(seen.slice(-3)).toEqual([0, 0, 0])
    stop()
    expect([vi.getTimerCount(), listeners.size]).toEqual([0, 0])
  })

  it('rests while the page is hidden and is right at once when it comes back', () => {
    const { device, show } = phone()
    const { now } = createNow(device)
    const stop = effect(() => void now.value)
    vi.advanceTimersByTime(1_000)
    show(false)
    expect(vi.getTimerCount()).toBe(0)
    vi.advanceTimersByTime(60_000)
    show(true)
    expect(now.value).toBe(device.stamp().utcMs)
    stop()
  })
})

describe('clockStep', () => {
  it('is noticed above 250 ms, forward and back, and with the sighting that follows it', () => {
    const { device, setClock } = phone()
    const { now, clockStep, takeStamp } = createNow(device)
    const stop = effect(() => void now.value)
    vi.advanceTimersByTime(1_500)
    setClock(240)
    vi.advanceTimersByTime(1_500)
    expect(clockStep.value).toBeNull()
    setClock(-3_600_000)
    takeStamp()
    expect(clockStep.value).toMatchObject({ stepMs: -3_600_000, noticedMs: device.stamp().utcMs })
    vi.advanceTimersByTime(5_000)
    setClock(500)
    vi.advanceTimersByTime(1_000)
    expect(clockStep.value?.stepMs).toBe(500)
    stop()
  })

  it('does not take sleep for a step', () => {
    const { device, sleep, show } = phone()
    const { now, clockStep } = createNow(device)
    const stop = effect(() => void now.value)
    vi.advanceTimersByTime(1_000)
    show(false)
    sleep(3_600_000)
    show(true)
    vi.advanceTimersByTime(2_000)
    expect(clockStep.value).toBeNull()
    stop()
  })

  it('forgets a step once the clock was compared with a good one', () => {
    const { device, setClock } = phone()
    const { now, clockStep, takeStamp, clockCompared } = createNow(device)
    const stop = effect(() => void now.value)
    vi.advanceTimersByTime(1_100)
    setClock(5_000)
    takeStamp()
    expect(clockStep.value?.stepMs).toBe(5_000)
    clockCompared()
    expect(clockStep.value).toBeNull()
    stop()
  })
})
