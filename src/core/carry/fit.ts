/**
 * The numbers of a page: least squares of the error on the sky over the Moon's path, both axes together. Damped Gauss-Newton; what
 * the program makes of each place is fixed beforehand by its aiming.
 */
import { offsetGradients } from '../fit/residuals.ts'
import type { SkyPoint } from '../fit/skypoint.ts'
import { solvePositive } from '../matrices.ts'
import { chainOf, turningPoseIn } from '../mount/asbuilt.ts'
import { AXES, type Axis } from '../mount/names.ts'
import { trueAngle } from '../mount/readings.ts'
import { type Built, SLOTS } from '../mount/slots.ts'
import { angleFromReading } from '../readout/readout.ts'
import type { Station } from '../records/station.ts'
import { type Deg, degFromRad, radFromDeg } from '../units.ts'
import { dot } from '../vectors.ts'
import type { Angles } from './aiming.ts'
import { outputOfReading, readingOfOutput } from './axislaw.ts'
import type { AxisPage } from './numbers.ts'
import type { Shape } from './shapes.ts'

/** Enough points for eight numbers; what remains is computed over all. */
const ENOUGH = 160
const PASSES = 12
/** Rows of an axis beside the path, and their weight against it. */
const ANCHORS = 24
const ANCHORED = 0.01
/** Where the mount is entered further off than this, the anchors would mislead. */
const FAR: Deg = 10
/** Where a curve has no output at all: as bad as a whole radian. */
const LOST = 1
/** A program's angle this far from the mount's own is another pose, which no law can turn into it. */
const SAME_POSE: Deg = 60

type Both<T> = Record<Axis, T>
type Frames = Both<Pick<AxisPage, 'unit'>>

interface Anchor {
  angle: Deg
  output: number
}

/** Anchors hold a curve, lightly, where the Moon does not go this month: without them it would run away there. */
function anchorsOf(station: Station, built: Built, axis: Axis, { unit }: Frames[Axis]): Anchor[] {
  const { minReading, maxReading, readout } = station.model[axis]
  return Array.from(
    { length: ANCHORS },
    (_, k) => minReading + ((maxReading - minReading) * k) / (ANCHORS - 1),
  ).flatMap(reading => {
    const at = trueAngle(station.model, built, axis, reading)
    const output = outputOfReading(readout, unit, reading)
    return at.kind === 'angle' && output !== null ? [{ angle: degFromRad(at.angle), output }] : []
  })
}

/** Least squares of one axis by itself: where to start. */
function startOf(shape: Shape, rows: readonly (Anchor & { weight: number })[]): number[] {
  const n = shape.start.length
  if (shape.basis === undefined || rows.length === 0) return [...shape.start]
  const H = { n, a: new Float64Array(n * n) }
  const g = new Float64Array(n)
  for (const { angle, output, weight } of rows) {
    const { row, value } = shape.basis(angle, output)
    const w = weight * weight
    for (let i = 0; i < n; i++) {
      g[i]! += w * row[i]! * value
      for (let j = 0; j < n; j++) H.a[n * i + j]! += w * row[i]! * row[j]!
    }
  }
  ridged(H, 1e-12)
  return Array.from(solvePositive(H, g) ?? shape.start)
}

/** A tiny ridge toward no change: an axis that hardly moves leaves its slope undetermined. */
function ridged(H: { n: number; a: Float64Array }, share: number): void {
  let most = 0
  for (let i = 0; i < H.n; i++) most = Math.max(most, H.a[i * H.n + i]!)
  for (let i = 0; i < H.n; i++) H.a[i * H.n + i]! += share * most + 1e-30
}

/** True angle per output, rad per degree or count; null outside a triangle. */
function trueFor(station: Station, built: Built, axis: Axis, unit: AxisPage['unit'], output: number) {
  const { readout } = station.model[axis]
  const reading = readingOfOutput(readout, unit, output)
  if (reading === null) return null
  const at = trueAngle(station.model, built, axis, reading)
  if (at.kind !== 'angle') return null
  if (unit === 'counts' || readout.type === 'degrees') return { angle: at.angle, per: at.perReading }
  const entered = angleFromReading(readout, reading)
  return entered.kind === 'angle'
    ? { angle: at.angle, per: (at.perReading / entered.perReading) * radFromDeg(1) }
    : null
}

/**
 * @param angles  what the program makes of each point, or null
 * @returns       the numbers of both shapes
 */
