/**
 * A hypothesis solved robustly in the linear problem (linear.ts): soft weights first, then hard ones, the cost as the fit
 * itself counts it.
 */
import { type Square, solvePositive, square } from '../../matrices.ts'
import { COST, OUTLIER } from '../reject.ts'
import { addRow, type Columns, type Linear } from './linear.ts'

export interface QuickLook {
  cost: number
  /** The added unknowns, in σ of their priors. */
  added: Float64Array
  /** How all unknowns move, in σ. */
  moved: Float64Array
  weights: Float64Array
}

/**
 * What the linear fit costs with the columns for some items: soft weights first, then hard ones.
 * @param isIn 1 for the items that the columns belong to  @param start weights to begin with
 */
export function quickLook(linear: Linear, { m, c }: Columns, isIn: Uint8Array, start: Float64Array): QuickLook | null {
  const { n, A, r, items } = linear
  const size = n + m
  const weights = Float64Array.from(start, (w, k) => (linear.isLost[k] === 1 ? 0 : w))
  const row = new Float64Array(size)
  let step: Float64Array | null = null
  const d2 = new Float64Array(items.length)
  for (let pass = 0; pass < 14; pass++) {
    const H: Square = square(size)
    const g = new Float64Array(size)
    g.set(linear.q)
    for (let i = 0; i < size; i++) H.a[i * size + i] = 1
    items.forEach((item, k) => {
      const w = weights[k]!
      if (w === 0) return
      for (let x = item.row; x < item.row + item.rows; x++) {
        for (let i = 0; i < n; i++) row[i] = A[x * n + i]!
        for (let a = 0; a < m; a++) row[n + a] = isIn[k] === 1 ? c[x * m + a]! : 0
        addRow(H.a, g, size, row, 0, size, w, r[x]!)
      }
    })
    step = solvePositive(H, g)
    if (step === null) return null
    let moved = 0
    items.forEach((item, k) => {
      if (linear.isLost[k] === 1) return
      let sum = 0
      for (let x = item.row; x < item.row + item.rows; x++) {
        let y = r[x]!
        for (let i = 0; i < n; i++) y -= A[x * n + i]! * step![i]!
        if (isIn[k] === 1) for (let a = 0; a < m; a++) y -= c[x * m + a]! * step![n + a]!
        sum += y * y
      }
      d2[k] = sum
      const w = item.isFixed ? 1 : pass < 8 ? 1 / (1 + sum / 4) : sum <= OUTLIER ? 1 : 0
      moved += Math.abs(w - weights[k]!)
      weights[k] = w
    })
    if (pass >= 8 && moved === 0) break
  }
  let sum = 0
  for (let i = 0; i < n; i++) sum += (linear.q[i]! - step![i]!) ** 2
  for (let a = 0; a < m; a++) sum += step![n + a]! ** 2
  items.forEach((_, k) => {
    sum += weights[k] === 0 ? COST : d2[k]!
  })
  return {
    cost: sum,
    added: Float64Array.from(step!.subarray(n), x => -x),
    moved: Float64Array.from(step!.subarray(0, n), x => -x),
    weights,
  }
}
