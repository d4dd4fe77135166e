/**
 * Where the feed sits, from its distance to points of the rim. Dish frame (right, up, out as seen from behind), vertex at
 * the origin, rim at z = depth; millimetres. Weighted least squares on the exact distances, Gauss-Newton.
 */
import { type Bowl, bowlFromDepth } from '../dish/paraboloid.ts'
import { inverse3 } from '../matrices.ts'
import type { Mm, Rad } from '../units.ts'
import { add, cross, dot, norm, scale, type Vec3 } from '../vectors.ts'

export type SeenFrom = 'behind' | 'front'

/** The rim's angle from the UP mark, clockwise as seen from behind, of an hour on the dial as the person sees it. */
export const rimAngleFromClock = (clock: number, seenFrom: SeenFrom): Rad =>
  ((seenFrom === 'behind' ? clock : -clock) * Math.PI) / 6

export interface RimDistance {
  /** On the rim, from the UP mark, clockwise as seen from behind. */
  angle: Rad
  distance: Mm
  /** 1 σ, > 0. */
  sigma: Mm
}

export interface RimSetup {
  bowl: Bowl
  /** 1 σ of the dish's diameter and of its depth; 0: exact. */
  sigmaDiameter: Mm
  sigmaDepth: Mm
  /** Measured to the near edge of a round mouth of that radius; 0: to its centre. */
  mouthRadius: Mm
  /** How far the phase centre lies beyond the mouth, away from the dish. */
  phaseCentre: Mm
}

export type RimPlace =
  | {
      kind: 'place'
      right: Mm
      up: Mm
      /** + too far out from the dish. */
      axial: Mm
      sigmaRight: Mm
      sigmaUp: Mm
      sigmaAxial: Mm
      /** Root mean square of what is left over; null with three distances, which always fit. */
      misfit: Mm | null
      /** Measured minus computed, in the order given. */
      left: Mm[]
      /** Which distance the others do not believe; null when none, or when fewer than five cannot tell. */
      suspect: number | null
    }
  | { kind: 'too-few'; have: number; need: 3 }
  /** All on so short a part of the rim that sideways and in or out cannot be told apart. */
  | { kind: 'too-close' }
  /** The feed is so near the plane of the rim that these distances do not say how far out it is. */
  | { kind: 'in-rim-plane' }
  /** No place is near all of these distances: the mean is shorter than from the rim to the axis, or they contradict. */
  | { kind: 'no-place' }

/** Sideways noise grows by at most this much against distances spread evenly over the rim. */
const MOST_GROWTH = 5

interface Fit {
  at: Vec3<'Enu'>
  inverse: readonly [Vec3, Vec3, Vec3]
  left: number[]
  chi2: number
}

/** Distance and its derivatives by the mouth's centre, at a rim point. */
function distanceTo(at: Vec3, bowl: Bowl, mouth: Mm, angle: Rad): { r: Mm; row: Vec3 } {
  const dx = bowl.radius * Math.sin(angle) - at[0]
  const dy = bowl.radius * Math.cos(angle) - at[1]
  const rho = Math.max(Math.hypot(dx, dy), 1e-9)
  const flat = rho - mouth
  const dz = at[2] - bowl.depth
  const r = Math.max(Math.hypot(flat, dz), 1e-9)
  return { r, row: [(-flat * dx) / (rho * r), (-flat * dy) / (rho * r), dz / r] }
}

/** The fit from a start, or null where the normal equations break down. */
function fitFrom(start: Vec3, bowl: Bowl, mouth: Mm, distances: readonly RimDistance[]): Fit | null {
  let at = start
  const leftAt = (p: Vec3) => distances.map(d => d.distance - distanceTo(p, bowl, mouth, d.angle).r)
  const chi2Of = (left: readonly number[]) => left.reduce((a, x, i) => a + (x / distances[i]!.sigma) ** 2, 0)
  let left = leftAt(at)
  let chi2 = chi2Of(left)
  for (let round = 0; round < 60; round++) {
    const rows = distances.map(d => scale(distanceTo(at, bowl, mouth, d.angle).row, 1 / d.sigma))
    const inverse = inverse3(rows, 1e-14)
    if (inverse === null) return null
    const g = rows.reduce<Vec3>((sum, row, i) => add(sum, scale(row, left[i]! / distances[i]!.sigma)), [0, 0, 0])
    let step: Vec3 = [dot(inverse[0], g), dot(inverse[1], g), dot(inverse[2], g)]
    let next = add(at, step)
    let nextLeft = leftAt(next)
    for (let half = 0; half < 20 && chi2Of(nextLeft) > chi2; half++) {
      step = scale(step, 0.5)
      next = add(at, step)
      nextLeft = leftAt(next)
    }
    const done = norm(step) < 1e-9 * bowl.radius
    if (chi2Of(nextLeft) <= chi2) {
      at = next
      left = nextLeft
      chi2 = chi2Of(left)
    }
    if (done) return { at, inverse, left, chi2 }
  }
  return null
}

