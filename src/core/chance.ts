/**
 * What a drop of χ² is worth: how often chance alone gives as much, for one unknown, when several places were looked at.
 */

/**
 * erfc(x) for x ≥ 0, relative error below 1e-10: the series below 2.5, the continued fraction above.
 * Source: Abramowitz & Stegun 7.1.6 and 7.1.14.
 */
export function erfc(x: number): number {
  if (!(x >= 0)) throw new RangeError(`erfc: x must be >= 0, got ${x}`)
  const front = Math.exp(-x * x) / Math.sqrt(Math.PI)
  if (x < 2.5) {
    let term = 2 * x
    let sum = term
    for (let n = 1; term > 1e-18 * sum && n < 200; n++) {
      term *= (2 * x * x) / (2 * n + 1)
      sum += term
    }
    return 1 - front * sum
  }
  let tail = x
  for (let n = 60; n > 0; n--) tail = x + n / 2 / tail
  return front / tail
}

/**
 * The chance that χ² of one unknown drops by `deltaChi2` somewhere, by luck alone. @param places  independent places looked
 * at (Bonferroni: an upper bound), ≥ 1
 */
export const chanceOf = (deltaChi2: number, places = 1): number =>
  Math.min(1, places * erfc(Math.sqrt(Math.max(0, deltaChi2) / 2)))

/** The 99 % point of χ² with n degrees of freedom. Source: Wilson & Hilferty 1931; within 0.3 % for n ≥ 4. */
export const chiSquare99 = (n: number): number => n * (1 - 2 / (9 * n) + 2.326348 * Math.sqrt(2 / (9 * n))) ** 3
