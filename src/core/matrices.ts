/** The algebra of least squares: symmetric positive definite systems on flat arrays, and products with their inverses. */
import { cross, dot, norm, scale, type Vec3 } from './vectors.ts'

/** A square matrix, row by row. */
export interface Square {
  n: number
  a: Float64Array
}

export const square = (n: number): Square => ({ n, a: new Float64Array(n * n) })

/**
 * L of m = L Lᵀ into `out`, from m's lower triangle; false when m is not positive definite (NaN included). Our own, since the fit
 * does thousands of these on 20 unknowns: the library's copies, checks and boxed rows took a third of a solve.
 */
function cholesky({ n, a }: Square, out: Float64Array, ridge = 0): boolean {
  for (let i = 0; i < n; i++) {
    const row = i * n
    for (let j = 0; j <= i; j++) {
      const other = j * n
      let sum = i === j ? a[row + i]! * (1 + ridge) : a[row + j]!
      for (let k = 0; k < j; k++) sum -= out[row + k]! * out[other + k]!
      if (i !== j) out[row + j] = sum / out[other + j]!
      else if (sum > 0 && sum < Infinity) out[row + i] = Math.sqrt(sum)
      else return false
    }
  }
  return true
}

/** Cholesky's lower triangle; a pivot below 0 by rounding counts as nothing. */
export function lowerTriangle({ n, a }: Square): Float64Array {
  const L = new Float64Array(n * n)
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j]!
      for (let k = 0; k < j; k++) sum -= L[i * n + k]! * L[j * n + k]!
      L[i * n + j] = i === j ? Math.sqrt(Math.max(1e-300, sum)) : sum / L[j * n + j]!
    }
  return L
}

/** Solves L Lᵀ x = x in place. @param L  lower triangle */
export function substitute(n: number, L: Float64Array, x: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let sum = x[i]!
    for (let k = 0; k < i; k++) sum -= L[i * n + k]! * x[k]!
    x[i] = sum / L[i * n + i]!
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i]!
    for (let k = i + 1; k < n; k++) sum -= L[k * n + i]! * x[k]!
    x[i] = sum / L[i * n + i]!
  }
}

/** L of the last system solved: written over by the next. */
let factor = new Float64Array(1024)

/** x with m x = b for a symmetric positive definite m (its lower triangle); null when it is not positive definite. */
export function solvePositive(m: Square, b: Float64Array): Float64Array | null {
  if (m.n * m.n > factor.length) factor = new Float64Array(m.n * m.n)
  if (!cholesky(m, factor)) return null
  const x = b.slice()
  substitute(m.n, factor, x)
  return x
}

/**
 * The inverse of a symmetric positive definite matrix, exactly symmetric. One that rounding has left short of positive
 * definite (unknowns known 1e8 times better than others) gets the least ridge, relative to its diagonal, that makes it so.
 * @throws RangeError when even that does not help: a mistake in our code
 */
export function inversePositive(m: Square): Square {
  const { n } = m
  const L = new Float64Array(n * n)
  let ridge = 0
  while (!cholesky(m, L, ridge)) {
    ridge = ridge === 0 ? 1e-15 * n : ridge * 10
    if (!(ridge < 1e-6)) throw new RangeError('inversePositive: matrix must be positive definite')
  }
  // L⁻¹ in place of L, then L⁻ᵀ L⁻¹.
  for (let j = 0; j < n; j++) {
    L[j * n + j] = 1 / L[j * n + j]!
    for (let i = j + 1; i < n; i++) {
      let sum = 0
      for (let k = j; k < i; k++) sum -= L[i * n + k]! * L[k * n + j]!
      L[i * n + j] = sum / L[i * n + i]!
    }
  }
  const out = square(n)
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = 0
      for (let k = i; k < n; k++) sum += L[k * n + i]! * L[k * n + j]!
      out.a[i * n + j] = sum
      out.a[j * n + i] = sum
    }
  return out
}

/**
 * The same where the unknowns differ by many powers of ten: each is counted in the unit in which its own diagonal is 1.
 *
 * @param least  taken off each pivot: one below it is lost in rounding, its unknown not held by what was measured
 * @throws RangeError when it is not positive definite
 */
export function inverseScaled(m: Square, least = 0): Square {
  const { n } = m
  const scale = Float64Array.from({ length: n }, (_, i) => Math.sqrt(m.a[i * n + i]!))
  const even = square(n)
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) even.a[i * n + j] = m.a[i * n + j]! / (scale[i]! * scale[j]!) - (i === j ? least : 0)
  const out = inversePositive(even)
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) out.a[i * n + j]! /= scale[i]! * scale[j]!
  return out
}

/** The inverse of Σ row rowᵀ (Cramer's rule: cross products of its columns); null when its columns span no more than `least` of a box. */
export function inverse3(rows: readonly Vec3[], least = 0): readonly [Vec3, Vec3, Vec3] | null {
  const column = (j: 0 | 1 | 2): Vec3 => {
    const sum = (i: 0 | 1 | 2) => rows.reduce((a, row) => a + row[i] * row[j], 0)
    return [sum(0), sum(1), sum(2)]
  }
  const [p, q, r] = [column(0), column(1), column(2)]
  const det = dot(p, cross(q, r))
  if (!(det > least * norm(p) * norm(q) * norm(r))) return null
  return [scale(cross(q, r), 1 / det), scale(cross(r, p), 1 / det), scale(cross(p, q), 1 / det)]
}

/** uᵀ C v. @param atU, atV  where u and v begin in longer arrays */
export function bilinearForm(C: Float64Array, n: number, u: Float64Array, v: Float64Array, atU = 0, atV = 0): number {
  let sum = 0
  for (let i = 0; i < n; i++) {
    const ui = u[atU + i]!
    if (ui === 0) continue
    let inner = 0
    for (let j = 0; j < n; j++) inner += C[i * n + j]! * v[atV + j]!
    sum += ui * inner
  }
  return sum
}

/** vᵀ C v. @param at  where v begins in a longer array */
export const quadraticForm = (C: Float64Array, n: number, v: Float64Array, at = 0): number =>
  bilinearForm(C, n, v, v, at, at)

/** tr(A B) of two symmetric matrices: the mean of vᵀ A v over all v, where B is the mean of v vᵀ. */
export function traceOfProduct(A: Float64Array, B: Float64Array): number {
  let sum = 0
  for (let i = 0; i < A.length; i++) sum += A[i]! * B[i]!
  return sum
}
