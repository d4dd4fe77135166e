/**
 * The places of a search, in order: cells of one size that cover an ellipse, those near the middle first. The cells lie in rings of the
 * ellipse's own shape, each walked once round, so that neighbours in the order are neighbours in place as far as that goes. A band, where
 * nothing says which part of its length is likelier, is walked in rows, the middle one first. What is narrower than a row of cells is one
 * row, its cells as long as its width allows. Pure.
 */
export interface Pattern {
  /** Along the wide direction and across it, from the middle. */
  places: (readonly [along: number, across: number])[]
  /** From place to place along and across. */
  step: { along: number; across: number }
}

export interface PatternWish {
  /** Half axes of what is to be covered; wide ≥ narrow. */
  wide: number
  narrow: number
  /** No spot of it may be further from a place. */
  reach: number
  /** All of the wide direction, to the full narrow extent. */
  isBand?: boolean
}

/** Above this share of the reach one row no longer pays: its cells get short. */
const ONE_ROW = Math.SQRT1_2

/** @throws RangeError  reach that is not above 0, an extent that is not finite */
export function patternOf({ wide, narrow, reach, isBand = false }: PatternWish): Pattern {
  if (!(reach > 0) || !Number.isFinite(wide + narrow))
    throw new RangeError(`patternOf: extents must be finite and reach > 0, got ${wide}, ${narrow}, ${reach}`)
  const isRow = narrow <= ONE_ROW * reach
  const step = isRow
    ? { along: 2 * Math.sqrt(reach * reach - narrow * narrow), across: 2 * narrow }
    : { along: Math.SQRT2 * reach, across: Math.SQRT2 * reach }
  const rows = isRow ? 0 : Math.ceil(narrow / step.across - 0.5)
  const columns = Math.max(0, Math.ceil(wide / step.along - 0.5))
  // The nearest spot of a cell to the middle says whether the ellipse comes into it.
  const near = (k: number, size: number, extent: number) =>
    extent === 0 ? 0 : Math.max(0, (Math.abs(k) - 0.5) * size) / extent
  const isIn = (i: number, j: number) =>
    isBand || near(i, step.along, wide) ** 2 + (isRow ? 0 : near(j, step.across, narrow)) ** 2 <= 1
  const places: [number, number][] = []
  const put = (i: number, j: number) => {
    if (Math.abs(i) <= columns && Math.abs(j) <= rows && isIn(i, j)) places.push([i * step.along, j * step.across])
  }
  /** From the middle out one way, then the other. */
  const middleRow = (to: number) => {
    for (let i = 0; i <= to; i++) put(i, 0)
    for (let i = -1; i >= -to; i--) put(i, 0)
  }
  if (isRow && !isBand) {
    put(0, 0)
    for (let i = 1; i <= columns; i++) for (const s of [i, -i]) put(s, 0)
    return { places, step }
  }
  if (isBand) {
    middleRow(columns)
    for (let j = 1; j <= rows; j++) {
      alongRow(-columns, columns, j, false)
      alongRow(-columns, columns, -j, true)
    }
    return { places, step }
  }
  const shape = Math.max(1, wide / narrow)
  /** The last column that belongs to a ring. */
  const upTo = (ring: number): number => Math.floor((ring + 0.5) * shape - 1e-9)
  middleRow(upTo(0))
  const rings = Math.max(rows, Math.ceil(columns / shape) + 1)
  for (let ring = 1; ring <= rings; ring++) {
    const [inner, outer] = [upTo(ring - 1), upTo(ring)]
    // Right block upward, top row leftward, left block downward, bottom row rightward.
    for (let j = 1 - ring; j < ring; j++) alongRow(inner + 1, outer, j, (j + ring) % 2 === 0)
    for (let i = outer; i >= -outer; i--) put(i, ring)
    for (let j = ring - 1; j > -ring; j--) alongRow(-outer, -inner - 1, j, (ring - j) % 2 === 0)
    for (let i = -outer; i <= outer; i++) put(i, -ring)
  }
  return { places, step }

  function alongRow(from: number, to: number, j: number, isBack: boolean): void {
    for (let n = 0; n <= to - from; n++) put(isBack ? to - n : from + n, j)
  }
}
