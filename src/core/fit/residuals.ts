/**
 * Residuals and their exact derivatives. A sighting gives two whitened rows (right, up; modelled minus measured offset,
 * in σ), a level or reference one row in σ (a mast's lean two). Derivatives are by slot or by parameter, per unit of it.
 */
import {
  axesAt,
  type Chain,
  chainOf,
  type Line,
  type MountModel,
  type Pose,
  poseIn,
  turningPoseAt,
  turningPoseIn,
} from '../mount/asbuilt.ts'
import { trueAngle } from '../mount/readings.ts'
import { type Built, SLOT, SLOTS } from '../mount/slots.ts'
import type { Axis } from '../records/fieldbook.ts'
import { radFromDeg } from '../units.ts'
import type { Vec3 } from '../vectors.ts'
import type { Level, Reference } from './observations.ts'
import type { Sighting } from './sighting.ts'

/** The mount as built for one measurement: the values of its slots. */
export function builtAt(values: Float64Array, slots: Int16Array, out: Built = new Float64Array(SLOTS)): Built {
  for (let k = 0; k < SLOTS; k++) out[k] = slots[k]! < 0 ? 0 : values[slots[k]!]!
  return out
}

/**
 * The chains of one set of values: worked out at first need, one for each setup (the slots, by identity) and line, and used
 * for all its sightings. Discard it with the values.
 */
export function chainsOf(model: MountModel, values: Float64Array): (slots: Int16Array, line: Line) => Chain {
  const known = new Map<Int16Array, Partial<Record<Line, Chain>>>()
  let slots: Int16Array | null = null
  let chain: Chain | null = null
  return (wantedSlots, line) => {
    if (chain !== null && slots === wantedSlots && chain.line === line) return chain
    const lines = known.get(wantedSlots) ?? {}
    slots = wantedSlots
    chain = lines[line] ?? chainOf(model, builtAt(values, wantedSlots), line)
    lines[line] = chain
    known.set(wantedSlots, lines)
    return chain
  }
}

/** Where t stands from a pose's line: arc right and up. */
export function offsetInPose(pose: Pose, t: Vec3): [right: number, up: number] {
  const x = pose.r[0] * t[0] + pose.r[1] * t[1] + pose.r[2] * t[2]
  const y = pose.u[0] * t[0] + pose.u[1] * t[1] + pose.u[2] * t[2]
  const z = pose.b[0] * t[0] + pose.b[1] * t[1] + pose.b[2] * t[2]
  const rho = Math.sqrt(x * x + y * y)
  if (rho === 0) return [0, 0]
  const k = Math.atan2(rho, z) / rho
  return [x * k, y * k]
}

/**
 * d(offset)/d(turn): how the offset of t moves when the dish turns about an Enu axis: dx = gx·ω, dy = gy·ω.
 * @returns the offset and the two gradients
 */
export function offsetGradients(pose: Pose, t: Vec3): { right: number; up: number; gx: Vec3; gy: Vec3 } {
  const { b, r, u } = pose
  const x = r[0] * t[0] + r[1] * t[1] + r[2] * t[2]
  const y = u[0] * t[0] + u[1] * t[1] + u[2] * t[2]
  const z = b[0] * t[0] + b[1] * t[1] + b[2] * t[2]
  // dX/dω = r × t, and so on.
  const rx = r[1] * t[2] - r[2] * t[1]
  const ry = r[2] * t[0] - r[0] * t[2]
  const rz = r[0] * t[1] - r[1] * t[0]
  const ux = u[1] * t[2] - u[2] * t[1]
  const uy = u[2] * t[0] - u[0] * t[2]
  const uz = u[0] * t[1] - u[1] * t[0]
  const bx = b[1] * t[2] - b[2] * t[1]
  const by = b[2] * t[0] - b[0] * t[2]
  const bz = b[0] * t[1] - b[1] * t[0]
  const rho2 = x * x + y * y
  const rho = Math.sqrt(rho2)
  if (rho < 1e-12) return { right: x, up: y, gx: [rx, ry, rz], gy: [ux, uy, uz] }
  const angle = Math.atan2(rho, z)
  const k = angle / rho
  // d(angle) = (z dρ - ρ dz), with dρ = (x dx + y dy)/ρ; d(offset) = k dx + x k' d(angle), k' = (ρ - angle z)/ρ².
  const kPrime = rho < 1e-4 ? angle / 3 : (rho - angle * z) / rho2
  const ax = (z * (x * rx + y * ux)) / rho - rho * bx
  const ay = (z * (x * ry + y * uy)) / rho - rho * by
  const az = (z * (x * rz + y * uz)) / rho - rho * bz
  const kx = x * kPrime
  const ky = y * kPrime
  return {
    right: x * k,
    up: y * k,
    gx: [k * rx + kx * ax, k * ry + kx * ay, k * rz + kx * az],
    gy: [k * ux + ky * ax, k * uy + ky * ay, k * uz + ky * az],
  }
}

/** The unwhitened residual of a sighting: modelled minus measured offset; null when a triangle does not close. */
export const sightingMiss = (model: MountModel, s: Sighting, built: Built): [right: number, up: number] | null =>
  missIn(chainOf(model, built, s.line), s)

