/**
 * The phone's clock against a time signal: taps on its pips. Milliseconds since 1970 by the phone's own clock, seconds out.
 * Now and then a tap misses its pip, so the middle is found by medians first and the strays are left out.
 */
import { MINUTE_MS } from '../units.ts'

/** What the pips mark. */
export type Pips = 'second' | 'minute'
const PERIOD_MS: Readonly<Record<Pips, number>> = { second: 1000, minute: MINUTE_MS }

/**
 * What all taps of one person share: tapping along runs ahead of the beat by 20 to 80 ms, waiting for a single pip comes
 * late by 0.1 to 0.2 s. 1 σ, s; common practice, from memory.
 */
const PERSON_SIGMA_S = 0.1
const FEWEST_TAPS = 3
/** Nearer than this to the others a tap is never a stray, ms. */
const NEAR_MS = 150
/** Taps at random between the pips scatter by 289 ms. */
const MOST_SCATTER_MS = 200

export type TapOffset =
  | { kind: 'too-few'; have: number; need: number }
  /** The taps have no common place between the pips. */
  | { kind: 'scattered'; scatterS: number }
  | {
      kind: 'offset'
      /** Phone minus true time. */
      offsetS: number
      sigmaS: number
      /** 1 σ of one tap. */
      scatterS: number
      used: number
      strays: number
      /** Near the middle between two pips: which of two whole seconds, or minutes, is meant depends on the person's word. */
      nearHalf: boolean
    }

const medianOf = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b)
  const k = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[k]! : (sorted[k - 1]! + sorted[k]!) / 2
}

/**
 * @param tapsMs  the phone's clock at each tap
 * @param wholeS  by how many whole seconds the phone is ahead as its display is compared with what is announced; the pips tell the
 *                rest, to their period. Where minutes are marked, half a minute beside does no harm
 */
export function offsetFromTaps(tapsMs: readonly number[], pips: Pips, wholeS = 0): TapOffset {
  if (tapsMs.length < FEWEST_TAPS) return { kind: 'too-few', have: tapsMs.length, need: FEWEST_TAPS }
  const period = PERIOD_MS[pips]
  const wrap = (ms: number): number => ms - period * Math.round(ms / period)
  const rests = tapsMs.map(wrap)
  // On the circle: the tap from which the others are nearest is the place to cut opposite of.
  const distance = (c: number): number => rests.reduce((s, r) => s + Math.abs(wrap(r - c)), 0)
  const centre = rests.reduce((best, r) => (distance(r) < distance(best) ? r : best))
  const off = rests.map(r => wrap(r - centre))
  const middle = medianOf(off)
  const spread = 1.4826 * medianOf(off.map(o => Math.abs(o - middle)))
  const kept = off.filter(o => Math.abs(o - middle) <= Math.max(NEAR_MS, 3 * spread))
  const mean = kept.reduce((s, o) => s + o, 0) / kept.length
  const scatter = Math.sqrt(kept.reduce((s, o) => s + (o - mean) ** 2, 0) / Math.max(1, kept.length - 1))
  if (kept.length < FEWEST_TAPS || 2 * kept.length <= off.length || scatter > MOST_SCATTER_MS)
    return { kind: 'scattered', scatterS: Math.max(scatter, spread) / 1000 }
  const within = wrap(centre + mean)
  return {
    kind: 'offset',
    offsetS: (within + period * Math.round((1000 * wholeS - within) / period)) / 1000,
    sigmaS: Math.hypot(scatter / 1000 / Math.sqrt(kept.length), PERSON_SIGMA_S),
    scatterS: scatter / 1000,
    used: kept.length,
    strays: off.length - kept.length,
    nearHalf: Math.abs(within) > 0.3 * period,
  }
}
