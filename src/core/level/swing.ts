/**
 * An axis's elevation by swinging. A phone fastened anywhere on the moving part sees the vertical run on a circle about
 * the axis n: up · n = sin(elevation) in every position. Phone frame and radians.
 *
 * A sensor's own bias b moves the found elevation by (b · n) cos(elevation) and nothing else of first order: what lies
 * across n only turns n. A second clamping with n pointing the other way in the phone's frame therefore removes it.
 * n is found up to its sign; the readings decide it. Source of the circle: plain geometry; of the bias: this file's test.
 */
import { wrapPi } from '../angles.ts'
import { chiSquare99 } from '../chance.ts'
import { inverse3, inversePositive, square } from '../matrices.ts'
import { type Rad, radFromDeg } from '../units.ts'
import { add, cross, dot, norm, scale, sub, unit, type Vec3 } from '../vectors.ts'
import { type PhoneReading, stepLeft } from './phone.ts'
import { SENSOR_BIAS, type Spread } from './sigma.ts'

export interface SwingPosition {
  /** The axis angle that the readout makes of the reading; only its order counts here. */
  turn: Rad
  /** Any length. */
  up: Vec3<'Phone'>
}

export type Swing =
  | Swung
  /** Positions of one clamping that differ in their reading; three are needed. */
  | { kind: 'too-few'; clamping: number; have: number; need: 3 }
  /**
   * What is known so far is too loose. @property needed  arc, with as many positions evenly over it; null where even half
   * a turn is not enough
   */
  | { kind: 'too-small-arc'; clamping: number; arc: Rad; needed: Rad | null; elevation: Rad; sigma: Rad }
  /** The tilt went back where the reading went on. @property position  index in its clamping */
  | { kind: 'out-of-order'; clamping: number; position: number }

export interface Swung {
  kind: 'swung'
  /** Of the named end, + up; of the end that points up where `nearVertical`. */
  elevation: Rad
  sigma: Rad
  /** The part of σ that more positions reduce, and the part that only a second clamping reduces. */
  noise: Rad
  bias: Rad
  /** Within 10° of vertical: gravity hardly moves in the phone, so nothing is said about angles between positions. */
  nearVertical: boolean
  /** Root mean square of what is left, n - 3 in the denominator; null with three positions, which always fit. */
  misfit: Rad | null
  /** True where the misfit is larger than the stated noise gives by chance once in 100; σ is then enlarged. */
  misfits: boolean
  clampings: SwungClamping[]
}

interface SwungClamping {
  /** Unit vector along the axis toward its named end. */
  axis: Vec3<'Phone'>
  elevation: Rad
  arc: Rad
  /** Turned since the first position, in the sense of the readings; null for a near-vertical axis. */
  turned: Rad[] | null
  /** 1 σ of each of them by itself: noise and rounding. */
  turnedSigma: Rad
  /** How each turned angle moves with the sensor's bias (per rad along x, y, z), and with what is left open of `axis`. */
  perBias: Vec3<'Phone'>[]
  perAxis: [cos: number, sin: number][]
  axisSigma: Rad
}

const NEAR_VERTICAL: Rad = radFromDeg(80)
/** Above this, 1 σ without the bias, a swing is too small to be kept. */
const MOST_NOISE: Rad = radFromDeg(0.5)
/** Positions nearer than this are one. */
const SAME_TURN: Rad = radFromDeg(0.2)

/** A phone that stays clamped trembles less than one put down again; creep and wind show in the misfit. An estimate. */
const CLAMPED_NOISE: Rad = radFromDeg(0.02)

/** Noise and step of one position, from what the phone did at each; mean squares. @param readings  at least one */
export function spreadOfReadings(readings: readonly Pick<PhoneReading, 'noise' | 'spread' | 'step'>[]): {
  noise: Rad
  step: Rad
} {
  const mean = (of: (r: (typeof readings)[number]) => Rad): Rad =>
    Math.sqrt(readings.reduce((s, r) => s + of(r) ** 2, 0) / readings.length)
  return {
    noise: Math.max(
      CLAMPED_NOISE,
      mean(r => r.noise),
    ),
    step: mean(r => stepLeft(r.step, r.spread)),
  }
}

