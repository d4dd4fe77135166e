/** Something done at intervals while the page is visible: nothing runs while it is hidden, and what is due is done on return. */

export interface SeenDevice {
  isVisible: () => boolean
  onVisibility: (listener: () => void) => () => void
}

export const page: SeenDevice = {
  isVisible: () => typeof document === 'undefined' || document.visibilityState === 'visible',
  onVisibility(listener) {
    if (typeof document === 'undefined') return () => {}
    document.addEventListener('visibilitychange', listener)
    return () => document.removeEventListener('visibilitychange', listener)
  },
}

/**
 * @param act  called every `everyMs` and whenever the page comes back; it decides itself whether anything is due
 * @returns    the way to stop
 */
export function whileSeen(everyMs: number, act: () => void, device: SeenDevice = page): () => void {
  let timer: ReturnType<typeof setInterval> | undefined
  const rest = () => {
    clearInterval(timer)
    timer = undefined
  }
  const wake = () => {
    timer ??= setInterval(act, everyMs)
  }
  const settle = () => {
    if (!device.isVisible()) return rest()
    act()
    wake()
  }
  const unlisten = device.onVisibility(settle)
  if (device.isVisible()) wake()
  return () => {
    unlisten()
    rest()
  }
}