function missIn(chain: Chain, s: Sighting): [right: number, up: number] | null {
  const T = trueAngle(chain.mount, chain.built, 'lower', s.record.lower, s.lowerSide)
  const S = trueAngle(chain.mount, chain.built, 'upper', s.record.upper, s.upperSide)
  if (T.kind !== 'angle' || S.kind !== 'angle') return null
  const at = offsetInPose(poseIn(chain, T.angle, S.angle), s.t)
  at[0] -= s.right
  at[1] -= s.up
  return at
}

/**
 * Partials of the offset of t by slot, at readings; the heart of the fit and of the sky error.
 * @param out 2 × SLOTS, row right then row up, rad per unit of the slot
 * @returns the offset; null when a triangle does not close
 */
export const offsetPartials = (
  model: MountModel,
  built: Built,
  line: Line,
  t: Vec3,
  lower: number,
  upper: number,
  lowerSide: 0 | 1 | -1,
  upperSide: 0 | 1 | -1,
  out: Float64Array,
): [right: number, up: number] | null =>
  partialsIn(chainOf(model, built, line), t, lower, upper, lowerSide, upperSide, out)

/** The turns of the last pose looked at: written over by the next. */
const turns = new Float64Array(3 * SLOTS)

/** As offsetPartials, in a chain that is worked out already. */
export function partialsIn(
  chain: Chain,
  t: Vec3,
  lower: number,
  upper: number,
  lowerSide: 0 | 1 | -1,
  upperSide: 0 | 1 | -1,
  out: Float64Array,
): [right: number, up: number] | null {
  const T = trueAngle(chain.mount, chain.built, 'lower', lower, lowerSide)
  const S = trueAngle(chain.mount, chain.built, 'upper', upper, upperSide)
  if (T.kind !== 'angle' || S.kind !== 'angle') return null
  const pose = turningPoseIn(chain, T.angle, S.angle, turns)
  const { right, up, gx, gy } = offsetGradients(pose, t)
  for (let k = 0; k < SLOTS; k++) {
    const x = turns[3 * k]!
    const y = turns[3 * k + 1]!
    const z = turns[3 * k + 2]!
    out[k] = gx[0] * x + gx[1] * y + gx[2] * z
    out[SLOTS + k] = gy[0] * x + gy[1] * y + gy[2] * z
  }
  const lt = pose.lowerTurn
  const ut = pose.upperTurn
  for (let row = 0; row < 2; row++) {
    const g = row === 0 ? gx : gy
    const o = row * SLOTS
    const l = g[0] * lt[0] + g[1] * lt[1] + g[2] * lt[2]
    const u = g[0] * ut[0] + g[1] * ut[1] + g[2] * ut[2]
    out[o + SLOT.lowerZero] = l
    out[o + SLOT.lowerScale] = l * T.perScale
    out[o + SLOT.lowerBaseArm] = l * T.perBase
    out[o + SLOT.lowerRodArm] = l * T.perRod
    out[o + SLOT.lowerPlay] = l * T.perPlay
    out[o + SLOT.lowerShift] = l * T.perReading
    out[o + SLOT.upperZero] = u
    out[o + SLOT.upperScale] = u * S.perScale
    out[o + SLOT.upperBaseArm] = u * S.perBase
    out[o + SLOT.upperRodArm] = u * S.perRod
    out[o + SLOT.upperPlay] = u * S.perPlay
    out[o + SLOT.upperShift] = u * S.perReading
  }
  return [right, up]
}

/** Two-coordinate χ² of a sighting; null when a triangle does not close. */
export function chiIn(chain: Chain, s: Sighting): number | null {
  const miss = missIn(chain, s)
  if (miss === null) return null
  const x = s.w11 * miss[0]
  const y = s.w21 * miss[0] + s.w22 * miss[1]
  return x * x + y * y
}

/** Whitened residual of a sighting, in σ; null when a triangle does not close. */
export function whitenedMiss(model: MountModel, s: Sighting, built: Built): [number, number] | null {
  const miss = sightingMiss(model, s, built)
  return miss === null ? null : [s.w11 * miss[0], s.w21 * miss[0] + s.w22 * miss[1]]
}

/** Whitened residual and partials of a sighting. @param out 2 × SLOTS */
export const whitenedRows = (
  model: MountModel,
  s: Sighting,
  built: Built,
  out: Float64Array,
): [number, number] | null => rowsIn(chainOf(model, built, s.line), s, out)

/** As whitenedRows, in a chain that is worked out already. */
export function rowsIn(chain: Chain, s: Sighting, out: Float64Array): [number, number] | null {
  const at = partialsIn(chain, s.t, s.record.lower, s.record.upper, s.lowerSide, s.upperSide, out)
  if (at === null) return null
  const x = at[0] - s.right
  const y = at[1] - s.up
  const { w11, w21, w22 } = s
  for (let k = 0; k < SLOTS; k++) {
    const dx = out[k]!
    out[k] = w11 * dx
    out[SLOTS + k] = w21 * dx + w22 * out[SLOTS + k]!
  }
  return [w11 * x, w21 * x + w22 * y]
}

