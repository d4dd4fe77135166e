/**
 * The quick way: walk off the peak to one and the same level on either side; the middle of the two readings is the peak. At
 * half power the level falls 12 dB per beamwidth, at the peak not at all, so the middle is ten times sharper than peaking.
 */
/** Two readings (or angles) at one level, one on either side. */
interface EqualPair {
  left: number
  right: number
}

interface Midpoint {
  middle: number
  sigma: number
  /** Scatter of the pairs' middles; null with one pair. */
  spread: number | null
  /** The pairs' middles in the order given. */
  middles: number[]
}

/**
 * How well a reading is set to a level, in the width's unit: the level's σ over the slope there, 2 √(12.04 d)/w dB per unit,
 * from L = 12.04 (θ/w)² dB.
 *
 * @param dropDb how far below the peak the level is, > 0
 */
export const sigmaAtLevel = (dropDb: number, width: number, levelSigmaDb: number): number =>
  (levelSigmaDb * width) / (2 * Math.sqrt(12.04 * dropDb))

/**
 * The middle of one or more pairs. @param sigmaEach σ of one reading, from sigmaAtLevel and the reading's own step
 * @returns σ of the mean; where the pairs scatter more than sigmaEach allows, their scatter counts
 */
export function midpointOf(pairs: readonly EqualPair[], sigmaEach: number): Midpoint {
  if (pairs.length === 0) throw new RangeError('midpointOf: at least one pair is needed')
  const n = pairs.length
  const middles = pairs.map(p => (p.left + p.right) / 2)
  const middle = middles.reduce((a, b) => a + b, 0) / n
  const inner = sigmaEach / Math.SQRT2 / Math.sqrt(n)
  const spread = n === 1 ? null : Math.sqrt(middles.reduce((a, b) => a + (b - middle) ** 2, 0) / (n - 1))
  return { middle, sigma: Math.max(inner, spread === null ? 0 : spread / Math.sqrt(n)), spread, middles }
}
