/**
 * The line round what the mount reaches, from cells that are reached or not: each cell is averaged with its eight neighbours, and the
 * line runs where half of the weight is reached (marching squares), so that it does not step from cell to cell. Pure.
 */

/** A point in cells: column from azimuth 0 eastward, row from elevation 0 upward; 0.5 is a cell's middle. */
export type CellPoint = readonly [column: number, row: number]

const WEIGHTS = [1, 2, 1]

/** @param rows  [elevation][azimuth]; columns go round, rows end. @returns the line's pieces, unordered. */
export function reachEdge(rows: readonly (readonly boolean[])[]): [CellPoint, CellPoint][] {
  const columns = rows[0]?.length ?? 0
  if (columns === 0) return []
  const round = (c: number) => ((c % columns) + columns) % columns
  const within = (r: number) => Math.max(0, Math.min(rows.length - 1, r))
  const weighed = (c: number, r: number): number => {
    let sum = 0
    for (let i = -1; i <= 1; i++)
      for (let j = -1; j <= 1; j++) if (rows[within(r + j)]![round(c + i)]) sum += WEIGHTS[i + 1]! * WEIGHTS[j + 1]!
    return sum / 16 - 0.5
  }
  // From below the lowest row's middle to above the highest's, where the outermost rows go on.
  const heights = rows.map((_, r) => Float64Array.from({ length: columns }, (_, c) => weighed(c, r)))
  const at = (c: number, r: number) => heights[within(r)]![round(c)]!
  const out: [CellPoint, CellPoint][] = []
  for (let r = -1; r < rows.length; r++)
    for (let c = 0; c < columns; c++) {
      const corners = [
        [c, r],
        [c + 1, r],
        [c + 1, r + 1],
        [c, r + 1],
      ] as const
      const cuts: CellPoint[] = []
      corners.forEach((a, k) => {
        const b = corners[(k + 1) % 4]!
        const [va, vb] = [at(...a), at(...b)]
        if (va > 0 === vb > 0) return
        const s = va / (va - vb)
        const row = a[1] + s * (b[1] - a[1]) + 0.5
        cuts.push([a[0] + s * (b[0] - a[0]) + 0.5, Math.max(0, Math.min(rows.length, row))])
      })
      for (let k = 0; k + 1 < cuts.length; k += 2) out.push([cuts[k]!, cuts[k + 1]!])
    }
  return out
}
