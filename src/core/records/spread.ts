/** How well a sighting is known along its two principal directions: a drift knows one a thousand times better than the other. */

/** Square degrees, in the dish's frame: right and up. */
export interface Covariance {
  rr: number
  ru: number
  uu: number
}

/** 1 σ along the direction known best, and across it, degrees: the roots of the eigenvalues. */
export function spreadOf({ rr, ru, uu }: Covariance): { leastDeg: number; mostDeg: number } {
  const mean = (rr + uu) / 2
  const half = Math.hypot((rr - uu) / 2, ru)
  // The smaller one by the determinant: the difference would be lost in rounding.
  const most = mean + half
  return { leastDeg: Math.sqrt(Math.max(0, (rr * uu - ru * ru) / most)), mostDeg: Math.sqrt(most) }
}
