/**
 * Keeps the screen on while it is held: with the screen off there are no sensors and no timers. The system
 * releases the lock whenever the page is hidden, so it is requested again when the page comes back.
 */

/** 'refused': hidden page, low battery, power saving. 'absent': no such thing here (installed on iOS before 18.4). */
export type WakeState = 'off' | 'held' | 'refused' | 'absent'

export interface WakeLock {
  /** Holds the screen on; the returned function releases it. Several callers may hold. */
  hold(): () => void
  readonly state: WakeState
  onState(listener: (state: WakeState) => void): () => void
}

interface Sentinel {
  readonly released: boolean
  release(): Promise<void>
  addEventListener(type: 'release', listener: () => void): void
}
interface WakeDevice {
  request: ((type: 'screen') => Promise<Sentinel>) | undefined
  isVisible: () => boolean
  onVisibility: (listener: () => void) => void
}

const browser = (): WakeDevice => ({
  request: navigator.wakeLock ? type => navigator.wakeLock.request(type) : undefined,
  isVisible: () => document.visibilityState === 'visible',
  onVisibility: listener => document.addEventListener('visibilitychange', listener),
})

export function createWakeLock(device: WakeDevice = browser()): WakeLock {
  let holders = 0
  let sentinel: Sentinel | undefined
  let asking = false
  let state: WakeState = device.request ? 'off' : 'absent'
  const listeners = new Set<(state: WakeState) => void>()

  const set = (now: WakeState) => {
    if (now === state) return
    state = now
    for (const listener of listeners) listener(state)
  }

  async function settle(): Promise<void> {
    if (!device.request || asking) return
    if (holders === 0) {
      const old = sentinel
      sentinel = undefined
      set('off')
      await old?.release().catch(() => {})
      return
    }
    if (!device.isVisible() || (sentinel && !sentinel.released)) return
    asking = true
    try {
      const fresh = await device.request('screen')
      sentinel = fresh
      fresh.addEventListener('release', () => {
        if (fresh === sentinel && holders > 0) set('refused')
      })
      set('held')
    } catch {
      set('refused')
    } finally {
      asking = false
    }
    if (holders === 0) await settle() // released while we were asking
  }
  device.onVisibility(() => void settle())

  return {
    hold() {
      holders++
      void settle()
      let held = true
      return () => {
        if (!held) return
        held = false
        holders--
        void settle()
      }
    },
    get state() {
      return state
    },
    onState(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  }
}
