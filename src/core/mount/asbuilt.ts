/**
 * The chain of the mount as built: from true axis angles and deviations to where a line of the dish points. Enu, radians,
 * millimetres. D = R · Rot(a1, s1 T) · Rot(a2', s2 S) · C · B, then droop about the horizontal.
 *
 * Every parameter turns the dish about one Enu axis, so ∂D/∂p = [ω]× D; the ω's come out of the same pass and are exact.
 */
import { apply, compose, type Rotation, rotation, rotationFromVector, turnFromVectorStep } from '../rotations.ts'
import type { Rad } from '../units.ts'
import { cross, type Vec3 } from '../vectors.ts'
import { type Mount, type PaperVectors, paperOf } from './kinds.ts'
import { type Built, SLOT, SLOTS } from './slots.ts'

/** What a method looks along: the electrical axis, vertex to feed, the sighting tube, or the dish's own axis. */
export type Line = 'beam' | 'shadow' | 'tube' | 'boresight'

/** A line's direction, and the dish's right and up about it. */
export interface Pose {
  b: Vec3
  r: Vec3
  u: Vec3
}

/** A pose with the axes about which it turns. */
interface TurningPose extends Pose {
  /** SLOTS × 3: ω of each slot, rad per unit of the slot; zero and scale slots are left to `turnsOfReadings`. */
  turns: Float64Array
  /** ω per radian of true lower and upper angle. */
  lowerTurn: Vec3
  upperTurn: Vec3
}

const U: Vec3 = [0, 0, 1]

/** A mount with its paper vectors worked out once. */
export interface MountModel extends Mount {
  paper: PaperVectors
}

export const modelOf = (mount: Mount): MountModel => ({ ...mount, paper: paperOf(mount) })

/** R, the lower axis's displacement from paper, and the ω's of its two parameters. */
export function lowerAxisTurn(paper: PaperVectors, pA: Rad, pB: Rad): { R: Rotation; turnA: Vec3; turnB: Vec3 } {
  if (paper.headed) {
    const heading = rotation(U, -pA)
    const up = cross(paper.a1, U)
    return { R: compose(heading, rotation(up, pB)), turnA: [0, 0, -1], turnB: apply(heading, up) }
  }
  const e1 = cross(paper.a1, paper.d1)
  const e2 = cross(paper.a1, paper.d2)
  const v: Vec3 = [pA * e1[0] + pB * e2[0], pA * e1[1] + pB * e2[1], pA * e1[2] + pB * e2[2]]
  return { R: rotationFromVector(v), turnA: turnFromVectorStep(v, e1), turnB: turnFromVectorStep(v, e2) }
}

/** The inverse of lowerAxisTurn's R a1: the two parameters that put the lower axis along n (unit, Enu). */
export function lowerAxisToward(paper: PaperVectors, n: Vec3): [Rad, Rad] {
  if (paper.headed) {
    const a = paper.a1
    const level = Math.asin(Math.max(-1, Math.min(1, n[2])))
    // Clockwise seen from above from a1 to n.
    const heading = Math.atan2(a[1] * n[0] - a[0] * n[1], a[0] * n[0] + a[1] * n[1])
    return [heading, level]
  }
  const { a1, d1, d2 } = paper
  const x = n[0] * d1[0] + n[1] * d1[1] + n[2] * d1[2]
  const y = n[0] * d2[0] + n[1] * d2[1] + n[2] * d2[2]
  const s = Math.hypot(x, y)
  const lean = Math.atan2(s, n[0] * a1[0] + n[1] * a1[1] + n[2] * a1[2])
  return s < 1e-15 ? [lean, 0] : [(lean * x) / s, (lean * y) / s]
}

/** The upper axis leaning toward the lower: a2' = a2 cos e + a1 sin e. */
const leaningUpper = (paper: PaperVectors, e: Rad): Vec3 => {
  const c = Math.cos(e)
  const s = Math.sin(e)
  const { a1, a2 } = paper
  return [a2[0] * c + a1[0] * s, a2[1] * c + a1[1] * s, a2[2] * c + a1[2] * s]
}