interface Circle {
  n: Vec3<'Phone'>
  rho: Rad
  /** Of the distances from n, per σ² of one position: of rho alone, and of n (the larger way). */
  growth: number
  axisGrowth: number
  /** Angles about n, right-handed. */
  theta: Rad[]
  sumOfSquares: number
}

/**
 * The circle through unit vectors: the plane u · n = c that leaves the least squares; null where they do not make one. By
 * the plane and not by arcs, because it has one minimum and holds where a near-vertical axis leaves a circle of few degrees.
 */
function circleThrough(ups: readonly Vec3<'Phone'>[]): Circle | null {
  const a = ups[0]!
  const b = farthest(ups, u => norm(sub(u, a)))
  const c = farthest(ups, u => norm(cross(sub(b, a), sub(u, a))))
  const start = cross(sub(b, a), sub(c, a))
  if (!(norm(start) > 1e-9)) return null
  const middle = scale(
    ups.reduce((s, u) => add(s, u), [0, 0, 0] as Vec3<'Phone'>),
    1 / ups.length,
  )
  const off = ups.map(u => sub(u, middle))
  const size = off.reduce((s, d) => s + dot(d, d), 0)
  // The direction of least spread, by inverse iteration; the last three rows keep an exact plane invertible.
  const tiny = 1e-7 * Math.sqrt(size)
  const inverse = inverse3([...(off as unknown as Vec3[]), [tiny, 0, 0], [0, tiny, 0], [0, 0, tiny]])
  if (inverse === null) return null
  let n = unit(start)
  for (let round = 0; round < 60; round++) {
    const next = unit(inverse.map(row => dot(row, n as unknown as Vec3)) as unknown as Vec3<'Phone'>)
    const moved = norm(sub(next, n))
    n = next
    if (moved < 1e-15) break
  }
  const height = Math.max(-1, Math.min(1, dot(middle, n)))
  const rho = Math.acos(height)
  const [c1, c2] = across(n)
  // Seen from n the arcs are rho + cos θ e1 + sin θ e2 when n is e off.
  const growths = inverse3(ups.map(u => rowOf(u, c1, c2)))
  if (growths === null) return null
  const mean = (growths[1][1] + growths[2][2]) / 2
  return {
    n,
    rho,
    growth: growths[0][0],
    axisGrowth: mean + Math.hypot((growths[1][1] - growths[2][2]) / 2, growths[1][2]),
    theta: ups.map(u => Math.atan2(dot(u, c2), dot(u, c1))),
    sumOfSquares: ups.reduce((s, u) => s + (dot(u, n) - height) ** 2, 0) / Math.max(1e-12, 1 - height * height),
  }
}

const farthest = (ups: readonly Vec3<'Phone'>[], by: (u: Vec3<'Phone'>) => number): Vec3<'Phone'> =>
  ups.reduce((best, u) => (by(u) > by(best) ? u : best))

/** Two unit vectors that make a right-handed frame (c1, c2, n). */
function across(n: Vec3<'Phone'>): [Vec3<'Phone'>, Vec3<'Phone'>] {
  const least: Vec3<'Phone'> =
    Math.abs(n[0]) <= Math.abs(n[1]) && Math.abs(n[0]) <= Math.abs(n[2])
      ? [1, 0, 0]
      : Math.abs(n[1]) <= Math.abs(n[2])
        ? [0, 1, 0]
        : [0, 0, 1]
  const c1 = unit(cross(n, least))
  return [c1, cross(n, c1)]
}

function rowOf(u: Vec3<'Phone'>, c1: Vec3<'Phone'>, c2: Vec3<'Phone'>): Vec3 {
  const [x, y] = [dot(u, c1), dot(u, c2)]
  const r = Math.hypot(x, y) || 1
  return [1, x / r, y / r]
}

