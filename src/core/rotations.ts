/**
 * Rotations in Enu as 3×3 matrices, row by row in nine numbers: apply(m, v) = m·v. Right-handed: `rotation(a, t)` turns
 * by t about the unit vector a.
 */
import type { Rad } from './units.ts'
import type { Frame, Vec3 } from './vectors.ts'

declare const frames: unique symbol
/** Named to-from: `compose(dishFromMount, mountFromEnu)` is `dishFromEnu`, and the types refuse the other order. */
export type Rotation<To extends Frame = 'Enu', From extends Frame = To> = readonly [
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
  number,
] & { readonly [frames]?: readonly [To, From] }

export const IDENTITY: Rotation = [1, 0, 0, 0, 1, 0, 0, 0, 1]

/** Rot(a, t). @param a unit vector, Enu; length not checked */
export function rotation(a: Vec3, t: Rad): Rotation {
  const c = Math.cos(t)
  const s = Math.sin(t)
  const k = 1 - c
  const [x, y, z] = a
  return [
    c + k * x * x,
    k * x * y - s * z,
    k * x * z + s * y,
    k * x * y + s * z,
    c + k * y * y,
    k * y * z - s * x,
    k * x * z - s * y,
    k * y * z + s * x,
    c + k * z * z,
  ]
}

/** exp([v]×): the rotation by |v| about v. */
export function rotationFromVector(v: Vec3): Rotation {
  const t = Math.hypot(v[0], v[1], v[2])
  return t === 0 ? IDENTITY : rotation([v[0] / t, v[1] / t, v[2] / t], t)
}

/** a·b: b first, then a. */
export const compose = <To extends Frame, Between extends Frame, From extends Frame>(
  a: Rotation<To, Between>,
  b: Rotation<NoInfer<Between>, From>,
): Rotation<To, From> => [
  a[0] * b[0] + a[1] * b[3] + a[2] * b[6],
  a[0] * b[1] + a[1] * b[4] + a[2] * b[7],
  a[0] * b[2] + a[1] * b[5] + a[2] * b[8],
  a[3] * b[0] + a[4] * b[3] + a[5] * b[6],
  a[3] * b[1] + a[4] * b[4] + a[5] * b[7],
  a[3] * b[2] + a[4] * b[5] + a[5] * b[8],
  a[6] * b[0] + a[7] * b[3] + a[8] * b[6],
  a[6] * b[1] + a[7] * b[4] + a[8] * b[7],
  a[6] * b[2] + a[7] * b[5] + a[8] * b[8],
]

export const apply = <To extends Frame, From extends Frame>(
  m: Rotation<To, From>,
  v: Vec3<NoInfer<From>>,
): Vec3<To> => [
  m[0] * v[0] + m[1] * v[1] + m[2] * v[2],
  m[3] * v[0] + m[4] * v[1] + m[5] * v[2],
  m[6] * v[0] + m[7] * v[1] + m[8] * v[2],
]

export const transpose = <To extends Frame, From extends Frame>(m: Rotation<To, From>): Rotation<From, To> => [
  m[0],
  m[3],
  m[6],
  m[1],
  m[4],
  m[7],
  m[2],
  m[5],
  m[8],
]

/**
 * How the rotation exp([v]×) turns when v moves by w: exp([v + ε w]×) = exp([ε ω]×) exp([v]×), ω returned.
 * Source: left Jacobian of SO(3), ω = w + (1 - cos θ)/θ² v×w + (θ - sin θ)/θ³ v×(v×w), θ = |v| (standard result).
 */
export function turnFromVectorStep(v: Vec3, w: Vec3): Vec3 {
  const q = v[0] * v[0] + v[1] * v[1] + v[2] * v[2]
  const t = Math.sqrt(q)
  // Series below 1e-4: the closed forms lose half their digits there.
  const a = t < 1e-4 ? 0.5 - q / 24 : (1 - Math.cos(t)) / q
  const b = t < 1e-4 ? 1 / 6 - q / 120 : (t - Math.sin(t)) / (q * t)
  const c: Vec3 = [v[1] * w[2] - v[2] * w[1], v[2] * w[0] - v[0] * w[2], v[0] * w[1] - v[1] * w[0]]
  const d: Vec3 = [v[1] * c[2] - v[2] * c[1], v[2] * c[0] - v[0] * c[2], v[0] * c[1] - v[1] * c[0]]
  return [w[0] + a * c[0] + b * d[0], w[1] + a * c[1] + b * d[1], w[2] + a * c[2] + b * d[2]]
}
