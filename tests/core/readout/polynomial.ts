/** What the tests of real jacks share: residuals of a polynomial, rms. */

export const rms = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((s, v) => s + v * v, 0) / values.length)

/** Residuals of the least-squares polynomial of a degree (0: the mean), by the normal equations in a scaled variable. */
export function residualsOfPolynomial(x: readonly number[], y: readonly number[], degree: number): number[] {
  const size = Math.max(...x.map(Math.abs))
  const rows = x.map(v => Array.from({ length: degree + 1 }, (_, k) => (v / size) ** k))
  const n = degree + 1
  const a = Array.from({ length: n }, (_, i) => [
    ...Array.from({ length: n }, (_, j) => rows.reduce((s, r) => s + r[i]! * r[j]!, 0)),
    rows.reduce((s, r, k) => s + r[i]! * y[k]!, 0),
  ])
  for (let i = 0; i < n; i++)
    for (let k = 0; k < n; k++) {
      if (k === i) continue
      const f = a[k]![i]! / a[i]![i]!
      for (let j = i; j <= n; j++) a[k]![j]! -= f * a[i]![j]!
    }
  return rows.map((r, k) => y[k]! - r.reduce((s, v, i) => s + (v * a[i]![n]!) / a[i]![i]!, 0))
}