/** Fitted from the height that the mean distance says, on the side of the rim's plane where the focus is. */
function fitTo(bowl: Bowl, mouth: Mm, distances: readonly RimDistance[]): Fit | null {
  const mean = distances.reduce((a, d) => a + d.distance, 0) / distances.length
  const flat = bowl.radius - mouth
  if (!(mean > flat)) return null
  const height = Math.sqrt(mean * mean - flat * flat)
  return fitFrom([0, 0, bowl.depth + (bowl.focalLength >= bowl.depth ? height : -height)], bowl, mouth, distances)
}

/** Reduced χ² that chance passes once in a hundred, roughly (Wilson and Hilferty's cube). */
const chancesLimit = (dof: number): number => (1 - 2 / (9 * dof) + 2.326 * Math.sqrt(2 / (9 * dof))) ** 3

/** The one without which the others agree, where there is such a one. */
function suspectOf(bowl: Bowl, mouth: Mm, distances: readonly RimDistance[], chi2: number): number | null {
  const dof = distances.length - 3
  if (dof < 2 || chi2 / dof <= chancesLimit(dof)) return null
  let best: { index: number; chi2: number } | null = null
  distances.forEach((_, index) => {
    const fit = fitTo(
      bowl,
      mouth,
      distances.filter((_d, j) => j !== index),
    )
    if (fit !== null && (best === null || fit.chi2 < best.chi2)) best = { index, chi2: fit.chi2 }
  })
  const found = best as { index: number; chi2: number } | null
  return found !== null && found.chi2 / (dof - 1) <= chancesLimit(dof - 1) ? found.index : null
}

/** Whether the angles alone, with sideways and a constant to find, leave sideways well known. */
function areSpread(distances: readonly RimDistance[]): boolean {
  // (sin, cos, 1) has a well-conditioned normal matrix when the points go round: its determinant per point is 1/4.
  let [c0, c1, c2]: [Vec3, Vec3, Vec3] = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ]
  for (const { angle } of distances) {
    const row: Vec3 = [Math.sin(angle), Math.cos(angle), 1]
    c0 = add(c0, scale(row, row[0]))
    c1 = add(c1, scale(row, row[1]))
    c2 = add(c2, row)
  }
  const det = dot(c0, cross(c1, c2))
  if (!(det > 1e-9)) return false
  const worst = Math.max(cross(c1, c2)[0] / det, cross(c2, c0)[1] / det)
  return Math.sqrt((worst * distances.length) / 2) <= MOST_GROWTH
}

/**
 * Where the feed's phase centre sits against the focus.
 *
 * Noise counts by each distance's own σ; a misfit larger than that is believed and widens every σ. What is not known of
 * diameter and depth widens it too, in or out above all.
 */
export function feedFromRim(setup: RimSetup, distances: readonly RimDistance[]): RimPlace {
  const { bowl, mouthRadius } = setup
  const n = distances.length
  if (n < 3) return { kind: 'too-few', have: n, need: 3 }
  for (const d of distances)
    if (!(d.sigma > 0 && d.distance > 0 && Number.isFinite(d.angle)))
      throw new RangeError(`feedFromRim: distance and sigma must be > 0 mm, got ${d.distance} and ${d.sigma}`)
  if (!areSpread(distances)) return { kind: 'too-close' }
  const fit = fitTo(bowl, mouthRadius, distances)
  if (fit === null) {
    const plane = Math.abs(bowl.focalLength - bowl.depth) < 0.02 * bowl.radius
    return { kind: plane ? 'in-rim-plane' : 'no-place' }
  }
  // The mirror image on the other side of the rim's plane is as likely.
  if (!(Math.sqrt(fit.inverse[2][2]) < Math.abs(fit.at[2] - bowl.depth) / 2)) return { kind: 'in-rim-plane' }
  const dof = n - 3
  const widen = dof > 0 ? Math.max(1, Math.sqrt(fit.chi2 / dof)) : 1
  const placeOf = (at: Vec3, focus: Mm): Vec3 => [at[0], at[1], at[2] + setup.phaseCentre - focus]
  const place = placeOf(fit.at, bowl.focalLength)
  const variance: [number, number, number] = [
    fit.inverse[0][0] * widen ** 2,
    fit.inverse[1][1] * widen ** 2,
    fit.inverse[2][2] * widen ** 2,
  ]
  // Diameter and depth: fitted again with each off by its own σ.
  for (const [byDiameter, byDepth] of [
    [setup.sigmaDiameter, 0],
    [0, setup.sigmaDepth],
  ] as const) {
    if (byDiameter === 0 && byDepth === 0) continue
    const other = bowlFromDepth(2 * bowl.radius + byDiameter, bowl.depth + byDepth)
    const again = fitTo(other, mouthRadius, distances)
    if (again === null) continue
    const moved = placeOf(again.at, other.focalLength)
    for (const i of [0, 1, 2] as const) variance[i] += (moved[i] - place[i]) ** 2
  }
  return {
    kind: 'place',
    right: place[0],
    up: place[1],
    axial: place[2],
    sigmaRight: Math.sqrt(variance[0]),
    sigmaUp: Math.sqrt(variance[1]),
    sigmaAxial: Math.sqrt(variance[2]),
    misfit: dof > 0 ? Math.sqrt(fit.left.reduce((a, x) => a + x * x, 0) / dof) : null,
    left: fit.left,
    suspect: suspectOf(bowl, mouthRadius, distances, fit.chi2),
  }
}
