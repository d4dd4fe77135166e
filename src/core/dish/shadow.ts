/**
 * The feed's shadow on the dish. Dish frame (right, up, out as seen from behind): vertex at the origin, reflector
 * z = (x² + y²)/4f, the feed's centre F = (0, 0, f) when everything is counted from the shadow line. Millimetres.
 * Shadow to the left means that the Sun is to the right.
 */
import type { Mm, Rad } from '../units.ts'
import type { Vec3 } from '../vectors.ts'

/** Where something stands in the dish frame: arc along the great circle, split into right and up. */
export interface Offset {
  right: Rad
  up: Rad
}

/** The offset of a direction given in the dish frame, any length. */
export function offsetFromDish(s: Vec3<'Dish'>): Offset {
  const rho = Math.hypot(s[0], s[1])
  if (rho === 0) return { right: 0, up: 0 }
  const k = Math.atan2(rho, s[2]) / rho
  return { right: s[0] * k, up: s[1] * k }
}

/** The unit direction in the dish frame of an offset. */
export function dishFromOffset(o: Offset): Vec3<'Dish'> {
  const angle = Math.hypot(o.right, o.up)
  const k = angle < 1e-9 ? 1 : Math.sin(angle) / angle
  return [o.right * k, o.up * k, Math.cos(angle)]
}

/**
 * The Sun's offset from the shadow line, from where the feed's shadow fell.
 *
 * @param focalLength f, mm, > 0
 * @param rightMm, upMm  the shadow's centre in the aperture plane's projection, as seen from behind
 * Exact: P is on the paraboloid, s ∝ F - P.
 */
export function sunFromShadow(focalLength: Mm, rightMm: Mm, upMm: Mm): Offset {
  if (!(focalLength > 0)) throw new RangeError(`sunFromShadow: focalLength must be > 0 mm, got ${focalLength}`)
  const depth = (rightMm * rightMm + upMm * upMm) / (4 * focalLength)
  return offsetFromDish([-rightMm, -upMm, focalLength - depth])
}

/**
 * Where F's shadow falls when the Sun stands at s; the line F - t s meets the reflector once ahead of F.
 *
 * @param sun unit vector towards the Sun, dish frame counted from the shadow line
 * @returns right and up of the vertex, mm; it may lie beyond the rim. 'sun-behind-dish' when the Sun does not shine in
 */
export function shadowFromSun(focalLength: Mm, sun: Vec3<'Dish'>): { rightMm: Mm; upMm: Mm } | 'sun-behind-dish' {
  if (!(focalLength > 0)) throw new RangeError(`shadowFromSun: focalLength must be > 0 mm, got ${focalLength}`)
  const [sx, sy, sz] = sun
  if (sz <= 0) return 'sun-behind-dish'
  // t² ρ² / 4f + t sz - f = 0, in the form that keeps its digits when ρ is small.
  const rho2 = sx * sx + sy * sy
  const t = (2 * focalLength) / (sz + Math.sqrt(sz * sz + rho2))
  return { rightMm: -t * sx, upMm: -t * sy }
}
