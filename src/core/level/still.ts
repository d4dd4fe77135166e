/**
 * A level is taken while the phone is still. Events come when the platform likes, and a phone that rests may send none: so
 * the last value is held and sampled by our own timer, and each sample counts for the time that it stood. A mean over
 * events would favour what moved. Up vectors in the Phone frame, radians, milliseconds of any monotonic clock.
 */
import { type Rad, radFromDeg } from '../units.ts'
import { add, cross, dot, norm, scale, unit, type Vec3 } from '../vectors.ts'
import { angleApart } from './upvector.ts'

export interface HeldStill {
  atMs: number
  up: Vec3<'Phone'>
}

export interface HeldMean {
  up: Vec3<'Phone'>
  /** 1 σ of the mean along one direction, from how its thirds differ. */
  noise: Rad
  /** 1 σ of one sample along one direction, a tap not counted. */
  spread: Rad
  ms: number
}

export type Stillness =
  /** Not enough samples yet. */
  { kind: 'gathering' } | { kind: 'moving' } | { kind: 'still'; forMs: number; mean: HeldMean }

/** A phone must be still this long before a reading is taken: fused angles settle in two to three seconds. */
export const HOLD_MS = 3000
/** What passes for still: a hand against steel trembles by less than this, a phone being laid on moves by more. */
export const QUIET: Rad = radFromDeg(0.4)
/** A longer gap between samples means that the page was asleep: samples before it no longer count. */
const GAP_MS = 600
/** This share of the time may be a tap: it swings the tilt by 2° for a fifth of a second. */
const TAP_SHARE = 0.15
const PARTS = 3
/** σ of a Gaussian over the median of its size. */
const MAD = 1.4826

/** How long each sample stood; the last one counts like the one before it. */
function weightsOf(samples: readonly HeldStill[]): number[] {
  const spans = samples.slice(1).map((s, i) => s.atMs - samples[i]!.atMs)
  return [...spans, spans.at(-1) ?? 1]
}

/** The value below which half (or `share`) of the time lies. */
function quantile(values: readonly number[], weights: readonly number[], share: number): number {
  const order = values.map((_, i) => i).sort((a, b) => values[a]! - values[b]!)
  const total = weights.reduce((a, w) => a + w, 0)
  let sum = 0
  for (const i of order) {
    sum += weights[i]!
    if (sum >= share * total) return values[i]!
  }
  return values[order.at(-1)!]!
}

const weightedMean = (samples: readonly HeldStill[], weights: readonly number[]): Vec3<'Phone'> =>
  unit(samples.reduce((a, s, i) => add(a, scale(s.up, weights[i]!)), [0, 0, 0] as Vec3<'Phone'>))

function medianUp(samples: readonly HeldStill[], weights: readonly number[]): Vec3<'Phone'> {
  const of = (k: 0 | 1 | 2) =>
    quantile(
      samples.map(s => s.up[k]),
      weights,
      0.5,
    )
  const middle: Vec3<'Phone'> = [of(0), of(1), of(2)]
  return norm(middle) > 0.5 ? unit(middle) : samples.at(-1)!.up
}

/** Two unit vectors square to u and to each other. */
function acrossOf(u: Vec3<'Phone'>): [Vec3<'Phone'>, Vec3<'Phone'>] {
  const a = unit(cross(u, Math.abs(u[0]) < 0.8 ? [1, 0, 0] : [0, 1, 0]))
  return [a, cross(u, a)]
}

/**
 * The mean of what was held: samples far from the median (a tap) are left out, the rest count by the time they stood.
 *
 * @param samples  at least one, in order of time
 * @param step     the rounding of the source, as an angle: a sample one step off is no tap
 */
export function heldMean(samples: readonly HeldStill[], step: Rad): HeldMean {
  if (samples.length === 0) throw new RangeError('heldMean: there must be at least one sample')
  const weights = weightsOf(samples)
  const middle = medianUp(samples, weights)
  const away = samples.map(s => angleApart(s.up, middle))
  const most = Math.max(4 * MAD * quantile(away, weights, 0.5), 1.5 * step, radFromDeg(0.05))
  const kept = samples.map((_, i) => away[i]! <= most)
  const own = samples.filter((_, i) => kept[i])
  const ownWeights = weights.filter((_, i) => kept[i])
  const up = weightedMean(own, ownWeights)
  const across = acrossOf(up)
  const total = ownWeights.reduce((a, w) => a + w, 0)
  const variance = (u: Vec3<'Phone'>) => (dot(u, across[0]) ** 2 + dot(u, across[1]) ** 2) / 2
  const spread = Math.sqrt(own.reduce((a, s, i) => a + ownWeights[i]! * variance(s.up), 0) / total)
  return { up, spread, noise: noiseOfMean(own, ownWeights, across), ms: samples.at(-1)!.atMs - samples[0]!.atMs }
}