/** One scalar row in σ: its residual and its partials by slot and by shared constant. */
export interface ScalarRow {
  residual: number
  bySlot: Float64Array
  shared: number
  perShared: number
}

const scalarRow = (residual: number, bySlot: Float64Array, shared: number, perShared: number): ScalarRow => ({
  residual,
  bySlot,
  shared,
  perShared,
})

/** Elevation of a unit vector that turns about ω: d(el) = (ω × n)_z / cos el. */
const elevationPer = (n: Vec3, w: Vec3, sign: number, cosEl: number): number =>
  (sign * (w[0] * n[1] - w[1] * n[0])) / cosEl

/** The rows of a level; null when a triangle does not close. */
export function levelRows(model: MountModel, level: Level, built: Built): ScalarRow[] | null {
  const { record, sigma } = level
  const by = new Float64Array(SLOTS)
  if (record.what === 'mast-lean') {
    const east = new Float64Array(SLOTS)
    by[SLOT.axisA] = 1 / sigma
    east[SLOT.axisB] = 1 / sigma
    return [
      scalarRow((built[SLOT.axisA]! - radFromDeg(record.northDeg)) / sigma, by, -1, 0),
      scalarRow((built[SLOT.axisB]! - radFromDeg(record.eastDeg)) / sigma, east, -1, 0),
    ]
  }
  const measured = radFromDeg(record.valueDeg)
  const constant = level.clamping < 0 ? 0 : 1
  if (record.what === 'dish-elevation') {
    const T = trueAngle(model, built, 'lower', record.lower)
    const S = trueAngle(model, built, 'upper', record.upper)
    if (T.kind !== 'angle' || S.kind !== 'angle') return null
    const pose = turningPoseAt(model, built, T.angle, S.angle, 'boresight')
    const cosEl = Math.max(1e-6, Math.hypot(pose.b[0], pose.b[1]))
    const per = (w: Vec3) => elevationPer(pose.b, w, 1, cosEl) / sigma
    for (let k = 0; k < SLOTS; k++) by[k] = per([pose.turns[3 * k]!, pose.turns[3 * k + 1]!, pose.turns[3 * k + 2]!])
    putAngle(by, 'lower', per(pose.lowerTurn), T)
    putAngle(by, 'upper', per(pose.upperTurn), S)
    return [scalarRow((Math.asin(clamp(pose.b[2])) - measured) / sigma, by, level.clamping, constant / sigma)]
  }
  const T = record.what === 'upper-axis-elevation' ? trueAngle(model, built, 'lower', record.lower) : null
  if (T !== null && T.kind !== 'angle') return null
  const axes = axesAt(model, built, T === null ? 0 : T.angle)
  const n = T === null ? axes.lower : axes.upper
  // The end that points up: on ha-dec the pole above the horizon; an upper axis has no name for its ends.
  const sign = T === null ? (model.kind === 'ha-dec' && model.latitude < 0 ? -1 : 1) : n[2] < 0 ? -1 : 1
  const cosEl = Math.max(1e-6, Math.hypot(n[0], n[1]))
  const per = (w: Vec3) => elevationPer(n, w, sign, cosEl) / sigma
  by[SLOT.axisA] = per(axes.turnA)
  by[SLOT.axisB] = per(axes.turnB)
  if (T !== null) {
    by[SLOT.squareness] = per(axes.squarenessTurn)
    putAngle(by, 'lower', per(axes.lowerTurn), T)
  }
  return [scalarRow((Math.asin(clamp(sign * n[2])) - measured) / sigma, by, level.clamping, constant / sigma)]
}

const clamp = (x: number): number => Math.max(-1, Math.min(1, x))

function putAngle(
  by: Float64Array,
  axis: Axis,
  per: number,
  a: { perScale: number; perBase: number; perRod: number; perPlay: number; perReading: number },
): void {
  const lower = axis === 'lower'
  by[lower ? SLOT.lowerZero : SLOT.upperZero] = per
  by[lower ? SLOT.lowerScale : SLOT.upperScale] = per * a.perScale
  by[lower ? SLOT.lowerBaseArm : SLOT.upperBaseArm] = per * a.perBase
  by[lower ? SLOT.lowerRodArm : SLOT.upperRodArm] = per * a.perRod
  by[lower ? SLOT.lowerPlay : SLOT.upperPlay] = per * a.perPlay
  by[lower ? SLOT.lowerShift : SLOT.upperShift] = per * a.perReading
}

/** The row of a reference: the mark's true angle as read, minus the mark's one true angle. */
export function referenceRow(model: MountModel, ref: Reference, built: Built, mark: number): ScalarRow | null {
  const at = trueAngle(model, built, ref.record.axis, ref.record.reading)
  if (at.kind !== 'angle') return null
  const by = new Float64Array(SLOTS)
  putAngle(by, ref.record.axis, 1 / ref.sigma, at)
  return scalarRow((at.angle - mark) / ref.sigma, by, ref.mark, -1 / ref.sigma)
}