/** By how much a line is turned right and up from the dish's axis, rad, and its droop per cos(elevation), rad. */
export function lineAngles(mount: MountModel, built: Built, line: Line): { x: Rad; y: Rad; droop: Rad } {
  const f = mount.focalLength
  const sag = built[SLOT.sag]!
  if (line === 'boresight') return { x: 0, y: 0, droop: sag }
  if (line === 'tube') return { x: built[SLOT.tubeRight]!, y: built[SLOT.tubeUp]!, droop: sag }
  const right = Math.atan(built[SLOT.feedRight]! / f)
  const up = Math.atan(built[SLOT.feedUp]! / f)
  const sink = built[SLOT.feedDroop]! / f
  if (line === 'shadow') return { x: right, y: up, droop: sag + sink }
  return {
    x: -mount.bdf * right + built[SLOT.squintRight]!,
    y: -mount.bdf * up + built[SLOT.squintUp]!,
    droop: sag - mount.bdf * sink,
  }
}

/** The line fixed to the dish: C · B b0 in the frame of the upper axis, before any droop. */
export function lineInDish(mount: MountModel, built: Built, line: Line): Vec3 {
  const { paper } = mount
  const { x, y } = lineAngles(mount, built, line)
  const m = compose(
    rotation(paper.c0, built[SLOT.collimation]!),
    compose(rotation(paper.u0, -x), rotation(paper.r0, y)),
  )
  return apply(m, paper.b0)
}

/**
 * The chain with all that its angles T, S do not move worked out once: one mount as built, one line. A fit looks at the
 * same chain for every sighting of a setup.
 *
 * A vector v fixed to the dish is turned by S into kept + swung cos(s2 S) + crossed sin(s2 S) (Rodrigues about the upper
 * axis), and by the lower axis with R · Rot(a1, s1 T) = P + Q cos(s1 T) + W sin(s1 T).
 */
export interface Chain {
  mount: MountModel
  built: Built
  line: Line
  droop: number
  /** P, Q, W, row by row. */
  lower: readonly number[]
  /** kept, swung, crossed of each carried vector (`CARRIED`). */
  carried: readonly number[]
  turnA: Vec3
  turnB: Vec3
  lowerTurn: Vec3
  upper: Vec3
  /** a2 × a1, whose turn by S squareness is. */
  across: Vec3
}

/** What the upper axis carries: the line's b, r, u; the axes of collimation, of the line's two turnings; and `across`. */
const CARRIED = { b: 0, r: 1, u: 2, collimation: 3, right: 4, up: 5, across: 6 } as const

/** To copy: arrays of fractions from the start. Typed arrays of this size lie outside the young heap, and made a chain take twice as long. */
const LOWER: readonly number[] = Array.from({ length: 27 }, () => 0.5)
const CARRIED_BY: readonly number[] = Array.from({ length: 63 }, () => 0.5)