export function fitted(
  station: Station,
  built: Built,
  points: readonly SkyPoint[],
  angles: readonly (Angles | null)[],
  frames: Frames,
  shapes: Both<Shape>,
): Both<number[]> {
  const { model } = station
  const every = Math.max(1, Math.floor(points.length / ENOUGH))
  const rows = points.flatMap((p, k) => {
    const at = angles[k]
    if (k % every !== 0 || !at) return []
    const isSame = (axis: Axis) => Math.abs(at[axis] - degFromRad(axis === 'lower' ? p.reach.T : p.reach.S)) < SAME_POSE
    const lower = outputOfReading(model.lower.readout, frames.lower.unit, p.reach.lower)
    const upper = outputOfReading(model.upper.readout, frames.upper.unit, p.reach.upper)
    return isSame('lower') && isSame('upper') && lower !== null && upper !== null
      ? [{ direction: p.moon.direction, at, lower, upper, T: degFromRad(p.reach.T), S: degFromRad(p.reach.S) }]
      : []
  })
  /** Where what the program makes of the sky is the mount's own angle, about. */
  const isNear = (axis: Axis): boolean =>
    rows.reduce((a, r) => a + Math.abs(r.at[axis] - r[axis === 'lower' ? 'T' : 'S']), 0) < FAR * rows.length
  const anchors: Both<Anchor[]> = { lower: [], upper: [] }
  for (const axis of AXES)
    if (shapes[axis].start.length > 2 && isNear(axis)) anchors[axis] = anchorsOf(station, built, axis, frames[axis])
  // All anchors together weigh a share `ANCHORED` of the path's own rows.
  const weight = Math.sqrt((ANCHORED * rows.length) / ANCHORS)
  const start = (axis: Axis): number[] =>
    startOf(shapes[axis], [
      ...rows.map(r => ({ angle: r.at[axis], output: r[axis], weight: 1 })),
      ...anchors[axis].map(at => ({ ...at, weight })),
    ])
  const chain = chainOf(model, built, 'beam')
  const turns = new Float64Array(3 * SLOTS)
  const counts = { lower: shapes.lower.start.length, upper: shapes.upper.start.length }
  const n = counts.lower + counts.upper

  /** Cost and its quadratic form at some numbers. */
  const lookAt = (p: Both<number[]>): { cost: number; H: { n: number; a: Float64Array }; g: Float64Array } => {
    const H = { n, a: new Float64Array(n * n) }
    const g = new Float64Array(n)
    let cost = 0
    const put = (miss: number, row: readonly number[]) => {
      cost += miss * miss
      for (let i = 0; i < n; i++) {
        g[i]! += row[i]! * miss
        for (let j = 0; j < n; j++) H.a[n * i + j]! += row[i]! * row[j]!
      }
    }
    const none = { lower: new Array<number>(counts.lower).fill(0), upper: new Array<number>(counts.upper).fill(0) }
    for (const { direction, at } of rows) {
      const [lower, upper] = AXES.map(axis => {
        const out = shapes[axis].at(at[axis], p[axis])
        const to = out && trueFor(station, built, axis, frames[axis].unit, out.output)
        return out && to && { ...to, by: out.by }
      })
      if (!lower || !upper) {
        cost += LOST
        continue
      }
      const pose = turningPoseIn(chain, lower.angle, upper.angle, turns)
      const miss = offsetGradients(pose, direction)
      for (const [m, gradient] of [
        [miss.right, miss.gx],
        [miss.up, miss.gy],
      ] as const) {
        const l = dot(gradient, pose.lowerTurn) * lower.per
        const u = dot(gradient, pose.upperTurn) * upper.per
        put(m, [...lower.by.map(b => l * b), ...upper.by.map(b => u * b)])
      }
    }
    for (const axis of AXES)
      for (const { angle, output } of anchors[axis]) {
        const out = shapes[axis].at(angle, p[axis])
        const to = out && trueFor(station, built, axis, frames[axis].unit, output)
        if (!out || !to) {
          cost += weight * weight * LOST
          continue
        }
        const by = out.by.map(b => weight * to.per * b)
        put(weight * to.per * (out.output - output), axis === 'lower' ? [...by, ...none.upper] : [...none.lower, ...by])
      }
    return { cost, H, g }
  }

  let p: Both<number[]> = { lower: start('lower'), upper: start('upper') }
  let at = lookAt(p)
  let damping = 1e-10
  for (let pass = 0; pass < PASSES; pass++) {
    const H = { n, a: Float64Array.from(at.H.a) }
    ridged(H, damping)
    const step = solvePositive(H, at.g)
    if (step === null) break
    const next = {
      lower: p.lower.map((x, i) => x - step[i]!),
      upper: p.upper.map((x, i) => x - step[counts.lower + i]!),
    }
    const there = lookAt(next)
    if (there.cost < at.cost) {
      const isDone = at.cost - there.cost < 1e-7 * at.cost
      p = next
      at = there
      if (isDone) break
      damping = Math.max(1e-10, damping / 100)
    } else {
      if (damping > 1) break
      damping = Math.max(1e-6, damping * 100)
    }
  }
  return p
}
