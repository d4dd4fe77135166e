/** Levels of a scan: the receiver's dB or a linear figure, as linear power; the level at the top. */
import { inverse3 } from '../matrices.ts'
import { add, dot, scale, type Vec3 } from '../vectors.ts'

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
  // d scaled to the largest, to keep the digits.
  const size = Math.max(...d.map(Math.abs), 1e-300)
  const rows = d.map((x): Vec3 => [1, x / size, (x / size) ** 2])
  const inverse = inverse3(rows, 1e-9)
  const right = rows.reduce<Vec3>((sum, row, i) => add(sum, scale(row, levels[i]!)), [0, 0, 0])
  return inverse && dot(inverse[0], right)
}
