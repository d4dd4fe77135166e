/**
 * The inverse: from a direction to the readings that put a line of the dish on it. Exact, both solutions, all turns.
 * "No pose" is an answer. Enu, radians; readings in the readout's own unit.
 */
import { apply, type Rotation, rotation, transpose } from '../rotations.ts'
import type { Rad } from '../units.ts'
import { cross, dot, norm, scale, sub, type Vec3 } from '../vectors.ts'
import { type Line, lineAngles, lineInDish, lowerAxisTurn, type MountModel } from './asbuilt.ts'
import type { Axis } from './names.ts'
import { readingAt, trueAngle } from './readings.ts'
import { type Built, SLOT } from './slots.ts'

/** True angles of a pose. */
export interface TrueAngles {
  T: Rad
  S: Rad
}

/** A pose that the readouts can show; `inside` when both readings are within the limits. */
export interface Reach extends TrueAngles {
  lower: number
  upper: number
  inside: boolean
}

const TURN = 2 * Math.PI

/** Takes the droop out of a direction: the elevation e with e - w cos e = el. Newton; |w| < 0.5 rad. */
function withoutDroop(t: Vec3, w: Rad): Vec3 {
  if (w === 0) return t
  const flat = Math.hypot(t[0], t[1])
  const el = Math.atan2(t[2], flat)
  let e = el
  for (let i = 0; i < 20; i++) {
    const step = (e - w * Math.cos(e) - el) / (1 + w * Math.sin(e))
    e -= step
    if (Math.abs(step) < 1e-15) break
  }
  if (flat < 1e-15) return t
  const k = Math.cos(e) / flat
  return [t[0] * k, t[1] * k, Math.sin(e)]
}

/** The inverse of one mount as built and one line, worked out once for many directions. */
export interface Inverse {
  model: MountModel
  built: Built
  /** The lower axis's displacement undone. */
  back: Rotation
  droop: Rad
  /** The line in the dish, the leaning upper axis. */
  c: Vec3
  a2e: Vec3
  along: number
  w: number
  fixed: number
  middle: Rad
}

export function inverseOf(model: MountModel, built: Built, line: Line): Inverse {
  const { paper } = model
  const { R } = lowerAxisTurn(paper, built[SLOT.axisA]!, built[SLOT.axisB]!)
  const c = lineInDish(model, built, line)
  const e = built[SLOT.squareness]!
  const { a1, a2 } = paper
  const a2e: Vec3 = [
    a2[0] * Math.cos(e) + a1[0] * Math.sin(e),
    a2[1] * Math.cos(e) + a1[1] * Math.sin(e),
    a2[2] * Math.cos(e) + a1[2] * Math.sin(e),
  ]
  // a1 · Rot(a2', θ) c = fixed + A cos θ + B sin θ must be z = a1 · t, so cos(θ - middle) = (z - fixed)/M, M² = A² + B².
  const along = dot(a2e, c)
  const w = Math.sin(e)
  const fixed = w * along
  const A = dot(a1, c) - fixed
  const B = dot(a1, cross(a2e, c))
  const { droop } = lineAngles(model, built, line)
  return { model, built, back: transpose(R), droop, c, a2e, along, w, fixed, middle: Math.atan2(B, A) }
}

/**
 * The true angles at which a line points along t: none, one or two, each in [-π, π].
 *
 * @param t     unit vector, Enu
 * @param hintT lower angle to keep where the line lies along the lower axis and any will do
 */
export const truePoses = (model: MountModel, built: Built, line: Line, t: Vec3, hintT: Rad = 0): TrueAngles[] =>
  posesIn(inverseOf(model, built, line), t, hintT)

export function posesIn(inverse: Inverse, t: Vec3, hintT: Rad): TrueAngles[] {
  const { model, back, droop, c, a2e, along, w, fixed, middle } = inverse
  const { a1, s1, s2 } = model.paper
  const tb = apply(back, withoutDroop(t, droop))
  const z = dot(a1, tb)
  const across = sub(tb, scale(a1, z))
  const rho = norm(across)
  // The sine of the same angle comes from ρ, t's distance from the lower axis, not from an acos, which near that axis
  // (zenith, pole) keeps half its digits. M² - (z - fixed)² = ρ² - d² ∓ 2 w along ρ²/(1 ± z): a cone of half-angle d
  // about each end of the lower axis cannot be reached.
  const end = z >= 0 ? 1 : -1
  const d = Math.abs(along - end * w)
  const squared = (rho - d) * (rho + d) - (2 * end * fixed * rho * rho) / (1 + end * z)
  // On the edge of the cone rounding decides: within 1e-14 rad counts as reached.
  if (!(squared >= -1e-14 * (rho + d))) return []
  const half = Math.atan2(Math.sqrt(Math.max(0, squared)), z - fixed)
  const thetas = half === 0 || half === Math.PI ? [middle + half] : [middle + half, middle - half]
  return thetas.map(theta => {
    const q = apply(rotation(a2e, theta), c)
    const from = sub(q, scale(a1, dot(a1, q)))
    // A target along the lower axis is met at any T.
    const isFree = rho < 1e-14 || norm(from) < 1e-14
    const T = isFree ? hintT : s1 * Math.atan2(dot(a1, cross(from, across)), dot(from, across))
    return { T, S: wrap(s2 * theta) }
  })
}

const wrap = (a: Rad): Rad => a - TURN * Math.round(a / TURN)

const SLACK = 1e-9
const isWithin = (model: MountModel, axis: Axis, reading: number): boolean =>
  reading >= model[axis].minReading - SLACK && reading <= model[axis].maxReading + SLACK

