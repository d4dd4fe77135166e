/**
 * A warped rim, from the gap between two strings stretched across it at right angles. A rim bent like a saddle,
 * z = a cos 2(φ - φ0), lifts one string's ends by a and drops the other's by a: gap 2a. Millimetres; angles from the UP
 * mark, clockwise as seen from behind.
 */
import type { Mm, Rad } from '../units.ts'

/** Which two strings: from 12 to 6 and from 3 to 9; or half way between those. */
type StringPair = 'upright' | 'diagonal'

interface StringGap {
  pair: StringPair
  /** + when the string through 12 (diagonal: through half past one, seen from behind) stands out, away from the dish. */
  gap: Mm
}

/**
 * The gap of two strings measured both ways about, so that their thickness and knots go out of it.
 *
 * @param first   gap with the string through 12 laid in front of the other; 0: they press on each other
 * @param second  gap with it laid behind; 0: they press
 * With one of them pressing, the other is the gap; else half the difference is.
 */
export const gapOfBoth = (first: Mm, second: Mm): Mm =>
  first > 0 && second > 0 ? (first - second) / 2 : first > 0 ? first : -second

export interface Warp {
  /** How far the highest points of the rim stand out of its mean plane. */
  amplitude: Mm
  /** Where the rim stands out, 0 to π (and opposite). */
  highAt: Rad
  /** Root mean square over the whole dish, the bend growing as the square of the radius. */
  rms: Mm
}

/** Amplitude and direction from one or both pairs; one pair sees only its own part of the saddle. */
export function warpFromGaps(gaps: readonly StringGap[]): Warp | null {
  if (gaps.length === 0) return null
  const mean = (pair: StringPair): number => {
    const of = gaps.filter(g => g.pair === pair)
    return of.length === 0 ? 0 : of.reduce((a, g) => a + g.gap, 0) / of.length
  }
  const cosine = mean('upright') / 2
  const sine = mean('diagonal') / 2
  const amplitude = Math.hypot(cosine, sine)
  const at = Math.atan2(sine, cosine) / 2
  // Mean of r⁴ over a disc is 1/3, of cos² round it 1/2.
  return { amplitude, highAt: at < 0 ? at + Math.PI : at, rms: amplitude / Math.sqrt(6) }
}
