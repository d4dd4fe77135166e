/**
 * Nothing heard yet: where to point, one place after another, until the Sun is in the beam. The places lie round where the mount as known
 * puts the Sun, as far as it may be off (95 %), so close together that none between them loses more than is stated; the likelier ones
 * first. Each is an offset from the Sun, which moves on: its readings are worked out for the time. Radians, right and up as seen from behind.
 */
import { offsetInPose, partialsIn } from '../fit/residuals.ts'
import { floorOf } from '../fit/skyerror.ts'
import { builtFor } from '../fit/solution.ts'
import type { Solved } from '../fit/solved.ts'
import { bilinearForm } from '../matrices.ts'
import { aim, aimer, midRange, type Reach } from '../mount/aim.ts'
import { chainOf, type MountModel, type Pose, poseAt } from '../mount/asbuilt.ts'
import { trueAngle } from '../mount/readings.ts'
import { type Built, SLOTS } from '../mount/slots.ts'
import type { Feed, Station } from '../records/station.ts'
import { apparentPlace } from '../sky/targets.ts'
import type { Rad, UtcMs } from '../units.ts'
import { cross, type Vec3 } from '../vectors.ts'
import { type Pattern, patternOf } from './searchpattern.ts'

export interface FirstSearch {
  station: Station
  /** The mount as known when the search began. */
  built: Built
  /** No place that belongs to a step is further from its centre than `reach`, rad, and so none loses more than `lossDb`, dB one way. */
  reach: Rad
  lossDb: number
  pattern: Pattern
  /** The wide direction of the pattern, right and up; the narrow one is a quarter turn to its left. */
  wide: readonly [number, number]
  /** What turns the mount along the wide direction, by slot and radian of arc; null where offsets in the dish's plane will do. */
  turning: Float64Array | null
  /** True: nothing is known along the wide direction, and the search goes all the way round. */
  isCircle: boolean
  /** As far as the mount may be off, 95 %: along the wide direction, and across. */
  extent: { wide: Rad; narrow: Rad }
}

/** 95 % of errors in two coordinates are within this many σ. */
const SIGMAS = 2.448
/** Wider than this the dish's own plane is no good approximation: the search follows what turns the mount. */
const PLANE: Rad = Math.PI / 9
/** The most that a wide search extends across. */
const ACROSS: Rad = Math.PI / 6
const LOSS_DB = 3
/** One way, dB per square of the offset in beamwidths: that of optics.ts. */
const PER_SQUARE = 12.04

export const sunAt = (station: Station, utcMs: UtcMs) => apparentPlace({ type: 'sun' }, utcMs, station.site, 'radio')

/** @returns null where no pose of the mount as known shows the Sun at that time */
export function firstSearchOf(solved: Solved, feed: Feed, startMs: UtcMs, lossDb = LOSS_DB): FirstSearch | null {
  const { station } = solved
  const { model } = station
  const { built, covariance } = builtFor(solved, startMs, feed)
  const t = sunAt(station, startMs).direction
  const at = aim(model, built, 'beam', t)
  if (at === null) return null
  const J = new Float64Array(2 * SLOTS)
  if (partialsIn(chainOf(model, built, 'beam'), t, at.lower, at.upper, 0, 0, J) === null) return null
  const floor = floorOf(station, built, [{ reach: at, partials: J }])
  const spread = (a: 0 | 1, b: 0 | 1) =>
    bilinearForm(covariance, SLOTS, J, J, a * SLOTS, b * SLOTS) + (a === b ? floor * floor : 0)
  const [rr, ru, uu] = [spread(0, 0), spread(0, 1), spread(1, 1)]
  const turn = Math.atan2(2 * ru, rr - uu) / 2
  // Of its two senses the one to the right, or up: otherwise the last digit would decide on which side the walk begins.
  const sense = Math.abs(Math.cos(turn)) > Math.SQRT1_2 ? Math.sign(Math.cos(turn)) : Math.sign(Math.sin(turn))
  const wide = [sense * Math.cos(turn), sense * Math.sin(turn)] as const
  const middle = (rr + uu) / 2
  const half = Math.hypot((rr - uu) / 2, ru)
  const extent = { wide: SIGMAS * Math.sqrt(middle + half), narrow: SIGMAS * Math.sqrt(Math.max(0, middle - half)) }
  let turning: Float64Array | null = null
  let isCircle = false
  if (extent.wide > PLANE) {
    turning = turningOf(covariance, J, wide, middle + half)
    const all = Math.PI / turnPer(model, built, turning, at)
    isCircle = extent.wide >= all
    extent.wide = Math.min(extent.wide, all)
    extent.narrow = Math.min(extent.narrow, ACROSS)
  }
  const reach = feed.hpbw * Math.sqrt(lossDb / PER_SQUARE)
  // The cap may have changed which is the wider; a pattern only needs the wide one first.
  const pattern = patternOf({ ...extent, reach, isBand: isCircle })
  return { station, built, reach, lossDb, pattern, wide, turning, isCircle, extent }
}

