/**
 * Where along the sightings a hypothesis might begin: a score test of every place at once by running sums, and a scan for a
 * shift that brings rejected sightings back. O(n p²) for all places together; with all else linear (linear.ts).
 */
import type { Columns, Linear, Moments } from './linear.ts'

/**
 * By how much the columns lower χ² when they belong to the members from each place on: the score test, all places by running
 * sums from the end. @param members items in order of time @param firstOnly  the first place alone is wanted
 * @returns by place k: members k and later have the new unknowns
 */
export function scoreScan(
  linear: Linear,
  { m, c }: Columns,
  weights: Float64Array,
  { C, Cg }: Moments,
  members: readonly number[],
  firstOnly = false,
): Float64Array {
  const { n, A, r } = linear
  const out = new Float64Array(members.length)
  const cr = new Float64Array(m)
  const cc = new Float64Array(m * m)
  for (let i = 0; i < m; i++) cc[i * m + i] = 1
  const cA = new Float64Array(m * n)
  const CcA = new Float64Array(m * n)
  const V = new Float64Array(m * m)
  const u = new Float64Array(m)
  for (let k = members.length - 1; k >= 0; k--) {
    const at = members[k]!
    const item = linear.items[at]!
    const w = weights[at]!
    if (w !== 0 && linear.isLost[at] === 0)
      for (let row = item.row; row < item.row + item.rows; row++)
        for (let a = 0; a < m; a++) {
          const x = w * c[row * m + a]!
          if (x === 0) continue
          cr[a]! += x * r[row]!
          for (let b = 0; b < m; b++) cc[a * m + b]! += x * c[row * m + b]!
          for (let i = 0; i < n; i++) cA[a * n + i]! += x * A[row * n + i]!
        }
    if (firstOnly && k > 0) continue
    for (let a = 0; a < m; a++) {
      let s = cr[a]!
      for (let i = 0; i < n; i++) {
        s -= cA[a * n + i]! * Cg[i]!
        let inner = 0
        for (let j = 0; j < n; j++) inner += C[i * n + j]! * cA[a * n + j]!
        CcA[a * n + i] = inner
      }
      u[a] = s
    }
    for (let a = 0; a < m; a++)
      for (let b = 0; b < m; b++) {
        let s = cc[a * m + b]!
        for (let i = 0; i < n; i++) s -= cA[a * n + i]! * CcA[b * n + i]!
        V[a * m + b] = s
      }
    out[k] = quadraticInverse(V, u, m)
  }
  return out
}

/** uᵀ V⁻¹ u for one or two unknowns; 0 where V says nothing. */
function quadraticInverse(V: Float64Array, u: Float64Array, m: number): number {
  if (m === 1) return V[0]! > 1e-9 ? (u[0]! * u[0]!) / V[0]! : 0
  const det = V[0]! * V[3]! - V[1]! * V[2]!
  if (!(det > 1e-9 * V[0]! * V[3]!)) return 0
  return (V[3]! * u[0]! * u[0]! - 2 * V[1]! * u[0]! * u[1]! + V[0]! * u[1]! * u[1]!) / det
}

/** A place, the shift there, and what it would gain with all else as it is. */
export interface ShiftPlace {
  /** Members k and later are after it. */
  k: number
  /** True where it is those before it that are shifted. */
  isBefore: boolean
  gain: number
}

const CAP = 25
const MOST_SHIFTS = 48

/**
 * Looks for one shift, from one place on or up to it, that brings rejected sightings back: for the shift that each rejected
 * sighting asks for, the best place by running sums. With all else unchanged, so for faults that have not bent the fit.
 */
export function rescueScan(linear: Linear, columns: Columns, members: readonly number[]): ShiftPlace[] {
  const { r, items } = linear
  const { m, c } = columns
  const rejectedMembers = members.filter(at => linear.kept[at] === 0 && linear.isLost[at] === 0)
  if (rejectedMembers.length < 2) return []
  const every = Math.ceil(rejectedMembers.length / MOST_SHIFTS)
  const places: ShiftPlace[] = []
  const gains = new Float64Array(members.length)
  for (let x = 0; x < rejectedMembers.length; x += every) {
    const { row } = items[rejectedMembers[x]!]!
    const shift = ownShift(r, c, m, row)
    if (shift === null) continue
    let sum = 0
    members.forEach((at, k) => {
      const item = items[at]!
      let before = 0
      let after = 0
      if (linear.isLost[at] === 0)
        for (let i = item.row; i < item.row + item.rows; i++) {
          let y = r[i]!
          before += y * y
          for (let a = 0; a < m; a++) y += c[i * m + a]! * shift[a]!
          after += y * y
        }
      gains[k] = item.isFixed ? before - after : Math.min(before, CAP) - Math.min(after, CAP)
      sum += gains[k]!
    })
    // Suffixes and prefixes at once: the rest is the sum less the other.
    let fromStart = 0
    let late: ShiftPlace = { k: 0, isBefore: false, gain: -Infinity }
    let early: ShiftPlace = { k: 0, isBefore: true, gain: -Infinity }
    for (let k = 0; k < members.length; k++) {
      if (k > 0 && sum - fromStart > late.gain) late = { k, isBefore: false, gain: sum - fromStart }
      fromStart += gains[k]!
      if (k < members.length - 1 && fromStart > early.gain) early = { k: k + 1, isBefore: true, gain: fromStart }
    }
    places.push(late, early)
  }
  return places.sort((a, b) => b.gain - a.gain).slice(0, 4)
}

/** The shift that would correct a sighting by itself: -c⁺ r. */
function ownShift(r: Float64Array, c: Float64Array, m: number, row: number): number[] | null {
  if (m === 1) {
    const cc = c[row]! ** 2 + c[row + 1]! ** 2
    return cc > 1e-12 ? [-(c[row]! * r[row]! + c[row + 1]! * r[row + 1]!) / cc] : null
  }
  const [a, b, d, e] = [c[2 * row]!, c[2 * row + 1]!, c[2 * row + 2]!, c[2 * row + 3]!]
  const det = a * e - b * d
  if (Math.abs(det) < 1e-12) return null
  return [-(e * r[row]! - b * r[row + 1]!) / det, -(a * r[row + 1]! - d * r[row]!) / det]
}
