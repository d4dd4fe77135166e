/**
 * The pointing error with confidence: one mount stands there and not an average of mounts, so 400 mounts are drawn from
 * the posterior and each is followed over the Moon's path. Radians; the draws have a fixed seed.
 */
import { SLOTS } from '../mount/slots.ts'
import { MOON_PATH_STEP_MS } from '../sky/moonpath.ts'
import type { Rad } from '../units.ts'
import type { SkyPoint } from './skypoint.ts'

export interface ConfidentError {
  /** Nine chances in ten that 95 % of the points have less than this. */
  p95: Rad
  /** As likely as not that 95 % of the points have less than this. */
  p95Typical: Rad
  /** Nine chances in ten that no point has more than this. */
  worst: Rad
}

const DRAWS = 400
const CONFIDENCE = 0.9
/** A point every two hours is enough; a short sky keeps more of its points. */
const EVERY = 4
const FEWEST = 60
const POOL = 8192
const NONE: ConfidentError = { p95: 0, p95Typical: 0, worst: 0 }

/** Normal deviates by mulberry32 and Box-Muller: the same on every machine. */
function normals(count: number, seed: number): Float64Array {
  let a = seed
  const next = (): number => {
    a = (a + 0x6d2b79f5) | 0
    let t = Math.imul(a ^ (a >>> 15), 1 | a)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
  const out = new Float64Array(count)
  for (let k = 0; k < count; k += 2) {
    const size = Math.sqrt(-2 * Math.log(1 - next()))
    const turn = 2 * Math.PI * next()
    out[k] = size * Math.cos(turn)
    out[k + 1] = size * Math.sin(turn)
  }
  return out
}

/** Made at the first use: one row of SLOTS deviates a draw, and a pool for the floor. */
let chances: { slots: Float64Array; floor: Float64Array } | null = null

/** Lower triangle L with L Lᵀ = C (m × m, semidefinite); a direction without spread gives a column of zeros. */
function factor(C: Float64Array, m: number): Float64Array {
  const L = new Float64Array(m * m)
  for (let j = 0; j < m; j++) {
    let d = C[j * m + j]!
    for (let k = 0; k < j; k++) d -= L[j * m + k]! ** 2
    if (!(d > 1e-13 * C[j * m + j]!)) continue
    const root = Math.sqrt(d)
    L[j * m + j] = root
    for (let i = j + 1; i < m; i++) {
      let x = C[i * m + j]!
      for (let k = 0; k < j; k++) x -= L[i * m + k]! * L[j * m + k]!
      L[i * m + j] = x / root
    }
  }
  return L
}

/** J L of the points: 2 rows of m a point, m the slots that have a spread. */
function spreads(points: readonly SkyPoint[], C: Float64Array): { A: Float64Array; m: number } {
  const active: number[] = []
  for (let s = 0; s < SLOTS; s++) if (C[s * SLOTS + s]! > 0) active.push(s)
  const m = active.length
  const small = new Float64Array(m * m)
  for (let i = 0; i < m; i++) for (let j = 0; j < m; j++) small[i * m + j] = C[active[i]! * SLOTS + active[j]!]!
  const L = factor(small, m)
  const A = new Float64Array(2 * points.length * m)
  for (let k = 0; k < points.length; k++) {
    const { partials } = points[k]!
    for (let row = 0; row < 2; row++)
      for (let i = 0; i < m; i++) {
        const x = partials[row * SLOTS + active[i]!]!
        if (x === 0) continue
        for (let j = 0; j <= i; j++) A[(2 * k + row) * m + j]! += x * L[i * m + j]!
      }
  }
  return { A, m }
}

/** 95th percentile (nearest rank) and largest of each draw; of both, what holds nine times in ten and half the time. */
class Tally {
  private readonly p95 = new Float64Array(DRAWS)
  private readonly worst = new Float64Array(DRAWS)
  /** The largest squares of this draw, in order; the last of them is the 95th percentile. */
  private readonly top: Float64Array
  private most = 0
  constructor(readonly count: number) {
    this.top = new Float64Array(Math.max(1, count - Math.ceil(0.95 * count) + 1))
  }
  /** @param counts  false: for the worst only */
  add(square: number, counts: boolean): void {
    if (square > this.most) this.most = square
    const { top } = this
    let i = top.length - 1
    if (!counts || !(square > top[i]!)) return
    for (; i > 0 && square > top[i - 1]!; i--) top[i] = top[i - 1]!
    top[i] = square
  }
  keep(draw: number): void {
    this.p95[draw] = this.top[this.top.length - 1]!
    this.worst[draw] = this.most
    this.top.fill(0)
    this.most = 0
  }
  answer(): ConfidentError {
    const at = (sorted: Float64Array, share: number): Rad => Math.sqrt(sorted[Math.ceil(share * DRAWS) - 1]!)
    this.p95.sort()
    this.worst.sort()
    return { p95: at(this.p95, CONFIDENCE), p95Typical: at(this.p95, 0.5), worst: at(this.worst, CONFIDENCE) }
  }
}

/** First and last point of every pass: the error is largest where the reach ends, and one in four would miss it. */
const endsOf = (points: readonly SkyPoint[]): SkyPoint[] =>
  points.filter((p, k) => {
    const isNext = (a: SkyPoint | undefined, b: SkyPoint | undefined) =>
      a !== undefined && b !== undefined && b.moon.utcMs - a.moon.utcMs <= MOON_PATH_STEP_MS
    return !isNext(points[k - 1], p) || !isNext(p, points[k + 1])
  })

/**
 * Errors after correction and before, over a set of points.
 *
 * @param points  all of them, in order of time; every fourth is followed where there are many, the ends of the passes too
 *                for the worst
 * @param C       SLOTS × SLOTS covariance of the mount, as scaled by the misfit
 * @param floor   rms on the sky of what no fit takes away; drawn for every point, both ways alike
 */
export function drawnErrors(
  points: readonly SkyPoint[],
  C: Float64Array,
  floor: Rad,
): { after: ConfidentError; before: ConfidentError } {
  if (points.length === 0) return { after: NONE, before: NONE }
  const every = Math.max(1, Math.min(EVERY, Math.floor(points.length / FEWEST)))
  const counted = points.filter((_, k) => k % every === 0)
  const followed = every === 1 ? counted : [...counted, ...endsOf(points)]
  chances ??= { slots: normals(DRAWS * SLOTS, 20_260_501), floor: normals(POOL, 20_260_502) }
  const { slots: chance, floor: jitter } = chances
  const { A, m } = spreads(followed, C)
  const after = new Tally(counted.length)
  const before = new Tally(counted.reduce((a, p) => a + (p.before === null ? 0 : 1), 0))
  const sigma = floor / Math.SQRT2
  let turn = 0
  for (let draw = 0; draw < DRAWS; draw++) {
    const z = draw * SLOTS
    for (let k = 0; k < followed.length; k++) {
      let x = sigma * jitter[turn]!
      let y = sigma * jitter[turn + 1]!
      turn = (turn + 2) % POOL
      const o = 2 * k * m
      for (let j = 0; j < m; j++) {
        const c = chance[z + j]!
        x += A[o + j]! * c
        y += A[o + m + j]! * c
      }
      after.add(x * x + y * y, k < counted.length)
      const off = followed[k]!.before
      if (off !== null) before.add((x + off[0]) ** 2 + (y + off[1]) ** 2, k < counted.length)
    }
    // Not in step with the pool: the next draw begins elsewhere in it.
    turn = (turn + 2 * draw) % POOL
    after.keep(draw)
    before.keep(draw)
  }
  return { after: after.answer(), before: before.count > 0 ? before.answer() : NONE }
}