/** All turns of a true angle that the readout can show, up to two whole turns either way. */
function turnsOf(
  model: MountModel,
  built: Built,
  axis: Axis,
  angle: Rad,
): { angle: Rad; reading: number; inside: boolean }[] {
  const out: { angle: Rad; reading: number; inside: boolean }[] = []
  for (let k = -2; k <= 2; k++) {
    const turned = angle + k * TURN
    const reading = readingAt(model, built, axis, turned)
    if (reading !== null) out.push({ angle: turned, reading, inside: isWithin(model, axis, reading) })
  }
  return out
}

/** Every pose, inside the limits or not, whose readings exist. */
export function reachesOf(model: MountModel, built: Built, line: Line, t: Vec3, hintT: Rad = 0): Reach[] {
  const inverse = inverseOf(model, built, line)
  return reachesIn(inverse, posesIn(inverse, t, hintT))
}

/** The readings of poses: every turn of each that the readouts can show. */
export function reachesIn({ model, built }: Inverse, poses: readonly TrueAngles[]): Reach[] {
  const out: Reach[] = []
  for (const pose of poses) {
    const uppers = turnsOf(model, built, 'upper', pose.S)
    for (const lower of turnsOf(model, built, 'lower', pose.T)) {
      for (const upper of uppers) {
        out.push({
          T: lower.angle,
          S: upper.angle,
          lower: lower.reading,
          upper: upper.reading,
          inside: lower.inside && upper.inside,
        })
      }
    }
  }
  return out
}

/** True angles at mid-range of both readings: where the first choice starts from. */
export function midRange(model: MountModel, built: Built): TrueAngles {
  const at = (axis: Axis): Rad => {
    const mid = trueAngle(model, built, axis, (model[axis].minReading + model[axis].maxReading) / 2)
    return mid.kind === 'angle' ? mid.angle : 0
  }
  return { T: at('lower'), S: at('upper') }
}

/** The reach to take: inside the limits before outside, then nearest. Null when there is none. */
export function nearestReach(reaches: Reach[], from: TrueAngles): Reach | null {
  let best: Reach | null = null
  let bestCost = Infinity
  for (const r of reaches) {
    const cost = Math.hypot(r.T - from.T, r.S - from.S) + (r.inside ? 0 : 1e6)
    if (cost < bestCost) {
      best = r
      bestCost = cost
    }
  }
  return best
}

/** The turn of a true angle whose reading is nearest to `from`, in angle: of those within the limits, and of all. */
interface NearestTurn {
  angle: Rad
  reading: number
  inside: { angle: Rad; reading: number } | null
}

function nearestTurn(model: MountModel, built: Built, axis: Axis, angle: Rad, from: Rad): NearestTurn | null {
  // Nearest first, of two as near the lower: the first within the limits ends it, and is nearly always the very first.
  const nearest = Math.max(-2, Math.min(2, Math.ceil((from - angle) / TURN - 0.5)))
  const side = from > angle + nearest * TURN ? 1 : -1
  let all: { angle: Rad; reading: number } | null = null
  for (let n = 0; n <= 8; n++) {
    const k = nearest + side * (n % 2 === 0 ? -n / 2 : (n + 1) / 2)
    if (k < -2 || k > 2) continue
    const turned = angle + k * TURN
    const reading = readingAt(model, built, axis, turned)
    if (reading === null) continue
    all ??= { angle: turned, reading }
    if (isWithin(model, axis, reading)) return { ...all, inside: { angle: turned, reading } }
  }
  return all && { ...all, inside: null }
}

/**
 * As `aim`, for many directions of one mount as built and one line. The same answer as nearestReach of all reaches, without
 * making them: inside or outside, the nearest pose has on each axis the nearest turn.
 */
export function aimer(model: MountModel, built: Built, line: Line): (t: Vec3, from: TrueAngles) => Reach | null {
  const inverse = inverseOf(model, built, line)
  return (t, from) => {
    let best: Reach | null = null
    let bestCost = Infinity
    for (const pose of posesIn(inverse, t, from.T)) {
      const lower = nearestTurn(model, built, 'lower', pose.T, from.T)
      const upper = lower && nearestTurn(model, built, 'upper', pose.S, from.S)
      if (!lower || !upper) continue
      const inside = lower.inside !== null && upper.inside !== null
      const l = inside ? lower.inside! : lower
      const u = inside ? upper.inside! : upper
      const cost = Math.hypot(l.angle - from.T, u.angle - from.S) + (inside ? 0 : 1e6)
      if (cost >= bestCost) continue
      best = { T: l.angle, S: u.angle, lower: l.reading, upper: u.reading, inside }
      bestCost = cost
    }
    return best
  }
}

const NEAREST_FIRST = [0, 1, -1, 2, -2] as const

/** Whether some pose within the limits puts a line on t, for many directions: what `aimer` says as `inside`, without the readings. */
export function reacher(model: MountModel, built: Built, line: Line): (t: Vec3) => boolean {
  const inverse = inverseOf(model, built, line)
  const { T } = midRange(model, built)
  const hasTurn = (axis: Axis, angle: Rad): boolean =>
    NEAREST_FIRST.some(k => {
      const reading = readingAt(model, built, axis, angle + k * TURN)
      return reading !== null && isWithin(model, axis, reading)
    })
  return t => posesIn(inverse, t, T).some(pose => hasTurn('lower', pose.T) && hasTurn('upper', pose.S))
}

/** The readings that put a line on t: nearest to `from` (mid-range when not given). Null: no pose. */
export const aim = (
  model: MountModel,
  built: Built,
  line: Line,
  t: Vec3,
  from: TrueAngles = midRange(model, built),
): Reach | null => aimer(model, built, line)(t, from)
