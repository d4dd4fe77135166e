/**
 * Where a target stands in the dish, counted from a line of it: at one pose and moment, or along a track while the dish is
 * parked. Arcs right and up as seen from behind, radians. The almanac is asked once a minute and the rest interpolated.
 */
import { offsetGradients, offsetInPose } from '../fit/residuals.ts'
import { type Line, type MountModel, poseAt, turningPoseAt } from '../mount/asbuilt.ts'
import { trueAngle } from '../mount/readings.ts'
import type { Built } from '../mount/slots.ts'
import type { Band, Site, Target } from '../sky/place.ts'
import { apparentPlace } from '../sky/targets.ts'
import { MINUTE_MS, type Rad, type UtcMs } from '../units.ts'
import type { Vec3 } from '../vectors.ts'

export interface LineOffset {
  right: Rad
  up: Rad
}

/** The apparent direction of a target at any moment of a span: nodes a minute apart, chords between them. */
export function directionTrack(
  target: Target,
  site: Site,
  band: Band,
  fromMs: UtcMs,
  toMs: UtcMs,
): (utcMs: UtcMs) => Vec3<'Enu'> {
  const step = MINUTE_MS
  const nodes = new Map<number, Vec3<'Enu'>>()
  const node = (k: number): Vec3<'Enu'> => {
    let v = nodes.get(k)
    if (v === undefined) {
      v = apparentPlace(target, fromMs + k * step, site, band).direction
      nodes.set(k, v)
    }
    return v
  }
  return utcMs => {
    if (!(utcMs >= fromMs - 1 && utcMs <= toMs + 1))
      throw new RangeError(`directionTrack: utcMs must be ${fromMs} to ${toMs}, got ${utcMs}`)
    const s = (utcMs - fromMs) / step
    const k = Math.floor(s)
    const f = s - k
    const a = node(k)
    if (f === 0) return a
    const b = node(k + 1)
    // A chord instead of the arc: 1e-6 rad of length at 0.25° a minute, nothing in direction at this accuracy.
    const v: [number, number, number] = [a[0] + f * (b[0] - a[0]), a[1] + f * (b[1] - a[1]), a[2] + f * (b[2] - a[2])]
    const n = Math.hypot(...v)
    return [v[0] / n, v[1] / n, v[2] / n]
  }
}

/** The offset of a direction from a line of the dish at readings; null when a jack's triangle does not close. */
export function lineOffsetAt(
  model: MountModel,
  built: Built,
  line: Line,
  at: { lower: number; upper: number },
  t: Vec3,
): LineOffset | null {
  const T = trueAngle(model, built, 'lower', at.lower)
  const S = trueAngle(model, built, 'upper', at.upper)
  if (T.kind !== 'angle' || S.kind !== 'angle') return null
  const [right, up] = offsetInPose(poseAt(model, built, T.angle, S.angle, line), t)
  return { right, up }
}

/** How the offset moves: per radian of each axis's true angle, and that angle per reading. Null as lineOffsetAt. */
export interface LineOffsetSlopes extends LineOffset {
  /** d(right, up)/d(lower true angle), and the upper's. */
  lower: readonly [number, number]
  upper: readonly [number, number]
  lowerPerReading: number
  upperPerReading: number
}

export function lineOffsetSlopes(
  model: MountModel,
  built: Built,
  line: Line,
  at: { lower: number; upper: number },
  t: Vec3,
): LineOffsetSlopes | null {
  const T = trueAngle(model, built, 'lower', at.lower)
  const S = trueAngle(model, built, 'upper', at.upper)
  if (T.kind !== 'angle' || S.kind !== 'angle') return null
  const pose = turningPoseAt(model, built, T.angle, S.angle, line)
  const { right, up, gx, gy } = offsetGradients(pose, t)
  const along = (w: Vec3): [number, number] => [
    gx[0] * w[0] + gx[1] * w[1] + gx[2] * w[2],
    gy[0] * w[0] + gy[1] * w[1] + gy[2] * w[2],
  ]
  return {
    right,
    up,
    lower: along(pose.lowerTurn),
    upper: along(pose.upperTurn),
    lowerPerReading: T.perReading,
    upperPerReading: S.perReading,
  }
}
