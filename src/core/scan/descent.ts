/** Weighted least squares down to the bottom, and the inverse of the normal matrix, for a scan's fit. */
import { inverseScaled, type Square, solvePositive, square } from '../matrices.ts'
import { evaluate, type PeakProblem, sizeOf } from './peakmodel.ts'

/** Weighted Levenberg-Marquardt. @returns normal matrix at the end, unscaled; null when it is not positive definite */
export function descend(
  p: PeakProblem,
  values: Float64Array,
  weights: Float64Array,
): { normal: Square; sum: number } | null {
  const n = sizeOf(p)
  const gradient = new Float64Array(n)
  const sumAt = (v: Float64Array): number => {
    if (p.free && !(v[p.shifts]! > p.o.widths[0] / 4 && v[p.shifts]! < p.o.widths[1] * 4)) return Infinity
    let s = 0
    for (let i = 0; i < p.points.length; i++)
      if (weights[i]! > 0) s += weights[i]! * (p.points[i]!.level - evaluate(p, v, i, null)) ** 2
    return s
  }
  let damping = 1e-3
  let sum = sumAt(values)
  let normal = square(n)
  for (let step = 0; step < 60; step++) {
    normal = square(n)
    const b = new Float64Array(n)
    for (let i = 0; i < p.points.length; i++) {
      if (weights[i] === 0) continue
      const r = p.points[i]!.level - evaluate(p, values, i, gradient)
      for (let x = 0; x < n; x++) {
        b[x]! += weights[i]! * gradient[x]! * r
        for (let y = 0; y <= x; y++) normal.a[x * n + y]! += weights[i]! * gradient[x]! * gradient[y]!
      }
    }
    // Each parameter in the unit in which its own column has length 1: heights and radians differ by many powers of ten.
    const scale = Float64Array.from({ length: n }, (_, x) => Math.sqrt(normal.a[x * n + x]!))
    if (scale.some(s => !(s > 0))) return null
    let isDone = false
    for (;;) {
      const m = square(n)
      for (let x = 0; x < n; x++)
        for (let y = 0; y <= x; y++)
          m.a[x * n + y] = (normal.a[x * n + y]! / (scale[x]! * scale[y]!)) * (x === y ? 1 + damping : 1)
      const move = solvePositive(
        m,
        b.map((v, x) => v / scale[x]!),
      )
      if (move !== null) {
        // What the step would gain if all were linear; less than rounding, and this is the bottom.
        const gain = move.reduce((a, v, x) => a + (v * b[x]!) / scale[x]!, 0)
        if (gain <= 1e-13 * sum) {
          isDone = true
          break
        }
        const next = values.map((v, x) => v + move[x]! / scale[x]!)
        const then = sumAt(next)
        if (then <= sum) {
          isDone = sum - then <= 1e-12 * sum && damping < 1e-2
          values.set(next)
          sum = then
          damping = Math.max(1e-12, damping / 10)
          break
        }
      }
      damping *= 8
      if (damping > 1e12) {
        isDone = true
        break
      }
    }
    if (isDone) break
  }
  return { normal, sum }
}

/** The inverse of a normal matrix; null where the samples do not hold one of the parameters. */
export function inverse(normal: Square): Square | null {
  try {
    return inverseScaled(normal, 1e-12)
  } catch {
    return null
  }
}
