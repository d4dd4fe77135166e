/**
 * Motion events of the page: the acceleration with gravity in it, m/s² in the Phone frame, null where there is none. Its
 * sign differs between platforms; attitude.ts finds it.
 */
import type { Vec3 } from '../core/vectors.ts'

export interface MotionSeen {
  acceleration: Vec3<'Phone'> | null
  /** Time of the event, ms on the page's own clock. */
  atMs: number
}

export const hasMotion = (): boolean => typeof window !== 'undefined' && 'DeviceMotionEvent' in window

/** Listens until the returned function is called. */
export function watchMotion(tell: (seen: MotionSeen) => void): () => void {
  if (!hasMotion()) return () => {}
  const listener = (event: DeviceMotionEvent) => {
    const a = event.accelerationIncludingGravity
    const whole = a !== null && a.x !== null && a.y !== null && a.z !== null
    tell({ acceleration: whole ? [a.x!, a.y!, a.z!] : null, atMs: event.timeStamp })
  }
  window.addEventListener('devicemotion', listener)
  return () => window.removeEventListener('devicemotion', listener)
}