/** The arc over which this many positions, evenly spaced, bring the noise of the elevation below the bound, rad; null beyond half a turn. */
export function arcNeeded(positions: number, sigmaOne: Rad): Rad | null {
  for (let deg = 10; deg <= 180; deg += 5) {
    const arc = radFromDeg(deg)
    const rows = Array.from({ length: positions }, (_, k): Vec3 => {
      const t = arc * (k / (positions - 1) - 0.5)
      return [1, Math.cos(t), Math.sin(t)]
    })
    const inverse = inverse3(rows)
    if (inverse !== null && Math.sqrt(inverse[0][0]) * sigmaOne <= MOST_NOISE) return arc
  }
  return null
}

/**
 * @param clampings  positions of each way in which the phone was fastened; the first position of each is its zero
 * @param sense      +1 where the axis turns right-handed about its named end when the angle grows, else -1
 * @param spread     of one position: noise and step of the up vector; bias of the sensor on each of its axes
 * @throws RangeError  no clamping; an up vector without length
 */
export function swingAxis(
  clampings: readonly (readonly SwingPosition[])[],
  sense: 1 | -1,
  spread: Spread = { noise: radFromDeg(0.05), step: radFromDeg(0.1), bias: SENSOR_BIAS },
): Swing {
  if (clampings.length === 0) throw new RangeError('swingAxis: needs at least one clamping')
  const stated = Math.sqrt(spread.noise ** 2 + spread.step ** 2 / 12)
  const found: { circle: Circle; clamping: SwungClamping }[] = []
  let [squares, dof] = [0, 0]
  for (const [index, positions] of clampings.entries()) {
    const turns = positions.map(p => p.turn).sort((a, b) => a - b)
    const have = turns.filter((t, k) => k === 0 || t - turns[k - 1]! > SAME_TURN).length
    if (have < 3) return { kind: 'too-few', clamping: index, have, need: 3 }
    const ups = positions.map(p => unit(p.up))
    const circle = circleThrough(ups)
    const small = (arc: Rad, elevation: Rad, sigma: Rad): Swing => {
      const needed = arcNeeded(positions.length, stated)
      return { kind: 'too-small-arc', clamping: index, arc, needed, elevation, sigma }
    }
    if (circle === null) return small(0, 0, Math.PI / 2)
    const oriented = orient(circle, positions, sense, stated)
    if (typeof oriented === 'number') return { kind: 'out-of-order', clamping: index, position: oriented }
    const sigma = Math.sqrt(circle.growth) * stated
    if (sigma > MOST_NOISE) return small(oriented.arc, oriented.elevation, sigma)
    found.push({ circle, clamping: oriented })
    squares += circle.sumOfSquares
    dof += positions.length - 3
  }
  const misfits = dof > 0 && squares > chiSquare99(dof) * stated ** 2
  const noise = misfits ? Math.sqrt(Math.max(0, squares / dof - spread.step ** 2 / 12)) : spread.noise
  const joined = join(found, { ...spread, noise })
  const cosEl = Math.cos(joined.elevation)
  const nearVertical = Math.abs(joined.elevation) > NEAR_VERTICAL
  for (const { clamping, circle } of found) {
    const one = Math.sqrt(noise ** 2 + spread.step ** 2 / 12)
    clamping.turnedSigma = one / Math.max(1e-6, cosEl)
    clamping.axisSigma = Math.sqrt(circle.axisGrowth) * one
    if (nearVertical) clamping.turned = null
  }
  return {
    kind: 'swung',
    ...joined,
    nearVertical,
    misfit: dof > 0 ? Math.sqrt(squares / dof) : null,
    misfits,
    clampings: found.map(f => f.clamping),
  }
}

