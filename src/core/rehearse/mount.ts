/**
 * The real mount: the equations of the mount as built, written a second time, in degrees and by turning vectors one rotation after
 * the other. Enu. Tested against the books simulated outside the project (tests/examples) and against the solver's chain over
 * random mounts.
 *
 * A truth is a table of deviations by id, in degrees, ratios and millimetres; a feed's behind a colon; what is missing is 0.
 */
import { angleFromReading } from '../readout/readout.ts'
import type { Axis, Side, StationRecord } from '../records/fieldbook.ts'
import { readoutFromRecord } from '../records/readouts.ts'
import { DEG } from '../units.ts'
import { crossed, dotted, EAST, heightDeg, mixed, NORTH, normed, turned, turnedBy, UP, type V3 } from './turning.ts'

export type Truth = Record<string, number>
export type LineName = 'beam' | 'shadow' | 'tube' | 'boresight'
export interface Sides {
  lower?: Side
  upper?: Side
}

/** Where a line of the dish points, and the dish's right and up about it. */
export interface TruePose {
  b: V3
  r: V3
  u: V3
}

export interface TrueMount {
  record: StationRecord
  truth: Truth
  /** Where a line points at readings. */
  pose(lower: number, upper: number, line: LineName, feed?: string, sides?: Sides): TruePose
  /** The same by true axis angles, degrees. */
  poseAt(lowerDeg: number, upperDeg: number, line: LineName, feed?: string): TruePose
  /** True axis angle in degrees at a reading; NaN outside a jack's triangle. */
  angleDeg(axis: Axis, reading: number, side?: Side): number
  lowerAxis(): V3
  upperAxis(lower: number): V3
  /** The same by the lower axis's true angle, degrees. */
  upperAxisAt(lowerDeg: number): V3
  /** The axes with both axis angles at zero and the lower axis not displaced. */
  turnsAbout: Record<Axis, V3>
  /** The direction of a vector that is fixed to what an axis moves; without the droop. */
  carried(axis: Axis, v: V3, at: { lowerDeg: number; upperDeg: number }): V3
}

/** The part of a station's record that says what the mount is on paper. */
export type Paper = Pick<StationRecord, 'site' | 'dish' | 'feeds' | 'mount' | 'horizonMask' | 'tolerance'>

/** The readout's own angle in degrees. */
export function readoutAngleDeg(record: Paper, axis: Axis, reading: number, truth: Truth = {}): number {
  const { readout } = record.mount[axis]
  if (readout.type === 'degrees') return reading
  if (readout.type === 'linear-counts') return (reading - readout.zeroCounts) / readout.countsPerDeg
  if (readout.type !== 'jack') {
    // A kind of readout that is not written a second time here goes by the core's own law.
    const at = angleFromReading(readoutFromRecord(readout), reading)
    return at.kind === 'angle' ? at.angle / DEG : Number.NaN
  }
  const a = readout.baseArmMm + (truth[`${axis}BaseArm`] ?? 0)
  const b = readout.rodArmMm + (truth[`${axis}RodArm`] ?? 0)
  const length = readout.lengthAtReadingZeroMm + reading / readout.countsPerMm
  const phi = Math.acos((a * a + b * b - length * length) / (2 * a * b)) / DEG
  return readout.direction * (phi - readout.phiAtAngleZeroDeg)
}

/** The vectors of the four kinds: lower axis and its sense, upper axis and its sense, boresight, the dish's up. */
function vectorsOf({ mount, site }: Paper): [V3, number, V3, number, V3, V3] {
  const h = (mount.headingDeg ?? 0) * DEG
  const f: V3 = [Math.sin(h), Math.cos(h), 0]
  const r: V3 = [Math.cos(h), -Math.sin(h), 0]
  const p = site.latDeg * DEG
  const pole: V3 = [0, Math.cos(p), Math.sin(p)]
  const equator: V3 = [0, -Math.sin(p), Math.cos(p)]
  const o = (mount.boresightOffsetDeg ?? 0) * DEG
  switch (mount.kind) {
    case 'el-over-az':
      return [UP, -1, EAST, 1, NORTH, UP]
    case 'ha-dec':
      return [pole, -1, [-1, 0, 0], 1, equator, p >= 0 ? pole : [0, -pole[1], -pole[2]]]
    case 'az-over-el':
      return [r, 1, UP, -1, mixed(f, Math.cos(o), UP, Math.sin(o)), mixed(f, -Math.sin(o), UP, Math.cos(o))]
    case 'x-y':
      return [f, 1, r, -1, UP, [-f[0], -f[1], 0]]
  }
}

