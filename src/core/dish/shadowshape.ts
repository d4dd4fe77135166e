/**
 * The feed's shadow as it lies on the dish: its centre, its outline, and how far the Sun's half degree blurs the edge. Dish frame
 * (right, up, out as seen from behind), vertex at the origin, reflector z = (x² + y²)/4f; millimetres, in the aperture's
 * projection. Also a place on the face as somebody sees it: from behind or from in front, by the UP mark or by a plumb line.
 */
import { DEG, type Mm, type Rad } from '../units.ts'
import type { Vec3 } from '../vectors.ts'

/** Half the Sun's angle across; 0.5244° to 0.5422° over the year. */
const SUN_RADIUS: Rad = (0.533 / 2) * DEG

export interface FacePoint {
  rightMm: Mm
  upMm: Mm
}

/**
 * Where a point in front of the dish throws its shadow: the line Q - t s meets the reflector beyond Q.
 *
 * @param q point, mm @param sun unit vector towards the Sun @returns the place and the length of the shadow's ray; null when the
 * Sun does not shine in from the front or the ray misses the bowl's paraboloid
 */
export function shadowOfPoint(f: Mm, q: Vec3<'Dish'>, sun: Vec3<'Dish'>): (FacePoint & { lengthMm: Mm }) | null {
  const [sx, sy, sz] = sun
  if (!(sz > 0)) return null
  // (qx - t sx)² + (qy - t sy)² = 4f (qz - t sz): a t² + b t + c = 0, the first crossing beyond Q.
  const a = sx * sx + sy * sy
  const b = 4 * f * sz - 2 * (q[0] * sx + q[1] * sy)
  const c = q[0] * q[0] + q[1] * q[1] - 4 * f * q[2]
  const under = b * b - 4 * a * c
  if (under < 0 || c > 0) return null
  // c < 0 inside the bowl: one root is positive. In the form that keeps its digits when a is small.
  const root = Math.sqrt(under)
  const t = b >= 0 ? (-2 * c) / (b + root) : (root - b) / (2 * a)
  return { rightMm: q[0] - t * sx, upMm: q[1] - t * sy, lengthMm: t }
}

export interface ShadowShape {
  centre: FacePoint
  /** The feed's edge as the Sun's middle throws it, anticlockwise from the right as seen from behind. */
  outline: FacePoint[]
  /** From the last full sun to full shadow is twice this, at the edge. */
  blurMm: Mm
  /** The whole outline lies within the rim. */
  isWhole: boolean
}

/**
 * The shadow of a round feed that faces the vertex.
 *
 * @param feed  the feed's centre, mm; (0, 0, f) when everything is counted from the shadow line
 * @param diameter of the feed; 0: centre alone, a point
 * @returns null when the Sun does not shine into the bowl
 */
export function shadowShape(
  f: Mm,
  radius: Mm,
  feed: Vec3<'Dish'>,
  diameter: Mm,
  sun: Vec3<'Dish'>,
  points = 48,
): ShadowShape | null {
  const middle = shadowOfPoint(f, feed, sun)
  if (middle === null) return null
  const outline: FacePoint[] = []
  for (let k = 0; k < points; k++) {
    const a = (2 * Math.PI * k) / points
    const edge = shadowOfPoint(
      f,
      [feed[0] + (diameter / 2) * Math.cos(a), feed[1] + (diameter / 2) * Math.sin(a), feed[2]],
      sun,
    )
    if (edge === null) return null
    outline.push({ rightMm: edge.rightMm, upMm: edge.upMm })
  }
  return {
    centre: { rightMm: middle.rightMm, upMm: middle.upMm },
    outline,
    blurMm: middle.lengthMm * Math.tan(SUN_RADIUS),
    isWhole: outline.every(p => Math.hypot(p.rightMm, p.upMm) <= radius),
  }
}