/** The circle with its axis toward the named end; or the index of a position whose tilt went back. */
function orient(
  circle: Circle,
  positions: readonly SwingPosition[],
  sense: 1 | -1,
  sigmaOne: Rad,
): SwungClamping | number {
  const order = positions.map((_, k) => k).sort((a, b) => positions[a]!.turn - positions[b]!.turn)
  // About +n; the vertical turns backward in a phone that turns forward.
  const steps = order.slice(1).map((k, i) => -sense * wrapPi(circle.theta[k]! - circle.theta[order[i]!]!))
  const sinRho = Math.sin(circle.rho)
  const steep = Math.abs(Math.cos(circle.rho)) > Math.sin(NEAR_VERTICAL)
  const total = steps.reduce((s, d) => s + d, 0)
  const sign = steep ? (Math.cos(circle.rho) >= 0 ? 1 : -1) : total >= 0 ? 1 : -1
  if (!steep) {
    const room = (3 * Math.SQRT2 * sigmaOne) / Math.max(1e-6, sinRho) + radFromDeg(1)
    const back = steps.findIndex(d => sign * d < -room)
    if (back >= 0) return order[back + 1]!
  }
  const turnedOf = new Map<number, Rad>([[order[0]!, 0]])
  steps.forEach((d, i) => {
    turnedOf.set(order[i + 1]!, turnedOf.get(order[i]!)! + sign * d)
  })
  const all = [...turnedOf.values()]
  const axis = scale(circle.n, sign)
  const elevation = sign * (Math.PI / 2 - circle.rho)
  const cosEl = Math.cos(elevation)
  const tangents = positions.map(p => {
    // Toward where the vertical goes when the axis turns forward.
    const along = scale(cross(axis, unit(p.up)), -sense)
    return norm(along) > 0 ? unit(along) : along
  })
  return {
    axis,
    elevation,
    arc: Math.max(...all) - Math.min(...all),
    turned: positions.map((_, k) => turnedOf.get(k)! - turnedOf.get(0)!),
    turnedSigma: 0,
    perBias: tangents.map(t => scale(t, cosEl)),
    perAxis: circle.theta.map(t => [Math.cos(t) * Math.tan(elevation), Math.sin(t) * Math.tan(elevation)]),
    axisSigma: 0,
  }
}

/** One elevation from all clampings, the sensor's bias unknown with its σ on each of its three axes. */
function join(
  found: readonly { circle: Circle; clamping: SwungClamping }[],
  spread: Spread,
): Pick<Swung, 'elevation' | 'sigma' | 'noise' | 'bias'> {
  const first = found[0]!.clamping.elevation
  const cosEl = Math.cos(first)
  // Variances and covariances of the clampings' elevations.
  const m = found.length
  const v = square(m)
  const rounding = spread.step ** 2 / 12
  // Rounding is never made smaller by taking more positions; two clampings round different values.
  const own = found.map(
    ({ circle }) => circle.growth * spread.noise ** 2 + Math.max(1, circle.growth) * rounding + 1e-18,
  )
  for (let i = 0; i < m; i++)
    for (let j = 0; j < m; j++) {
      const shared = (spread.bias * cosEl) ** 2 * dot(found[i]!.clamping.axis, found[j]!.clamping.axis)
      v.a[i * m + j] = shared + (i === j ? own[i]! : 0)
    }
  const inverse = inversePositive(v)
  const weights = found.map((_, i) => found.reduce((s, __, j) => s + inverse.a[i * m + j]!, 0))
  const sum = weights.reduce((s, w) => s + w, 0)
  const w = weights.map(x => x / sum)
  const elevation = found.reduce((s, f, i) => s + w[i]! * f.clamping.elevation, 0)
  const noise = Math.sqrt(own.reduce((total, variance, i) => total + w[i]! ** 2 * variance, 0))
  const along = found.reduce((s, f, i) => add(s, scale(f.clamping.axis, w[i]!)), [0, 0, 0] as Vec3<'Phone'>)
  const bias = spread.bias * cosEl * norm(along)
  return { elevation, sigma: Math.hypot(noise, bias), noise, bias }
}