export function chainOf(mount: MountModel, built: Built, line: Line): Chain {
  const { paper } = mount
  const { a1, s1, s2 } = paper
  const { R, turnA, turnB } = lowerAxisTurn(paper, built[SLOT.axisA]!, built[SLOT.axisB]!)
  const { x, y, droop } = lineAngles(mount, built, line)
  const upper = leaningUpper(paper, built[SLOT.squareness]!)
  const across = cross(paper.a2, a1)

  const n = apply(R, a1)
  const lower = LOWER.slice()
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) {
      const along = n[i]! * a1[j]!
      lower[3 * i + j] = along
      lower[9 + 3 * i + j] = R[3 * i + j]! - along
    }
  // R [a1]×, by rows.
  for (let i = 0; i < 3; i++) {
    const [p, q, r] = [R[3 * i]!, R[3 * i + 1]!, R[3 * i + 2]!]
    lower[18 + 3 * i] = q * a1[2] - r * a1[1]
    lower[19 + 3 * i] = r * a1[0] - p * a1[2]
    lower[20 + 3 * i] = p * a1[1] - q * a1[0]
  }

  const C = rotation(paper.c0, built[SLOT.collimation]!)
  const CX = x === 0 ? C : compose(C, rotation(paper.u0, -x))
  const K = y === 0 ? CX : compose(CX, rotation(paper.r0, y))
  const carried = CARRIED_BY.slice()
  const put = (at: number, v: Vec3) => {
    const along = v[0] * upper[0] + v[1] * upper[1] + v[2] * upper[2]
    const o = 9 * at
    for (let i = 0; i < 3; i++) {
      carried[o + i] = along * upper[i]!
      carried[o + 3 + i] = v[i]! - along * upper[i]!
    }
    carried[o + 6] = upper[1] * v[2] - upper[2] * v[1]
    carried[o + 7] = upper[2] * v[0] - upper[0] * v[2]
    carried[o + 8] = upper[0] * v[1] - upper[1] * v[0]
  }
  put(CARRIED.b, apply(K, paper.b0))
  put(CARRIED.r, apply(K, paper.r0))
  put(CARRIED.u, apply(K, paper.u0))
  put(CARRIED.collimation, paper.c0)
  put(CARRIED.right, apply(C, [-paper.u0[0], -paper.u0[1], -paper.u0[2]]))
  put(CARRIED.up, apply(CX, paper.r0))
  put(CARRIED.across, across)
  return {
    mount,
    built,
    line,
    droop,
    lower,
    carried,
    turnA,
    turnB,
    lowerTurn: [s1 * n[0], s1 * n[1], s1 * n[2]],
    upper: [s2 * upper[0], s2 * upper[1], s2 * upper[2]],
    across,
  }
}

/** R · Rot(a1, s1 T), row by row; overwritten by the next call. */
const M = new Float64Array(9)
function setLower(chain: Chain, T: Rad): void {
  const { lower: l } = chain
  const angle = chain.mount.paper.s1 * T
  const c = Math.cos(angle)
  const s = Math.sin(angle)
  for (let i = 0; i < 9; i++) M[i] = l[i]! + l[9 + i]! * c + l[18 + i]! * s
}

const throughLower = (x: number, y: number, z: number): Vec3 => [
  M[0]! * x + M[1]! * y + M[2]! * z,
  M[3]! * x + M[4]! * y + M[5]! * z,
  M[6]! * x + M[7]! * y + M[8]! * z,
]

/** A carried vector at upper angle s2 S (its cosine, sine), through the lower axis as set. */
function carry(chain: Chain, at: number, c: number, s: number): Vec3 {
  const v = chain.carried
  const o = 9 * at
  return throughLower(
    v[o]! + v[o + 3]! * c + v[o + 6]! * s,
    v[o + 1]! + v[o + 4]! * c + v[o + 7]! * s,
    v[o + 2]! + v[o + 5]! * c + v[o + 8]! * s,
  )
}

/** Where the chain's line points at true angles T, S. */
export function poseIn(chain: Chain, T: Rad, S: Rad): Pose {
  const angle = chain.mount.paper.s2 * S
  const c = Math.cos(angle)
  const s = Math.sin(angle)
  setLower(chain, T)
  const b = carry(chain, CARRIED.b, c, s)
  const r = carry(chain, CARRIED.r, c, s)
  const u = carry(chain, CARRIED.u, c, s)
  const { droop } = chain
  if (droop === 0) return { b, r, u }
  const sink = rotationFromVector([-droop * b[1], droop * b[0], 0])
  return { b: apply(sink, b), r: apply(sink, r), u: apply(sink, u) }
}

