/**
 * Three-vectors, each in a named frame: `J2000` and `OfDate` (equator and equinox then), `Enu` (east, north, up; right-handed) or `Dish` (right, up, out as seen from
 * behind; left-handed, so cross products are taken in Enu only). Vectors of two frames do not mix.
 */
import { wrapTurn } from './angles.ts'
import type { Rad } from './units.ts'

declare const frame: unique symbol
export type Frame = 'Enu' | 'Dish' | 'Phone' | 'J2000' | 'OfDate'
export type Vec3<F extends Frame = 'Enu'> = readonly [number, number, number] & { readonly [frame]?: F }

export const dot = <F extends Frame>(a: Vec3<F>, b: Vec3<NoInfer<F>>): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

/** Right-handed cross product, so not for `Dish`. */
export const cross = <F extends Exclude<Frame, 'Dish'>>(a: Vec3<F>, b: Vec3<NoInfer<F>>): Vec3<F> => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]

export const add = <F extends Frame>(a: Vec3<F>, b: Vec3<NoInfer<F>>): Vec3<F> => [
  a[0] + b[0],
  a[1] + b[1],
  a[2] + b[2],
]
export const sub = <F extends Frame>(a: Vec3<F>, b: Vec3<NoInfer<F>>): Vec3<F> => [
  a[0] - b[0],
  a[1] - b[1],
  a[2] - b[2],
]
export const scale = <F extends Frame>(a: Vec3<F>, k: number): Vec3<F> => [a[0] * k, a[1] * k, a[2] * k]
export const norm = <F extends Frame>(a: Vec3<F>): number => Math.hypot(a[0], a[1], a[2])

/** The unit vector along a; a zero vector is a mistake in our code and throws. */
export const unit = <F extends Frame>(a: Vec3<F>): Vec3<F> => {
  const n = norm(a)
  if (!(n > 0)) throw new RangeError(`unit: length must be > 0, got ${n}`)
  return scale(a, 1 / n)
}

/** The angle between two vectors, 0 to π, accurate at both ends. Any lengths. */
export const angleBetween = (a: Vec3, b: Vec3): Rad => Math.atan2(norm(cross(a, b)), dot(a, b))

/** Direction in Enu of azimuth (from north through east) and elevation. */
export const enuFromAzEl = (az: Rad, el: Rad): Vec3<'Enu'> => [
  Math.cos(el) * Math.sin(az),
  Math.cos(el) * Math.cos(az),
  Math.sin(el),
]

/** Azimuth in [0, 2π) and elevation of a direction of any length; straight up has azimuth 0. */
export const azElFromEnu = (v: Vec3<'Enu'>): { az: Rad; el: Rad } => {
  // wrapTurn, because a tiny negative angle plus a turn is a whole turn.
  return { az: wrapTurn(Math.atan2(v[0], v[1])), el: Math.atan2(v[2], Math.hypot(v[0], v[1])) }
}
