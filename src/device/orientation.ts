/**
 * Orientation events of the page: beta and gamma as they come, degrees, null where the phone has no such sensor. They come
 * on change only, so silence is stillness. Nothing outside attitude.ts reads the angles.
 */

export interface OrientationSeen {
  betaDeg: number | null
  gammaDeg: number | null
  /** Of the event, ms on the page's own clock; never the nominal interval. */
  atMs: number
}

export const hasOrientation = (): boolean => typeof window !== 'undefined' && 'DeviceOrientationEvent' in window

/** Listens until the returned function is called. */
export function watchOrientation(tell: (seen: OrientationSeen) => void): () => void {
  if (!hasOrientation()) return () => {}
  const listener = (event: DeviceOrientationEvent) =>
    tell({ betaDeg: event.beta, gammaDeg: event.gamma, atMs: event.timeStamp })
  window.addEventListener('deviceorientation', listener)
  return () => window.removeEventListener('deviceorientation', listener)
}

interface Asking {
  requestPermission?: () => Promise<string>
}

const classes = (): Asking[] => {
  const page = globalThis as { DeviceOrientationEvent?: Asking; DeviceMotionEvent?: Asking }
  return [page.DeviceOrientationEvent, page.DeviceMotionEvent].filter(c => c !== undefined)
}

/** Some phones must be asked, and only a person's tap may do so. (Several makers have it: it tells no browser apart.) */
export const mustAskForSensors = (): boolean => classes().some(c => typeof c.requestPermission === 'function')

export type SensorPermission = 'unneeded' | 'granted' | 'denied'

/** Asks for both kinds at once, in the tap itself: after the first wait it would no longer count as one. */
export async function askForSensors(of: readonly Asking[] = classes()): Promise<SensorPermission> {
  const asked = of.filter(c => typeof c.requestPermission === 'function').map(c => tried(() => c.requestPermission!()))
  if (asked.length === 0) return 'unneeded'
  const answers = await Promise.all(asked)
  return answers.includes('granted') ? 'granted' : 'denied'
}

const tried = async (ask: () => Promise<string>): Promise<string> => {
  try {
    return await ask()
  } catch {
    return 'denied' // outside a tap, or forbidden by the page's policy
  }
}