/** As poseIn, with the axis ω about which each parameter turns the dish. @param turns 3 × SLOTS, written over */
export function turningPoseIn(chain: Chain, T: Rad, S: Rad, turns = new Float64Array(3 * SLOTS)): TurningPose {
  const { mount, built, line, droop } = chain
  const angle = mount.paper.s2 * S
  const c = Math.cos(angle)
  const s = Math.sin(angle)
  setLower(chain, T)
  const b = carry(chain, CARRIED.b, c, s)
  const r = carry(chain, CARRIED.r, c, s)
  const u = carry(chain, CARRIED.u, c, s)
  const g: Vec3 = [b[1], -b[0], 0]
  const v: Vec3 = [-droop * g[0], -droop * g[1], 0]
  const sink = rotationFromVector(v)
  /** ω before droop → ω after it: the droop's own axis moves with the line. */
  const sunk = (w: Vec3): Vec3 => {
    if (droop === 0) return w
    const own = turnFromVectorStep(v, [-droop * (w[2] * b[0] - w[0] * b[2]), droop * (w[1] * b[2] - w[2] * b[1]), 0])
    const carried = apply(sink, w)
    return [own[0] + carried[0], own[1] + carried[1], own[2] + carried[2]]
  }
  const put = (slot: number, w: Vec3, k: number) => {
    turns[3 * slot] = k * w[0]
    turns[3 * slot + 1] = k * w[1]
    turns[3 * slot + 2] = k * w[2]
  }
  turns.fill(0)
  put(SLOT.axisA, sunk(chain.turnA), 1)
  put(SLOT.axisB, sunk(chain.turnB), 1)
  const lowerTurn = sunk(chain.lowerTurn)
  const upperTurn = sunk(throughLower(chain.upper[0], chain.upper[1], chain.upper[2]))
  const m = throughLower(chain.across[0], chain.across[1], chain.across[2])
  const m2 = carry(chain, CARRIED.across, c, s)
  put(SLOT.squareness, sunk([m[0] - m2[0], m[1] - m2[1], m[2] - m2[2]]), 1)
  put(SLOT.collimation, sunk(carry(chain, CARRIED.collimation, c, s)), 1)
  put(SLOT.sag, g, -1)
  if (line !== 'boresight') {
    const wx = sunk(carry(chain, CARRIED.right, c, s))
    const wy = sunk(carry(chain, CARRIED.up, c, s))
    if (line === 'tube') {
      put(SLOT.tubeRight, wx, 1)
      put(SLOT.tubeUp, wy, 1)
    } else {
      const f = mount.focalLength
      const k = line === 'shadow' ? 1 : -mount.bdf
      put(SLOT.feedRight, wx, k / f / (1 + (built[SLOT.feedRight]! / f) ** 2))
      put(SLOT.feedUp, wy, k / f / (1 + (built[SLOT.feedUp]! / f) ** 2))
      put(SLOT.feedDroop, g, -k / f)
      if (line === 'beam') {
        put(SLOT.squintRight, wx, 1)
        put(SLOT.squintUp, wy, 1)
      }
    }
  }
  if (droop === 0) return { b, r, u, turns, lowerTurn, upperTurn }
  return { b: apply(sink, b), r: apply(sink, r), u: apply(sink, u), turns, lowerTurn, upperTurn }
}

/** Where a line points at true angles T, S. */
export const poseAt = (mount: MountModel, built: Built, T: Rad, S: Rad, line: Line): Pose =>
  poseIn(chainOf(mount, built, line), T, S)

/** As poseAt, with the axis ω about which each parameter turns the dish. */
export const turningPoseAt = (mount: MountModel, built: Built, T: Rad, S: Rad, line: Line): TurningPose =>
  turningPoseIn(chainOf(mount, built, line), T, S)

/** The lower axis as built (R a1), and the upper axis at a true lower angle (R Rot(a1, s1 T) a2'), with their ω's. */
export function axesAt(mount: MountModel, built: Built, T: Rad) {
  const { paper } = mount
  const { R, turnA, turnB } = lowerAxisTurn(paper, built[SLOT.axisA]!, built[SLOT.axisB]!)
  const M1 = compose(R, rotation(paper.a1, paper.s1 * T))
  const upper = leaningUpper(paper, built[SLOT.squareness]!)
  return {
    lower: apply(R, paper.a1),
    upper: apply(M1, upper),
    turnA,
    turnB,
    lowerTurn: apply(R, [paper.s1 * paper.a1[0], paper.s1 * paper.a1[1], paper.s1 * paper.a1[2]]),
    squarenessTurn: apply(M1, cross(paper.a2, paper.a1)),
  }
}
