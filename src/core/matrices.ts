/** Symmetric positive definite systems, and the door to the linear-algebra library (ml-matrix) for the SVD of 3×3. */
import { Matrix, SingularValueDecomposition } from 'ml-matrix'
import type { Rotation } from './rotations.ts'

/** A square matrix, row by row. */
export interface Square {
  n: number
  a: Float64Array
}

export const square = (n: number): Square => ({ n, a: new Float64Array(n * n) })

/**
 * The lower triangle L with L Lᵀ = m; null when m is not positive definite. Only m's lower triangle is read.
 * By hand, since the fit solves thousands of small systems: through the library's matrices they took half of its time.
 */
function choleskyOf(m: Square): Float64Array | null {
  const { n } = m
  const L = Float64Array.from(m.a)
  for (let j = 0; j < n; j++) {
    const row = j * n
    for (let k = 0; k < j; k++) {
      let x = L[row + k]!
      for (let i = 0; i < k; i++) x -= L[row + i]! * L[k * n + i]!
      L[row + k] = x / L[k * n + k]!
    }
    let d = L[row + j]!
    for (let i = 0; i < j; i++) d -= L[row + i]! * L[row + i]!
    if (!(d > 0)) return null
    L[row + j] = Math.sqrt(d)
  }
  return L
}

/** Turns b into x with L Lᵀ x = b. */
function substitute(L: Float64Array, n: number, b: Float64Array): Float64Array {
  for (let i = 0; i < n; i++) {
    let x = b[i]!
    for (let k = 0; k < i; k++) x -= L[i * n + k]! * b[k]!
    b[i] = x / L[i * n + i]!
  }
  for (let i = n - 1; i >= 0; i--) {
    let x = b[i]!
    for (let k = i + 1; k < n; k++) x -= L[k * n + i]! * b[k]!
    b[i] = x / L[i * n + i]!
  }
  return b
}

/** x with m x = b for a symmetric positive definite m (its lower triangle); null when it is not positive definite. */
export function solvePositive(m: Square, b: Float64Array): Float64Array | null {
  const L = choleskyOf(m)
  return L === null ? null : substitute(L, m.n, Float64Array.from(b))
}

/** The inverse of a symmetric positive definite matrix; throws when it is not (a mistake in our code). */
export function inversePositive(m: Square): Square {
  const L = choleskyOf(m)
  if (L === null) throw new RangeError('inversePositive: matrix must be positive definite')
  const { n } = m
  const out = square(n)
  for (let i = 0; i < n; i++) {
    const column = new Float64Array(n)
    column[i] = 1
    // Symmetric, so a column is a row.
    out.a.set(substitute(L, n, column), i * n)
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
