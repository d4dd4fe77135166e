/**
 * Linear algebra: symmetric positive definite systems on flat arrays, and the door to the library (ml-matrix) for the SVD of 3×3.
 */
import { Matrix, SingularValueDecomposition } from 'ml-matrix'
import type { Rotation } from './rotations.ts'

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

/** Solves L Lᵀ x = x in place. */
function substitute(n: number, L: Float64Array, x: Float64Array): void {
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
 * Wahba's problem: the rotation A that minimises Σ |b_k - A a_k|², given M = Σ b_k a_kᵀ (3×3, row by row).
 * Source: Markley 1988, J. Astronaut. Sci. 36, 245 (solution by SVD), from memory.
 */
export function wahba(m: readonly number[]): Rotation {
  const svd = new SingularValueDecomposition(
    new Matrix([
      [m[0]!, m[1]!, m[2]!],
      [m[3]!, m[4]!, m[5]!],
      [m[6]!, m[7]!, m[8]!],
    ]),
    { autoTranspose: true },
  )
  const u = svd.leftSingularVectors
  const v = svd.rightSingularVectors
  const det = (x: Matrix): number =>
    x.get(0, 0) * (x.get(1, 1) * x.get(2, 2) - x.get(1, 2) * x.get(2, 1)) -
    x.get(0, 1) * (x.get(1, 0) * x.get(2, 2) - x.get(1, 2) * x.get(2, 0)) +
    x.get(0, 2) * (x.get(1, 0) * x.get(2, 1) - x.get(1, 1) * x.get(2, 0))
  const sign = Math.sign(det(u) * det(v)) || 1
  const out: number[] = []
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      out.push(u.get(i, 0) * v.get(j, 0) + u.get(i, 1) * v.get(j, 1) + sign * u.get(i, 2) * v.get(j, 2))
  return out as unknown as Rotation
}
