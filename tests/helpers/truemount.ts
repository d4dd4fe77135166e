/**
 * The mount as it really is, for tests: the equations of the mount as built written down a second time, in degrees and
 * by turning vectors one rotation after the other, so that a slip in the core's own chain cannot hide here. Enu.
 * A truth is a table of deviations by id, in degrees, ratios and mm; a feed's behind a colon; what is missing is 0.
 */
import type { Axis, Side, StationRecord } from '../../src/core/records/fieldbook.ts'

export type V3 = [number, number, number]
export type Truth = Record<string, number>
export type LineName = 'beam' | 'shadow' | 'tube' | 'boresight'
export interface Sides {
  lower?: Side
  upper?: Side
}

const D = Math.PI / 180
const E: V3 = [1, 0, 0]
const N: V3 = [0, 1, 0]
const U: V3 = [0, 0, 1]

const cross = (a: V3, b: V3): V3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
const dot = (a: V3, b: V3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const mix = (a: V3, x: number, b: V3, y: number): V3 => [a[0] * x + b[0] * y, a[1] * x + b[1] * y, a[2] * x + b[2] * y]
const unit = (a: V3): V3 => {
  const n = Math.hypot(...a)
  return [a[0] / n, a[1] / n, a[2] / n]
}

/** v turned by t radians about the unit vector a, right-handed (Rodrigues). */
function turn(v: V3, a: V3, t: number): V3 {
  if (t === 0) return v
  const c = Math.cos(t)
  const s = Math.sin(t)
  const x = cross(a, v)
  const k = dot(a, v) * (1 - c)
  return [v[0] * c + x[0] * s + a[0] * k, v[1] * c + x[1] * s + a[1] * k, v[2] * c + x[2] * s + a[2] * k]
}

/** v turned by the rotation vector w. */
function turnBy(v: V3, w: V3): V3 {
  const t = Math.hypot(...w)
  return t === 0 ? v : turn(v, unit(w), t)
}

export interface TruePose {
  b: V3
  r: V3
  u: V3
}

export interface TrueMount {
  record: StationRecord
  truth: Truth
  /** Where a line points, and right and up about it, at readings. */
  pose(lower: number, upper: number, line: LineName, feed?: string, sides?: Sides): TruePose
  /** True axis angle in degrees at a reading; NaN outside a jack's triangle. */
  angleDeg(axis: Axis, reading: number, side?: Side): number
  lowerAxis(): V3
  upperAxis(lower: number): V3
}

/** The readout's own angle in degrees. */
export function readoutAngleDeg(record: StationRecord, axis: Axis, reading: number, truth: Truth = {}): number {
  const { readout } = record.mount[axis]
  if (readout.type === 'degrees') return reading
  if (readout.type === 'linear-counts') return (reading - readout.zeroCounts) / readout.countsPerDeg
  const a = readout.baseArmMm + (truth[`${axis}BaseArm`] ?? 0)
  const b = readout.rodArmMm + (truth[`${axis}RodArm`] ?? 0)
  const length = readout.lengthAtReadingZeroMm + reading / readout.countsPerMm
  const phi = Math.acos((a * a + b * b - length * length) / (2 * a * b)) / D
  return readout.direction * (phi - readout.phiAtAngleZeroDeg)
}

export function trueMount(record: StationRecord, truth: Truth): TrueMount {
  const { mount, site, dish } = record
  const of = (id: string): number => truth[id] ?? 0
  const h = (mount.headingDeg ?? 0) * D
  const f: V3 = [Math.sin(h), Math.cos(h), 0]
  const r: V3 = [Math.cos(h), -Math.sin(h), 0]
  const p = site.latDeg * D
  const P: V3 = [0, Math.cos(p), Math.sin(p)]
  const Q: V3 = [0, -Math.sin(p), Math.cos(p)]
  const o = (mount.kind === 'az-over-el' ? (mount.boresightOffsetDeg ?? 0) : 0) * D
  const [a1, s1, a2, s2, b0, u0]: [V3, number, V3, number, V3, V3] =
    mount.kind === 'el-over-az'
      ? [U, -1, E, 1, N, U]
      : mount.kind === 'ha-dec'
        ? [P, -1, [-1, 0, 0], 1, Q, p >= 0 ? P : [0, -P[1], -P[2]]]
        : mount.kind === 'az-over-el'
          ? [r, 1, U, -1, mix(f, Math.cos(o), U, Math.sin(o)), mix(f, -Math.sin(o), U, Math.cos(o))]
          : [f, 1, r, -1, U, [-f[0], -f[1], 0]]
  const r0 = cross(b0, u0)
  const e = of('squareness') * D
  const a2p = mix(a2, Math.cos(e), a1, Math.sin(e))
  const c0 = unit(cross(b0, a2))
  const fMm = dish.focalRatio * dish.diameterM * 1000
  const q = (4 * dish.focalRatio) ** -2
  const bdf = (1 + 0.36 * q) / (1 + q)

  const displaced = (v: V3): V3 => {
    switch (mount.kind) {
      case 'el-over-az':
        return turnBy(v, mix(cross(U, N), of('leanNorth') * D, cross(U, E), of('leanEast') * D))
      case 'ha-dec':
        return turnBy(v, mix(cross(P, E), of('poleEast') * D, cross(P, Q), of('poleUp') * D))
      default:
        return turn(turn(v, cross(a1, U), of('level') * D), U, -of('heading') * D)
    }
  }
  const angleDeg = (axis: Axis, reading: number, side?: Side): number =>
    readoutAngleDeg(record, axis, reading, truth) * (1 + of(`${axis}Scale`)) +
    of(`${axis}Zero`) +
    (side === undefined ? 0 : side === '+' ? 0.5 : -0.5) * of(`${axis}Play`)

  const pose: TrueMount['pose'] = (lower, upper, line, feed = record.feeds[0]!.id, sides = {}) => {
    const T = angleDeg('lower', lower, sides.lower) * D
    const S = angleDeg('upper', upper, sides.upper) * D
    const right = Math.atan(of(`feedRight:${feed}`) / fMm)
    const up = Math.atan(of(`feedUp:${feed}`) / fMm)
    const sink = of(`feedDroop:${feed}`) / fMm
    const sag = of('sag') * D
    const [x, y, w] =
      line === 'boresight'
        ? [0, 0, sag]
        : line === 'tube'
          ? [of('tubeRight') * D, of('tubeUp') * D, sag]
          : line === 'shadow'
            ? [right, up, sag + sink]
            : [-bdf * right + of(`squintRight:${feed}`) * D, -bdf * up + of(`squintUp:${feed}`) * D, sag - bdf * sink]
    const carried = (v: V3): V3 => {
      const inDish = turn(turn(turn(v, r0, y), u0, -x), c0, of('collimation') * D)
      return displaced(turn(turn(inDish, a2p, s2 * S), a1, s1 * T))
    }
    const b = carried(b0)
    const droop = mix(cross(b, U), -w, U, 0)
    return { b: turnBy(b, droop), r: turnBy(carried(r0), droop), u: turnBy(carried(u0), droop) }
  }
  return {
    record,
    truth,
    pose,
    angleDeg,
    lowerAxis: () => displaced(a1),
    upperAxis: lower => displaced(turn(a2p, a1, s1 * angleDeg('lower', lower) * D)),
  }
}

/** Where t stands from a pose's line: arc in degrees, right and up. */
export function offsetDeg(pose: TruePose, t: readonly [number, number, number]): [right: number, up: number] {
  const v: V3 = [t[0], t[1], t[2]]
  const x = dot(pose.r, v)
  const y = dot(pose.u, v)
  const rho = Math.hypot(x, y)
  const angle = Math.atan2(rho, dot(pose.b, v)) / D
  return rho === 0 ? [0, 0] : [(x / rho) * angle, (y / rho) * angle]
}

/** The angle in degrees between two unit vectors. */
export const apartDeg = (a: readonly [number, number, number], b: readonly [number, number, number]): number =>
  Math.atan2(Math.hypot(...cross([...a], [...b])), dot([...a], [...b])) / D

/**
 * The readings at which t stands at an offset (degrees) from the line, by Newton from a first guess; null when it does
 * not get there.
 */
export function trueReadings(
  mount: TrueMount,
  line: LineName,
  feed: string | undefined,
  t: readonly [number, number, number],
  offset: readonly [number, number],
  guess: { lower: number; upper: number },
  sides: Sides = {},
): { lower: number; upper: number } | null {
  let { lower, upper } = guess
  const at = (l: number, s: number) => offsetDeg(mount.pose(l, s, line, feed, sides), t)
  // A thousandth of a degree's worth of reading, for the slopes.
  const stepOf = (axis: Axis, reading: number): number => {
    const perReading =
      (readoutAngleDeg(mount.record, axis, reading + 0.01) - readoutAngleDeg(mount.record, axis, reading)) / 0.01
    return 0.001 / Math.max(1e-6, Math.abs(perReading))
  }
  for (let i = 0; i < 30; i++) {
    const [x, y] = at(lower, upper)
    const ex = x - offset[0]
    const ey = y - offset[1]
    if (!Number.isFinite(ex + ey)) return null
    const hl = stepOf('lower', lower)
    const hu = stepOf('upper', upper)
    const l1 = at(lower + hl, upper)
    const l0 = at(lower - hl, upper)
    const u1 = at(lower, upper + hu)
    const u0 = at(lower, upper - hu)
    const xl = (l1[0] - l0[0]) / (2 * hl)
    const yl = (l1[1] - l0[1]) / (2 * hl)
    const xu = (u1[0] - u0[0]) / (2 * hu)
    const yu = (u1[1] - u0[1]) / (2 * hu)
    const det = xl * yu - xu * yl
    if (!(Math.abs(det) > 1e-12)) return null
    const dl = (yu * ex - xu * ey) / det
    const du = (xl * ey - yl * ex) / det
    lower -= dl
    upper -= du
    if (Math.hypot(ex, ey) < 1e-11) return { lower, upper }
  }
  const [x, y] = at(lower, upper)
  return Math.hypot(x - offset[0], y - offset[1]) < 1e-7 ? { lower, upper } : null
}
