import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { clockMs, putClockAt } from '../../src/state/now.ts'
import { type ScanDevice, screenKept, watchScan } from '../../src/state/scanwatch.ts'

function device(): ScanDevice & { become(visible: boolean): void; at: number; held: number } {
  let isVisible = true
  const listeners = new Set<() => void>()
  const d = {
    get at() {
      return Date.now()
    },
    set at(ms: number) {
      vi.setSystemTime(ms)
    },
    held: 0,
    isVisible: () => isVisible,
    onVisibility(listener: () => void) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    wakeLock: () => ({
      state: 'held' as const,
      hold: () => {
        d.held++
        return () => {
          d.held--
        }
      },
      onState: () => () => {},
    }),
    become(visible: boolean) {
      isVisible = visible
      for (const listener of [...listeners]) listener()
    },
  }
  return d
}

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['Date'], now: 1_000_000 })
})
afterEach(() => {
  putClockAt(null)
  vi.useRealTimers()
})

describe('watchScan', () => {
  it('tells a gap by the clock of the station that is shown, as the scan’s own times are', () => {
    const d = device()
    putClockAt(Date.UTC(2026, 3, 24, 9), 60)
    const gap = vi.fn()
    const stop = watchScan('own-time', gap, d)
    const fromMs = clockMs()
    d.become(false)
    d.at += 2000
    d.become(true)
    stop()
    expect(gap.mock.calls).toEqual([[fromMs, fromMs + 120_000]])
  })

  it('keeps the screen on while it watches, and tells how long the page was hidden', () => {
    const d = device()
    const gap = vi.fn()
    const stop = watchScan('d', gap, d)
    expect([d.held, screenKept.value]).toEqual([1, 'held'])
    d.become(false)
    d.at += 125_000
    d.become(true)
    expect(gap.mock.calls).toEqual([[1_000_000, 1_125_000]])
    stop()
    expect([d.held, screenKept.value]).toEqual([0, null])
    d.become(false)
    d.at += 60_000
    d.become(true)
    expect(gap).toHaveBeenCalledTimes(1)
  })

  it('tells the gap of a page that was closed while it was hidden, once, and of its own scan alone', () => {
    const d = device()
    watchScan('e', () => {}, d)()
    const first = watchScan('e', () => {}, d)
    d.become(false)
    first()
    d.become(true)
    d.at += 600_000
    const other = vi.fn()
    watchScan('another', other, d)()
    expect(other).not.toHaveBeenCalled()
    const gap = vi.fn()
    watchScan('e', gap, d)()
    expect(gap.mock.calls).toEqual([[1_000_000, 1_600_000]])
    watchScan('e', gap, d)()
    expect(gap).toHaveBeenCalledTimes(1)
  })

  it('takes less than a second for a blink', () => {
    const d = device()
    const gap = vi.fn()
    const stop = watchScan('f', gap, d)
    d.become(false)
    d.at += 400
    d.become(true)
    stop()
    expect(gap).not.toHaveBeenCalled()
  })
})
