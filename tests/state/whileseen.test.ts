import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { whileSeen } from '../../src/state/whileseen.ts'

function pageThat(isVisible: boolean) {
  const listeners = new Set<() => void>()
  return {
    listeners,
    isVisible: () => isVisible,
    onVisibility(listener: () => void) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    become(next: boolean) {
      isVisible = next
      for (const listener of listeners) listener()
    },
  }
}

beforeEach(() => vi.useFakeTimers())
afterEach(() => vi.useRealTimers())

describe('whileSeen', () => {
  it('acts every so often, and has no timer while the page is hidden', () => {
    const page = pageThat(true)
    const act = vi.fn()
    whileSeen(5_000, act, page)
    vi.advanceTimersByTime(11_000)
    expect(act).toHaveBeenCalledTimes(2)
    page.become(false)
    expect(vi.getTimerCount()).toBe(0)
    vi.advanceTimersByTime(3_600_000)
    expect(act).toHaveBeenCalledTimes(2)
  })
  it('acts at once when the page comes back, and goes on', () => {
    const page = pageThat(false)
    const act = vi.fn()
    whileSeen(5_000, act, page)
    expect(vi.getTimerCount()).toBe(0)
    page.become(true)
    expect(act).toHaveBeenCalledTimes(1)
    page.become(true)
    vi.advanceTimersByTime(5_000)
    expect([act.mock.calls.length, vi.getTimerCount()]).toEqual([3, 1])
  })
  it('leaves neither timer nor listener behind', () => {
    const page = pageThat(true)
    whileSeen(5_000, () => {}, page)()
    expect([vi.getTimerCount(), page.listeners.size]).toEqual([0, 0])
  })
})
