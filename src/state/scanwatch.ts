/**
 * While a drift scan runs: the screen is kept on, and the time in which the page was hidden is reported as a gap, also when the
 * phone had closed the page meanwhile.
 */
import { signal } from '@preact/signals'
import { createWakeLock, type WakeLock, type WakeState } from '../device/wakelock.ts'
import { remember, remembered } from './memory.ts'
import { clockMs } from './now.ts'
import { page, type SeenDevice } from './whileseen.ts'

const KEY = 'moonplumb.scan-away'
/** Shorter gaps are ignored. */
const LEAST_MS = 1000

/** Whether the screen is kept on: null while no scan runs. */
export const screenKept = signal<WakeState | null>(null)

export interface ScanDevice extends SeenDevice {
  wakeLock: () => Pick<WakeLock, 'hold' | 'onState' | 'state'>
}

let ours: WakeLock | undefined
const browser: ScanDevice = {
  ...page,
  wakeLock: () => {
    ours ??= createWakeLock()
    return ours
  },
}

interface Away {
  scan: string
  fromMs: number
}
function awayOf(scan: string): Away | null {
  try {
    const away = JSON.parse(remembered(KEY) ?? '') as Away
    return away.scan === scan && Number.isFinite(away.fromMs) ? away : null
  } catch {
    return null
  }
}

/**
 * @param onGap  told on return; Unix ms by the clock that is shown, as the scan's own times are
 * @returns      the way to stop
 */
export function watchScan(
  scan: string,
  onGap: (fromMs: number, toMs: number) => void,
  device: ScanDevice = browser,
): () => void {
  const wake = device.wakeLock()
  const letGo = wake.hold()
  screenKept.value = wake.state
  const unhear = wake.onState(state => {
    screenKept.value = state
  })
  const back = () => {
    const away = awayOf(scan)
    if (away === null) return
    remember(KEY, null)
    const toMs = clockMs()
    if (toMs - away.fromMs >= LEAST_MS) onGap(away.fromMs, toMs)
  }
  const settle = () => {
    if (device.isVisible()) back()
    else if (awayOf(scan) === null) remember(KEY, JSON.stringify({ scan, fromMs: clockMs() } satisfies Away))
  }
  settle()
  const unlisten = device.onVisibility(settle)
  return () => {
    unlisten()
    unhear()
    letGo()
    screenKept.value = null
  }
}
