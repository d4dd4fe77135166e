/**
 * The number that matters: the pointing error left over the Moon's path of the coming month, after correction and before.
 * e² = |m|² + tr(J C Jᵀ) + floor² at each point, and its rms; 95th percentile and worst with confidence, by draws
 * (skydraws.ts). Radians inside.
 */
import { errorForEchoLoss } from '../dish/optics.ts'
import { quadraticForm } from '../matrices.ts'
import { aimer, midRange } from '../mount/aim.ts'
import { chainOf, poseAt } from '../mount/asbuilt.ts'
import { AXES } from '../mount/names.ts'
import { trueAngle } from '../mount/readings.ts'
import { type Built, onPaper, SLOT, SLOTS } from '../mount/slots.ts'
import { COUNT_SIGMA, countsSteps } from '../readout/readout.ts'
import { type Feed, isHighEnough, type Station } from '../records/station.ts'
import type { MoonPoint } from '../sky/place.ts'
import type { Rad } from '../units.ts'
import { offsetInPose, partialsIn } from './residuals.ts'
import { type ConfidentError, drawnErrors } from './skydraws.ts'
import type { SkyPoint } from './skypoint.ts'

export interface ErrorOverSky {
  rms: Rad
  p95: Rad
  worst: Rad
}

/** The points of a path that count: high enough, and within the solved mount's limits. */
export function skyPoints(station: Station, feed: Feed, built: Built, path: readonly MoonPoint[]): SkyPoint[] {
  const { model } = station
  const paper = onPaper()
  const mid = midRange(model, built)
  const paperMid = midRange(model, paper)
  const onto = aimer(model, built, 'beam')
  const ontoByPaper = aimer(model, paper, 'beam')
  const chain = chainOf(model, built, 'beam')
  const out: SkyPoint[] = []
  for (const moon of path) {
    if (!isHighEnough(station, feed, moon.az, moon.el)) continue
    const reach = onto(moon.direction, mid)
    if (reach === null || !reach.inside) continue
    const partials = new Float64Array(2 * SLOTS)
    if (partialsIn(chain, moon.direction, reach.lower, reach.upper, 0, 0, partials) === null) continue
    const ideal = ontoByPaper(moon.direction, paperMid)
    out.push({ moon, reach, partials, before: ideal === null ? null : offsetAtReadings(station, built, moon, ideal) })
  }
  return out
}

/** Where the Moon stands from the beam of the mount as built at given readings; null outside a triangle. */
export function offsetAtReadings(
  station: Station,
  built: Built,
  moon: MoonPoint,
  at: { lower: number; upper: number },
): [Rad, Rad] | null {
  const T = trueAngle(station.model, built, 'lower', at.lower)
  const S = trueAngle(station.model, built, 'upper', at.upper)
  if (T.kind !== 'angle' || S.kind !== 'angle') return null
  return offsetInPose(poseAt(station.model, built, T.angle, S.angle, 'beam'), moon.direction)
}

/**
 * The error that no fit removes: the person's figure, else the resolution of the counts (1/√12 of one, on the sky, rms over the
 * path) and play where no side of arrival is kept: half of it, either way.
 */
export function floorOf(station: Station, built: Built, points: readonly Pick<SkyPoint, 'reach' | 'partials'>[]): Rad {
  if (station.tolerance.floor !== null) return station.tolerance.floor
  let sum = 0
  for (const p of points) {
    for (const axis of AXES) {
      const zero = axis === 'lower' ? SLOT.lowerZero : SLOT.upperZero
      const play = built[axis === 'lower' ? SLOT.lowerPlay : SLOT.upperPlay]! / 2
      const at = trueAngle(station.model, built, axis, p.reach[axis])
      const count = countsSteps(station.model[axis].readout) && at.kind === 'angle' ? at.perReading * COUNT_SIGMA : 0
      const perRad2 = p.partials[zero]! ** 2 + p.partials[SLOTS + zero]! ** 2
      sum += perRad2 * (count * count + play * play)
    }
  }
  return points.length === 0 ? 0 : Math.sqrt(sum / points.length)
}

