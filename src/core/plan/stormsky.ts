/**
 * What a storm's move would cost over the Moon's sky, and what measurements say of one cause: its most likely size, how large a move as
 * large as the tolerance would stand out in them, and how large a one can still hide. Radians.
 */
import { skyPoints } from '../fit/skyerror.ts'
import { lowerTriangle, quadraticForm, type Square, square, substitute } from '../matrices.ts'
import { trueAngle } from '../mount/readings.ts'
import { type Built, SLOT, SLOTS } from '../mount/slots.ts'
import type { Feed, Station } from '../records/station.ts'
import { moonPath } from '../sky/moonpath.ts'
import type { Rad, UtcMs } from '../units.ts'
import { along, type MoveCause, READING, WAY_COUNT } from './stormmoves.ts'
import type { Evidence } from './stormrows.ts'

/** The Moon's path by which a move is judged: a point every 2 h, at most `MOST_POINTS` of them. */
const EVERY = 4
const MOST_POINTS = 90

/** 2 × WAY_COUNT partials by point. */
export type StormSky = Float64Array[]

export function stormSky(station: Station, feed: Feed, built: Built, now: UtcMs): StormSky {
  const path = moonPath(station.site, now).filter((_, k) => k % EVERY === 0)
  const points = skyPoints(station, feed, built, path)
  const step = Math.max(1, Math.ceil(points.length / MOST_POINTS))
  return points
    .filter((_, k) => k % step === 0)
    .map(({ partials, reach }) => {
      const out = new Float64Array(2 * WAY_COUNT)
      const per = (axis: 'lower' | 'upper'): number => {
        const at = trueAngle(station.model, built, axis, reach[axis])
        return at.kind === 'angle' ? at.perReading : 0
      }
      const [lower, upper] = [per('lower'), per('upper')]
      for (let row = 0; row < 2; row++) {
        for (let k = 0; k < SLOTS; k++) out[row * WAY_COUNT + k] = partials[row * SLOTS + k]!
        out[row * WAY_COUNT + READING.lower] = partials[row * SLOTS + SLOT.lowerZero]! * lower
        out[row * WAY_COUNT + READING.upper] = partials[row * SLOTS + SLOT.upperZero]! * upper
      }
      return out
    })
}

/** A cause over the sky: its partials along its own ways, and the mean square form of them. */
export interface CauseSky {
  cause: MoveCause
  /** One point after the other: right by way, then up by way. */
  points: Float64Array
  M: Square
  /** What one σ of each way costs alone. */
  alone: Rad[]
}

export function causeSky(cause: MoveCause, sky: StormSky): CauseSky {
  const d = cause.ways.length
  const M = square(d)
  const points = Float64Array.from(sky.flatMap(p => [...along(cause, p), ...along(cause, p, WAY_COUNT)]))
  for (let o = 0; o < points.length; o += 2 * d)
    for (let i = 0; i < d; i++)
      for (let j = 0; j < d; j++) {
        const [right, up] = [points[o + i]! * points[o + j]!, points[o + d + i]! * points[o + d + j]!]
        M.a[i * d + j]! += (right + up) / sky.length
      }
  const out: CauseSky = { cause, points, M, alone: [] }
  out.alone = cause.ways.map((w, i) =>
    p95Of(
      out,
      cause.ways.map((_, k) => (k === i ? w.sigma : 0)),
    ),
  )
  return out
}

// The few largest squares, in order: written over by each call, since there are thousands of them.
const largest = new Float64Array(MOST_POINTS)

/** 95 % of the Moon's sky loses less than this by a move along a cause's ways; nearest rank. */
export function p95Of({ points }: CauseSky, by: ArrayLike<number>): Rad {
  const d = by.length
  const count = points.length / (2 * d)
  if (count === 0) return 0
  const last = count - Math.ceil(0.95 * count)
  largest.fill(0, 0, last + 1)
  for (let o = 0; o < points.length; o += 2 * d) {
    let x = 0
    let y = 0
    for (let i = 0; i < d; i++) {
      x += points[o + i]! * by[i]!
      y += points[o + d + i]! * by[i]!
    }
    const square = x * x + y * y
    if (square <= largest[0]!) continue
    let k = 0
    while (k < last && largest[k + 1]! < square) {
      largest[k] = largest[k + 1]!
      k++
    }
    largest[k] = square
  }
  return Math.sqrt(largest[0]!)
}

/** What evidence says of one cause. */
export interface CauseEvidence {
  /** Most likely move by way, and its covariance; the storm's own σ in both. */
  by: Float64Array
  covariance: Square
  /** By how much it lowers χ², and the same less what its freedom costs: -2 ln of how likely the data are, against nothing moved. */
  deltaChi2: number
  evidence: number
}

