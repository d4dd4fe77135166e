/** Levels of a scan: the receiver's dB or a linear figure, as linear power; the level at the top. */

export type LevelScale = 'dB' | 'linear'

export const linearFrom = (scale: LevelScale, level: number): number => (scale === 'dB' ? 10 ** (level / 10) : level)

/** dB of a linear power; null when it is not above 0. */
export const dbFrom = (power: number): number | null => (power > 0 ? 10 * Math.log10(power) : null)

/** Indices of the samples at the top that show one and the same level, three or more: clipped, if the flanks say so. */
export function atTheTop(levels: readonly number[]): number[] {
  const top = Math.max(...levels)
  const out = levels.flatMap((l, i) => (l === top ? [i] : []))
  return out.length >= 3 ? out : []
}

/**
 * The level at a place by a parabola through the samples about it, so that a beam that is not quite Gaussian still gives its
 * true top. @param d places counted from there. Null with fewer than seven samples.
 */
export function levelAbout(d: readonly number[], levels: readonly number[]): number | null {
  const n = d.length
  if (n < 7) return null
  // Normal equations of 1, d, d²; the first unknown by Cramer's rule. d scaled to the largest, to keep the digits.
  const size = Math.max(...d.map(Math.abs), 1e-300)
  const s = [0, 0, 0, 0, 0]
  const b = [0, 0, 0]
  d.forEach((x, i) => {
    const u = x / size
    for (let k = 0; k < 5; k++) s[k]! += u ** k
    for (let k = 0; k < 3; k++) b[k]! += levels[i]! * u ** k
  })
  const [s0, s1, s2, s3, s4] = s as [number, number, number, number, number]
  const [b0, b1, b2] = b as [number, number, number]
  const det = s0 * (s2 * s4 - s3 * s3) - s1 * (s1 * s4 - s3 * s2) + s2 * (s1 * s3 - s2 * s2)
  if (!(Math.abs(det) > 1e-9 * s0 ** 3)) return null
  return (b0 * (s2 * s4 - s3 * s3) - s1 * (b1 * s4 - s3 * b2) + s2 * (b1 * s3 - s2 * b2)) / det
}
