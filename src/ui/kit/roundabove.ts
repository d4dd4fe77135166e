/** A round number of 1, 2, 5 × 10ⁿ at or above x > 0. */
export function roundAbove(x: number): number {
  const power = 10 ** Math.floor(Math.log10(x))
  // 1e-9: a quotient that should be 2 exactly may come out as 2.0000000000000004.
  const step = [1, 2, 5, 10].find(n => n * power >= x * (1 - 1e-9))
  return (step ?? 10) * power
}