/** How the means of the thirds of the time scatter about their own mean, over √3: trembling is slower than the samples. */
function noiseOfMean(own: readonly HeldStill[], weights: readonly number[], across: readonly Vec3<'Phone'>[]): Rad {
  const start = own[0]!.atMs
  const span = own.at(-1)!.atMs - start
  if (!(span > 0)) return 0
  const parts = Array.from({ length: PARTS }, () => ({ weight: 0, a: 0, b: 0 }))
  own.forEach((s, i) => {
    const part = parts[Math.min(PARTS - 1, Math.floor((PARTS * (s.atMs - start)) / span))]!
    part.weight += weights[i]!
    part.a += weights[i]! * dot(s.up, across[0]!)
    part.b += weights[i]! * dot(s.up, across[1]!)
  })
  const means = parts.filter(f => f.weight > 0).map(f => [f.a / f.weight, f.b / f.weight] as const)
  if (means.length < 2) return 0
  const varianceOf = (list: readonly number[]): number => {
    const mean = list.reduce((a, x) => a + x, 0) / list.length
    return list.reduce((a, x) => a + (x - mean) ** 2, 0) / (list.length - 1)
  }
  const variance = varianceOf(means.map(m => m[0])) + varianceOf(means.map(m => m[1]))
  return Math.sqrt(variance / 2 / means.length)
}

/** Still: most of the time near the median, and the second half where the first was. */
function isStill(samples: readonly HeldStill[], step: Rad): boolean {
  const weights = weightsOf(samples)
  const quiet = Math.max(QUIET, 1.2 * step)
  const middle = medianUp(samples, weights)
  const away = samples.map(s => angleApart(s.up, middle))
  if (quantile(away, weights, 1 - TAP_SHARE) > quiet) return false
  const half = Math.floor(samples.length / 2)
  const [a, b] = [samples.slice(0, half), samples.slice(half)]
  return half === 0 || angleApart(medianUp(a, weightsOf(a)), medianUp(b, weightsOf(b))) <= Math.max(quiet / 2, step)
}

/** What was sampled since the last gap. */
function sinceGap(samples: readonly HeldStill[]): readonly HeldStill[] {
  for (let i = samples.length - 1; i > 0; i--)
    if (samples[i]!.atMs - samples[i - 1]!.atMs > GAP_MS) return samples.slice(i)
  return samples
}

/**
 * Whether the phone is still: the longest still span up to now, in half seconds, at most HOLD_MS, with its mean.
 *
 * @param samples  the last seconds, in order of time
 */
export function stillness(samples: readonly HeldStill[], step: Rad): Stillness {
  const awake = sinceGap(samples)
  const last = awake.at(-1)
  if (last === undefined || last.atMs - awake[0]!.atMs < 450) return { kind: 'gathering' }
  for (let span = HOLD_MS; span >= 500; span -= 500) {
    // Our own timer is a little late now and then.
    const own = awake.filter(s => last.atMs - s.atMs <= span)
    if (own.length < 4 || last.atMs - own[0]!.atMs < span - 120) continue
    if (isStill(own, step)) return { kind: 'still', forMs: span, mean: heldMean(own, step) }
  }
  return { kind: 'moving' }
}

/** Further than a tap on the screen swings it: the phone was moved. */
const MOVED: Rad = radFromDeg(6)

/** The last samples, as long as they stood where the last one did. */
function runAtEnd(samples: readonly HeldStill[], quiet: Rad): readonly HeldStill[] {
  const last = samples.at(-1)
  if (last === undefined) return []
  let from = samples.length - 1
  while (from > 0 && angleApart(samples[from - 1]!.up, last.up) <= quiet) from--
  return samples.slice(from)
}

/**
 * What counts when a person says "now": what stood before the tap that says so, which shakes the phone, unless the phone
 * was moved since; then its last attitude. Samples of another attitude are left out.
 *
 * @param samples  the last seconds, in order of time
 * @param endMs    when the tap began to shake it
 * @returns        samples, none where there are none
 */
export function heldBefore(samples: readonly HeldStill[], endMs: number, step: Rad): readonly HeldStill[] {
  const quiet = Math.max(2 * QUIET, 1.5 * step)
  const before = runAtEnd(
    samples.filter(s => s.atMs <= endMs),
    quiet,
  )
  const [there, now] = [before.at(-1), samples.at(-1)]
  if (there !== undefined && now !== undefined && angleApart(there.up, now.up) <= MOVED) return before
  return runAtEnd(samples, quiet)
}

const GRID = [1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001]
/** With fewer different values a grid may be chance. */
const ENOUGH = 4

/**
 * The step that a source rounds to, from the values that it showed: the widest grid that all of them stand on, else the
 * smallest difference between two. Null with too few different values to tell.
 */
export function seenStep(values: readonly number[]): number | null {
  const distinct = [...new Set(values)].sort((a, b) => a - b)
  if (distinct.length < ENOUGH) return null
  for (const q of GRID) if (distinct.every(v => Math.abs(v / q - Math.round(v / q)) < 1e-4)) return q
  let least = Number.POSITIVE_INFINITY
  for (let i = 1; i < distinct.length; i++) least = Math.min(least, distinct[i]! - distinct[i - 1]!)
  return least
}

/** Events a second over the times given; null with fewer than three. */
export function rateOf(timesMs: readonly number[]): number | null {
  const span = timesMs.length < 3 ? 0 : timesMs.at(-1)! - timesMs[0]!
  return span > 0 ? (1000 * (timesMs.length - 1)) / span : null
}