export function causeEvidence(cause: MoveCause, e: Evidence): CauseEvidence {
  const d = cause.ways.length
  const H = information(cause, e)
  const g = Float64Array.from(along(cause, e.g))
  const L = lowerTriangle(H)
  const by = solved(L, d, g)
  let deltaChi2 = 0
  for (let i = 0; i < d; i++) deltaChi2 += by[i]! * g[i]!
  const covariance = square(d)
  for (let j = 0; j < d; j++) {
    const column = solved(
      L,
      d,
      Float64Array.from({ length: d }, (_, i) => (i === j ? 1 : 0)),
    )
    for (let i = 0; i < d; i++) covariance.a[i * d + j] = column[i]!
  }
  // ln det of the posterior against the prior: what the freedom to fit costs.
  let freedom = 0
  for (let i = 0; i < d; i++) freedom += 2 * Math.log(L[i * d + i]!)
  for (const w of cause.ways) freedom += 2 * Math.log(w.sigma)
  return { by, covariance, deltaChi2, evidence: deltaChi2 - freedom }
}

/** The information of a cause along its ways, with the storm's own σ. */
export function information(cause: MoveCause, { F }: { F: Float64Array }): Square {
  const d = cause.ways.length
  const H = square(d)
  const columns = cause.ways.map((_, i) => {
    const out = new Float64Array(WAY_COUNT)
    for (let k = 0; k < WAY_COUNT; k++)
      for (const [l, per] of cause.ways[i]!.parts) out[k]! += per * F[k * WAY_COUNT + l]!
    return out
  })
  for (let j = 0; j < d; j++) {
    const column = along(cause, columns[j]!)
    for (let i = 0; i < d; i++) H.a[i * d + j] = column[i]!
    H.a[j * d + j]! += cause.ways[j]!.sigma ** -2
  }
  return H
}

function solved(L: Float64Array, n: number, b: Float64Array): Float64Array {
  const x = b.slice()
  substitute(n, L, x)
  return x
}

/**
 * At how many σ a move of this cause as large as the tolerance stands out, in the direction in which it hides best: the greatest
 * sky error that the evidence allows, by the power method on H⁻¹ M; each way alone besides.
 */
export function standsOut(sky: CauseSky, H: Square, tolerance: Rad): number {
  const d = H.n
  const L = lowerTriangle(H)
  const at = (u: Float64Array): number => {
    const p95 = p95Of(sky, u)
    if (p95 === 0) return Infinity
    return (tolerance / p95) * Math.sqrt(Math.max(0, quadraticForm(H.a, d, u)))
  }
  let least = Infinity
  const own = Float64Array.from(sky.cause.ways, w => w.sigma)
  for (let i = 0; i < d; i++)
    if (sky.alone[i]! > 0) least = Math.min(least, (tolerance / sky.alone[i]!) * own[i]! * Math.sqrt(H.a[i * d + i]!))
  if (d === 1) return least
  let u = own
  for (let k = 0; k < 12; k++) {
    const next = solved(L, d, times(sky.M, u))
    const size = Math.hypot(...next.map((x, i) => x / own[i]!))
    if (!(size > 0)) break
    u = next.map(x => x / size)
  }
  return Math.min(least, at(u))
}

export function times({ n, a }: Square, u: Float64Array): Float64Array {
  const out = new Float64Array(n)
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) out[i]! += a[i * n + j]! * u[j]!
  return out
}

const DRAWS = 400
const MOST_WAYS = 6

/** Normal numbers with a fixed seed (mulberry32, Box and Muller): the same book gives the same verdict. */
const NORMALS = ((): Float64Array => {
  let a = 20_260_502
  const next = (): number => {
    a = (a + 0x6d2b79f5) | 0
    let t = Math.imul(a ^ (a >>> 15), 1 | a)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
  return Float64Array.from(
    { length: DRAWS * MOST_WAYS },
    () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
  )
})()

/** Sky errors of moves that go with the evidence, by draw. */
function skyOfDraws(sky: CauseSky, told: CauseEvidence): Float64Array {
  const d = told.by.length
  const L = lowerTriangle(told.covariance)
  const by = new Float64Array(d)
  const out = new Float64Array(DRAWS)
  // Along one way the sky error is as large as the move.
  const perUnit = d === 1 ? p95Of(sky, [1]) : 0
  for (let n = 0; n < DRAWS; n++) {
    for (let i = 0; i < d; i++) {
      by[i] = told.by[i]!
      for (let j = 0; j <= i; j++) by[i]! += L[i * d + j]! * NORMALS[n * MOST_WAYS + j]!
    }
    out[n] = d === 1 ? perUnit * Math.abs(by[0]!) : p95Of(sky, by)
  }
  return out
}

/** The sky error that a move of this cause stays below with 99 %. */
export function hides(sky: CauseSky, told: CauseEvidence): Rad {
  const all = skyOfDraws(sky, told).sort()
  return all[Math.ceil(0.99 * DRAWS) - 1]!
}

/** Share of the moves that go with the evidence and cost more than the tolerance. */
export const shareBeyond = (sky: CauseSky, told: CauseEvidence, tolerance: Rad): number =>
  skyOfDraws(sky, told).reduce((n, e) => n + (e > tolerance ? 1 : 0), 0) / DRAWS
