/**
 * The chain of the mount as built: from true axis angles and deviations to where a line of the dish points. Enu, radians,
 * millimetres. D = R · Rot(a1, s1 T) · Rot(a2', s2 S) · C · B, then droop about the horizontal.
 *
 * Every parameter turns the dish about one Enu axis, so ∂D/∂p = [ω]× D; the ω's come out of the same pass and are exact.
 */
import { apply, compose, type Rotation, rotation, rotationFromVector, turnFromVectorStep } from '../rotations.ts'
import type { Rad } from '../units.ts'
import { cross, type Vec3 } from '../vectors.ts'
import { type Mount, type Paper, paperOf } from './kinds.ts'
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
export interface TurningPose extends Pose {
  /** SLOTS × 3: ω of each slot, rad per unit of the slot; zero and scale slots are left to `turnsOfReadings`. */
  turns: Float64Array
  /** ω per radian of true lower and upper angle. */
  lowerTurn: Vec3
  upperTurn: Vec3
}

const U: Vec3 = [0, 0, 1]

/** A mount with its paper vectors worked out once. */
export interface MountModel extends Mount {
  paper: Paper
}

export const modelOf = (mount: Mount): MountModel => ({ ...mount, paper: paperOf(mount) })

/** R, the lower axis's displacement from paper, and the ω's of its two parameters. */
export function lowerAxisTurn(paper: Paper, pA: Rad, pB: Rad): { R: Rotation; turnA: Vec3; turnB: Vec3 } {
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
export function lowerAxisToward(paper: Paper, n: Vec3): [Rad, Rad] {
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
const leaningUpper = (paper: Paper, e: Rad): Vec3 => {
  const c = Math.cos(e)
  const s = Math.sin(e)
  const { a1, a2 } = paper
  return [a2[0] * c + a1[0] * s, a2[1] * c + a1[1] * s, a2[2] * c + a1[2] * s]
}

/** By how much a line is turned right and up in the turned dish, and its droop per cos(elevation). */
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

/** Where a line points at true angles T, S. */
export function poseAt(mount: MountModel, built: Built, T: Rad, S: Rad, line: Line): Pose {
  const { paper } = mount
  const { R } = lowerAxisTurn(paper, built[SLOT.axisA]!, built[SLOT.axisB]!)
  const { x, y, droop } = lineAngles(mount, built, line)
  const M1 = compose(R, rotation(paper.a1, paper.s1 * T))
  const M2 = compose(M1, rotation(leaningUpper(paper, built[SLOT.squareness]!), paper.s2 * S))
  const M3 = compose(M2, rotation(paper.c0, built[SLOT.collimation]!))
  const M5 = compose(M3, compose(rotation(paper.u0, -x), rotation(paper.r0, y)))
  const b = apply(M5, paper.b0)
  const sink = rotationFromVector([-droop * b[1], droop * b[0], 0])
  const D = compose(sink, M5)
  return { b: apply(sink, b), r: apply(D, paper.r0), u: apply(D, paper.u0) }
}

/** As poseAt, with the axis ω about which each parameter turns the dish. */
export function turningPoseAt(mount: MountModel, built: Built, T: Rad, S: Rad, line: Line): TurningPose {
  const { paper } = mount
  const { R, turnA, turnB } = lowerAxisTurn(paper, built[SLOT.axisA]!, built[SLOT.axisB]!)
  const { x, y, droop } = lineAngles(mount, built, line)
  const upper = leaningUpper(paper, built[SLOT.squareness]!)
  const rotS = rotation(upper, paper.s2 * S)
  const M1 = compose(R, rotation(paper.a1, paper.s1 * T))
  const M2 = compose(M1, rotS)
  const M3 = compose(M2, rotation(paper.c0, built[SLOT.collimation]!))
  const M4 = compose(M3, rotation(paper.u0, -x))
  const M5 = compose(M4, rotation(paper.r0, y))
  const b = apply(M5, paper.b0)
  const g: Vec3 = [b[1], -b[0], 0]
  const v: Vec3 = [-droop * g[0], -droop * g[1], 0]
  const sink = rotationFromVector(v)
  const D = compose(sink, M5)

  const turns = new Float64Array(3 * SLOTS)
  /** ω before droop → ω after it: the droop's own axis moves with the line. */
  const sunk = (w: Vec3): Vec3 => {
    const moved = cross(w, b)
    const step: Vec3 = [-droop * moved[1], droop * moved[0], 0]
    const own = droop === 0 ? step : turnFromVectorStep(v, step)
    const carried = apply(sink, w)
    return [own[0] + carried[0], own[1] + carried[1], own[2] + carried[2]]
  }
  const put = (slot: number, w: Vec3, k = 1) => {
    turns[3 * slot] = k * w[0]
    turns[3 * slot + 1] = k * w[1]
    turns[3 * slot + 2] = k * w[2]
  }
  put(SLOT.axisA, sunk(turnA))
  put(SLOT.axisB, sunk(turnB))
  const lowerTurn = sunk(apply(R, [paper.s1 * paper.a1[0], paper.s1 * paper.a1[1], paper.s1 * paper.a1[2]]))
  const upperTurn = sunk(apply(M1, [paper.s2 * upper[0], paper.s2 * upper[1], paper.s2 * upper[2]]))
  const m = cross(paper.a2, paper.a1)
  const m2 = apply(rotS, m)
  put(SLOT.squareness, sunk(apply(M1, [m[0] - m2[0], m[1] - m2[1], m[2] - m2[2]])))
  put(SLOT.collimation, sunk(apply(M2, paper.c0)))
  put(SLOT.sag, g, -1)
  if (line !== 'boresight') {
    const wx = sunk(apply(M3, [-paper.u0[0], -paper.u0[1], -paper.u0[2]]))
    const wy = sunk(apply(M4, paper.r0))
    if (line === 'tube') {
      put(SLOT.tubeRight, wx)
      put(SLOT.tubeUp, wy)
    } else {
      const f = mount.focalLength
      const k = line === 'shadow' ? 1 : -mount.bdf
      put(SLOT.feedRight, wx, k / f / (1 + (built[SLOT.feedRight]! / f) ** 2))
      put(SLOT.feedUp, wy, k / f / (1 + (built[SLOT.feedUp]! / f) ** 2))
      put(SLOT.feedDroop, g, -k / f)
      if (line === 'beam') {
        put(SLOT.squintRight, wx)
        put(SLOT.squintUp, wy)
      }
    }
  }
  return { b: apply(sink, b), r: apply(D, paper.r0), u: apply(D, paper.u0), turns, lowerTurn, upperTurn }
}

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
