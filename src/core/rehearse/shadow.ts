/**
 * The feed's shadow on the real dish: its middle, its outline as cast by a point-like Sun, and the two edges between which the Sun's
 * half degree blurs it. Enu rays on the paraboloid about the real boresight; millimetres, as seen from behind.
 */
import { DEG } from '../units.ts'
import type { TrueMount, TruePose } from './mount.ts'
import { dotted, heightDeg, UP, type V3 } from './turning.ts'

/** Half the Sun's angle across. */
const SUN_RADIUS = (0.533 / 2) * DEG

/** A place on the face, in the aperture's projection. */
export type FacePlace = readonly [rightMm: number, upMm: number]

export interface FeedShadow {
  centre: FacePlace
  /** The feed's edge as cast by the middle of the Sun. */
  sharp: FacePlace[]
  /** Inside this all of the Sun is hidden; empty where the feed is too small for it. */
  umbra: FacePlace[]
  /** Outside this none of the Sun is hidden. */
  penumbra: FacePlace[]
  /** The whole sharp outline falls inside the rim. */
  isWhole: boolean
}

/** A direction of Enu in the dish's own (right, up, out). */
export const inDish = (pose: TruePose, v: V3): V3 => [dotted(pose.r, v), dotted(pose.u, v), dotted(pose.b, v)]

/** Where the feed's centre really sits: mm right, up and out of the vertex. The droop goes straight down, by cos el. */
export function feedPlace(mount: TrueMount, pose: TruePose, feed: string, outMm = 0): V3 {
  const { dish } = mount.record
  const f = dish.focalRatio * dish.diameterM * 1000
  const of = (id: string): number => mount.truth[`${id}:${feed}`] ?? 0
  const sink = of('feedDroop') * Math.cos(heightDeg(pose.b) * DEG)
  const up = inDish(pose, UP)
  const flat = Math.hypot(up[0], up[1]) || 1
  return [of('feedRight') - (sink * up[0]) / flat, of('feedUp') - (sink * up[1]) / flat, f + outMm]
}

/** Where the ray from q away from s meets z = (x² + y²)/4f, by halving: no closed form to share with the solver's. */
export function meets(f: number, q: V3, s: V3): FacePlace | null {
  if (!(s[2] > 0)) return null
  const gap = (t: number): number => {
    const [x, y] = [q[0] - t * s[0], q[1] - t * s[1]]
    return q[2] - t * s[2] - (x * x + y * y) / (4 * f)
  }
  if (!(gap(0) > 0)) return null
  let high = f
  for (let i = 0; gap(high) > 0; i++, high *= 2) if (i > 40) return null
  let low = 0
  for (let i = 0; i < 70; i++) {
    const middle = (low + high) / 2
    if (gap(middle) > 0) low = middle
    else high = middle
  }
  return [q[0] - low * s[0], q[1] - low * s[1]]
}

const POINTS = 48

/**
 * @param sun  unit vector toward the Sun, Enu @param diameterMm  of the feed
 * @returns null where the Sun does not shine into the bowl
 */
export function feedShadow(
  mount: TrueMount,
  pose: TruePose,
  feed: string,
  sun: V3,
  diameterMm: number,
): FeedShadow | null {
  const { dish } = mount.record
  const f = dish.focalRatio * dish.diameterM * 1000
  const s = inDish(pose, sun)
  const at = feedPlace(mount, pose, feed)
  const centre = meets(f, at, s)
  if (centre === null) return null
  /** The outline, the Sun's ray leaning outward (+) or inward (-) by so much of its radius at each point of the edge. */
  const outline = (leaning: number): FacePlace[] => {
    const out: FacePlace[] = []
    for (let k = 0; k < POINTS; k++) {
      const a = (2 * Math.PI * k) / POINTS
      const [c, d] = [Math.cos(a), Math.sin(a)]
      const edge: V3 = [at[0] + (diameterMm / 2) * c, at[1] + (diameterMm / 2) * d, at[2]]
      // Light from the far side of the Sun's disc falls farther out.
      const tip = leaning * Math.tan(SUN_RADIUS)
      const place = meets(f, edge, [s[0] - tip * c, s[1] - tip * d, s[2]])
      if (place !== null) out.push(place)
    }
    return out
  }
  const sharp = outline(0)
  if (sharp.length < POINTS) return null
  const hasUmbra = diameterMm / 2 > f * Math.tan(SUN_RADIUS)
  return {
    centre,
    sharp,
    umbra: hasUmbra ? outline(-1) : [],
    penumbra: outline(1),
    isWhole: sharp.every(p => Math.hypot(...p) <= (dish.diameterM * 1000) / 2),
  }
}