/** The likeliest mount for an arc of one radian along the wide direction: C Jᵀ w over the variance along it. */
function turningOf(
  C: Float64Array,
  J: Float64Array,
  [x, y]: readonly [number, number],
  variance: number,
): Float64Array {
  const out = new Float64Array(SLOTS)
  for (let a = 0; a < SLOTS; a++)
    for (let b = 0; b < SLOTS; b++) out[a]! += (C[a * SLOTS + b]! * (x * J[b]! + y * J[SLOTS + b]!)) / variance
  return out
}

const moved = (built: Built, by: Float64Array, s: number): Built => built.map((x, k) => x + s * by[k]!)

const TINY: Rad = 1e-6

/** The dish at readings; null when a jack's triangle does not close. */
function poseOf(model: MountModel, built: Built, at: { lower: number; upper: number }): Pose | null {
  const T = trueAngle(model, built, 'lower', at.lower)
  const S = trueAngle(model, built, 'upper', at.upper)
  return T.kind === 'angle' && S.kind === 'angle' ? poseAt(model, built, T.angle, S.angle, 'beam') : null
}

/** How far the mount turns about an axis of its own, for an arc of one radian: by its frame a little before and after. */
function turnPer(model: MountModel, built: Built, turning: Float64Array, at: Reach): number {
  const [p, q] = [poseOf(model, built, at), poseOf(model, moved(built, turning, TINY), at)]
  if (p === null || q === null) return 1
  const w = [0, 0, 0]
  for (const k of ['b', 'r', 'u'] as const) {
    const c = cross(p[k], q[k])
    for (let i = 0; i < 3; i++) w[i]! += c[i]! / (2 * TINY)
  }
  return Math.max(1, Math.hypot(...w))
}

/** The direction that lies `right` and `up` of the beam. */
function besides({ b, r, u }: Pose, right: Rad, up: Rad): Vec3 {
  const arc = Math.hypot(right, up)
  if (arc === 0) return b
  const [c, s] = [Math.cos(arc), Math.sin(arc) / arc]
  const at = (i: 0 | 1 | 2) => c * b[i] + s * (right * r[i] + up * u[i])
  return [at(0), at(1), at(2)]
}

/**
 * The readings of a step at a time, for many steps: those that put the beam on the Sun if the mount is off as the step supposes. Null: no
 * pose does; `inside` false: beyond a stop.
 */
export function searchReadings(search: FirstSearch, utcMs: UtcMs): (step: number) => Reach | null {
  const { station, built, pattern, wide, turning } = search
  const { model } = station
  const t = sunAt(station, utcMs).direction
  const known = new Map<number, Hypothesis | null>()
  return step => {
    const [along, across] = pattern.places[step]!
    const key = turning === null ? 0 : along
    if (!known.has(key)) known.set(key, turned(key))
    const from = known.get(key)!
    if (from === null) return null
    const [x, y] = from.wide
    const main = turning === null ? along : 0
    const d = besides(from.pose, main * x - across * y, main * y + across * x)
    return across === 0 && main === 0 ? from.reach : from.onto(d, from.reach)
  }

  /** The mount turned so far along the wide direction, on the Sun. */
  function turned(s: Rad): Hypothesis | null {
    const by = turning === null ? built : moved(built, turning, s)
    const onto = aimer(model, by, 'beam')
    const reach = onto(t, midRange(model, by))
    if (reach === null) return null
    const pose = poseAt(model, by, reach.T, reach.S, 'beam')
    if (turning === null) return { onto, reach, pose, wide }
    // The wide direction as it lies in the dish here.
    const next = poseOf(model, moved(by, turning, TINY), reach)
    const [x, y] = next === null ? wide : offsetInPose(next, t)
    const n = Math.hypot(x, y)
    return { onto, reach, pose, wide: n === 0 ? wide : [x / n, y / n] }
  }
}

interface Hypothesis {
  onto: ReturnType<typeof aimer>
  reach: Reach
  pose: Pose
  wide: readonly [number, number]
}
