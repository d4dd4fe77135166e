/**
 * The rehearsal's own vectors: Enu, plain triples, turned one rotation after the other. The solver's chain multiplies matrices
 * (mount/asbuilt.ts); this shares no line with it, so a mistake in one shows against the other.
 */
import { DEG } from '../units.ts'

/** East, north, up. */
export type V3 = [number, number, number]

export const EAST: V3 = [1, 0, 0]
export const NORTH: V3 = [0, 1, 0]
export const UP: V3 = [0, 0, 1]

export const crossed = (a: V3, b: V3): V3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
export const dotted = (a: V3, b: V3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
export const mixed = (a: V3, x: number, b: V3, y: number): V3 => [
  a[0] * x + b[0] * y,
  a[1] * x + b[1] * y,
  a[2] * x + b[2] * y,
]
export const normed = (a: V3): V3 => {
  const n = Math.hypot(...a)
  return [a[0] / n, a[1] / n, a[2] / n]
}

/** v turned by t radians about the unit vector a, right-handed. Source: Rodrigues. */
export function turned(v: V3, a: V3, t: number): V3 {
  if (t === 0) return v
  const c = Math.cos(t)
  const s = Math.sin(t)
  const x = crossed(a, v)
  const k = dotted(a, v) * (1 - c)
  return [v[0] * c + x[0] * s + a[0] * k, v[1] * c + x[1] * s + a[1] * k, v[2] * c + x[2] * s + a[2] * k]
}

/** v turned by the rotation vector w. */
export function turnedBy(v: V3, w: V3): V3 {
  const t = Math.hypot(...w)
  return t === 0 ? v : turned(v, normed(w), t)
}

/** The angle between two unit vectors, degrees. */
export const apartDeg = (a: readonly number[], b: readonly number[]): number => {
  const [p, q] = [a as V3, b as V3]
  return Math.atan2(Math.hypot(...crossed(p, q)), dotted(p, q)) / DEG
}

/** How high a unit vector points, degrees. */
export const heightDeg = (v: readonly number[]): number => Math.asin(Math.max(-1, Math.min(1, v[2]!))) / DEG
/** Its azimuth, 0 to 360 degrees. */
export const azimuthDeg = (v: readonly number[]): number => (((Math.atan2(v[0]!, v[1]!) / DEG) % 360) + 360) % 360
