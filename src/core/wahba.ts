/** The rotation between two sets of directions; the only door to the library (ml-matrix), for the SVD of 3×3. */
import { Matrix, SingularValueDecomposition } from 'ml-matrix'
import type { Rotation } from './rotations.ts'

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
