/**
 * Orientation events of the page: beta and gamma as they come, degrees, null where the phone has no such sensor. They come
 * on change only, so silence means that the phone is still. Nothing outside attitude.ts reads the angles.
 */

export interface OrientationSeen {
  betaDeg: number | null
  gammaDeg: number | null
  /** Time of the event, ms on the page's own clock; never the nominal interval. */
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

/** Some phones must be asked, and only in a person's tap. (Several makers have it, so it does not identify a browser.) */
export const mustAskForSensors = (): boolean => classes().some(c => typeof c.requestPermission === 'function')

export type SensorPermission = 'unneeded' | 'granted' | 'denied'

/** Asks for both kinds at once, in the tap itself: after the first `await` it would no longer count as a tap. */
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