export function trueMount(record: StationRecord, truth: Truth): TrueMount {
  const { mount, site, dish } = record
  const of = (id: string): number => truth[id] ?? 0
  const [a1, s1, a2, s2, b0, u0] = vectorsOf(record)
  const r0 = crossed(b0, u0)
  const e = of('squareness') * DEG
  const a2p = mixed(a2, Math.cos(e), a1, Math.sin(e))
  const c0 = normed(crossed(b0, a2))
  const fMm = dish.focalRatio * dish.diameterM * 1000
  const q = (4 * dish.focalRatio) ** -2
  const bdf = (1 + 0.36 * q) / (1 + q)
  const equator: V3 = [0, -Math.sin(site.latDeg * DEG), Math.cos(site.latDeg * DEG)]

  const lean = mixed(crossed(UP, NORTH), of('leanNorth') * DEG, crossed(UP, EAST), of('leanEast') * DEG)
  const off = mixed(crossed(a1, EAST), of('poleEast') * DEG, crossed(a1, equator), of('poleUp') * DEG)
  const [level, heading] = [of('level') * DEG, -of('heading') * DEG]
  const displaced = (v: V3): V3 => {
    switch (mount.kind) {
      case 'el-over-az':
        return turnedBy(v, lean)
      case 'ha-dec':
        return turnedBy(v, off)
      default:
        return turned(turned(v, crossed(a1, UP), level), UP, heading)
    }
  }
  const axisOf = (axis: Axis) => ({ scale: of(`${axis}Scale`), zero: of(`${axis}Zero`), play: of(`${axis}Play`) })
  const axes = { lower: axisOf('lower'), upper: axisOf('upper') }
  const angleDeg = (axis: Axis, reading: number, side?: Side): number => {
    const { scale, zero, play } = axes[axis]
    const angle = readoutAngleDeg(record, axis, reading, truth)
    return angle * (1 + scale) + zero + (side === undefined ? 0 : side === '+' ? 0.5 : -0.5) * play
  }

  /** Right, up and droop of a line against the boresight, radians. */
  const lineOf = (line: LineName, feed: string): [number, number, number] => {
    const right = Math.atan(of(`feedRight:${feed}`) / fMm)
    const up = Math.atan(of(`feedUp:${feed}`) / fMm)
    const sink = of(`feedDroop:${feed}`) / fMm
    const sag = of('sag') * DEG
    switch (line) {
      case 'boresight':
        return [0, 0, sag]
      case 'tube':
        return [of('tubeRight') * DEG, of('tubeUp') * DEG, sag]
      case 'shadow':
        return [right, up, sag + sink]
      case 'beam':
        return [
          -bdf * right + of(`squintRight:${feed}`) * DEG,
          -bdf * up + of(`squintUp:${feed}`) * DEG,
          sag - bdf * sink,
        ]
    }
  }

  /** A line's three directions fixed to the dish, and its droop: the same at all angles. */
  const known = new Map<string, { inDish: TruePose; w: number }>()
  const inDishOf = (line: LineName, feed: string) => {
    const key = `${line} ${feed}`
    const there = known.get(key)
    if (there !== undefined) return there
    const [x, y, w] = lineOf(line, feed)
    const fixed = (v: V3): V3 => turned(turned(turned(v, r0, y), u0, -x), c0, of('collimation') * DEG)
    const made = { inDish: { b: fixed(b0), r: fixed(r0), u: fixed(u0) }, w }
    known.set(key, made)
    return made
  }
  const poseAt: TrueMount['poseAt'] = (lowerDeg, upperDeg, line, feed = record.feeds[0]!.id) => {
    const { inDish, w } = inDishOf(line, feed)
    const carried = (v: V3): V3 => displaced(turned(turned(v, a2p, s2 * upperDeg * DEG), a1, s1 * lowerDeg * DEG))
    const b = carried(inDish.b)
    const droop = mixed(crossed(b, UP), -w, UP, 0)
    return { b: turnedBy(b, droop), r: turnedBy(carried(inDish.r), droop), u: turnedBy(carried(inDish.u), droop) }
  }
  const upperAxisAt = (lowerDeg: number): V3 => displaced(turned(a2p, a1, s1 * lowerDeg * DEG))
  return {
    record,
    truth,
    poseAt,
    pose: (lower, upper, line, feed, sides = {}) =>
      poseAt(angleDeg('lower', lower, sides.lower), angleDeg('upper', upper, sides.upper), line, feed),
    angleDeg,
    lowerAxis: () => displaced(a1),
    upperAxis: lower => upperAxisAt(angleDeg('lower', lower)),
    upperAxisAt,
    turnsAbout: { lower: a1, upper: a2p },
    carried: (axis, v, { lowerDeg, upperDeg }) =>
      displaced(turned(axis === 'lower' ? v : turned(v, a2p, s2 * upperDeg * DEG), a1, s1 * lowerDeg * DEG)),
  }
}

/** Where t stands from a pose's line: arc in degrees, right and up. */
export function offsetDeg(pose: TruePose, t: readonly [number, number, number]): [right: number, up: number] {
  const v: V3 = [t[0], t[1], t[2]]
  const x = dotted(pose.r, v)
  const y = dotted(pose.u, v)
  const rho = Math.hypot(x, y)
  const angle = Math.atan2(rho, dotted(pose.b, v)) / DEG
  return rho === 0 ? [0, 0] : [(x / rho) * angle, (y / rho) * angle]
}

export type LevelPlace = 'lower-axis-elevation' | 'upper-axis-elevation' | 'dish-elevation'

/** What a perfect inclinometer would show at an axis or on the boresight, degrees; + as the record counts it. */
export function trueLevelAt(mount: TrueMount, what: LevelPlace, lowerDeg: number, upperDeg: number): number {
  if (what === 'dish-elevation') return heightDeg(mount.poseAt(lowerDeg, upperDeg, 'boresight').b)
  if (what === 'upper-axis-elevation') return Math.abs(heightDeg(mount.upperAxisAt(lowerDeg)))
  const { mount: of, site } = mount.record
  const isSouthPole = of.kind === 'ha-dec' && site.latDeg < 0
  return (isSouthPole ? -1 : 1) * heightDeg(mount.lowerAxis())
}