/** Covariance of the slots, from the fit's own parameters; SLOTS × SLOTS, zero where the mount has no such slot. */
export function slotCovariance(C: Float64Array, n: number, sigma: Float64Array, slots: Int16Array): Float64Array {
  const out = new Float64Array(SLOTS * SLOTS)
  for (let a = 0; a < SLOTS; a++) {
    const i = slots[a]!
    if (i < 0) continue
    for (let b = 0; b < SLOTS; b++) {
      const j = slots[b]!
      if (j >= 0) out[a * SLOTS + b] = C[i * n + j]! * sigma[i]! * sigma[j]!
    }
  }
  return out
}

/** tr(J C Jᵀ) of one point. */
export function variancePart(partials: Float64Array, C: Float64Array): number {
  return Math.max(0, quadraticForm(C, SLOTS, partials) + quadraticForm(C, SLOTS, partials, SLOTS))
}

const rootMean = (squares: readonly number[]): number =>
  Math.sqrt(squares.reduce((a, x) => a + x, 0) / Math.max(1, squares.length))

/** rms, 95th percentile (nearest rank) and worst; zeros for no points. */
export function summary(squares: readonly number[]): ErrorOverSky {
  if (squares.length === 0) return { rms: 0, p95: 0, worst: 0 }
  const sorted = [...squares].sort((a, b) => a - b)
  return {
    rms: rootMean(squares),
    p95: Math.sqrt(sorted[Math.ceil(0.95 * sorted.length) - 1]!),
    worst: Math.sqrt(sorted[sorted.length - 1]!),
  }
}

/** Mean over the path of JᵀJ, by slot: what turns a covariance into a mean square error. */
export function meanSquareForm(points: readonly SkyPoint[]): Float64Array {
  const M = new Float64Array(SLOTS * SLOTS)
  for (const { partials } of points)
    for (let row = 0; row < 2; row++)
      for (let a = 0; a < SLOTS; a++) {
        const ja = partials[row * SLOTS + a]!
        if (ja === 0) continue
        for (let b = 0; b <= a; b++) M[a * SLOTS + b]! += ja * partials[row * SLOTS + b]!
      }
  for (let a = 0; a < SLOTS; a++)
    for (let b = 0; b <= a; b++) {
      const mean = M[a * SLOTS + b]! / Math.max(1, points.length)
      M[a * SLOTS + b] = mean
      M[b * SLOTS + a] = mean
    }
  return M
}

/** rms of the expected error; the rest by draws. */
export interface ErrorWithConfidence extends ConfidentError {
  rms: Rad
}

export interface SkyError {
  points: SkyPoint[]
  tolerance: Rad
  floor: Rad
  before: ErrorWithConfidence
  after: ErrorWithConfidence
  /** Expected e after correction, by point. */
  afterByPoint: Rad[]
}

export function skyError(
  station: Station,
  feed: Feed,
  built: Built,
  C: Float64Array,
  path: readonly MoonPoint[],
): SkyError {
  const points = skyPoints(station, feed, built, path)
  const floor = floorOf(station, built, points)
  const tolerance = errorForEchoLoss(station.tolerance.echoLossDb, feed.hpbw)
  const after: number[] = []
  const before: number[] = []
  for (const p of points) {
    const spread = variancePart(p.partials, C) + floor * floor
    after.push(spread)
    if (p.before !== null) before.push(p.before[0] ** 2 + p.before[1] ** 2 + spread)
  }
  const drawn = drawnErrors(points, C, floor)
  return {
    points,
    tolerance,
    floor,
    before: { rms: rootMean(before), ...drawn.before },
    after: { rms: rootMean(after), ...drawn.after },
    afterByPoint: after.map(Math.sqrt),
  }
}
