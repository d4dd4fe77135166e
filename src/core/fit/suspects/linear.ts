/**
 * The fit as a linear problem, and the quick looks at a hypothesis in it: a score test of every place at once by running
 * sums, a scan for a shift that brings rejected sightings back, and a robust solution. O(n p²) for all places together.
 *
 * Unknowns are counted in σ of their priors, residuals in σ of the measurement. An item is a sighting (two rows), a level or
 * a reference (one row; a mast's lean two), in order of time.
 */
import { inversePositive, type Square, solvePositive, square } from '../../matrices.ts'
import { SLOT, SLOTS } from '../../mount/slots.ts'
import type { Axis } from '../../records/fieldbook.ts'
import { msFromUtc } from '../../records/station.ts'
import type { Problem } from '../map.ts'
import { COST, type Fitted, OUTLIER } from '../reject.ts'
import { builtAt, levelRows, referenceRow, whitenedRows } from '../residuals.ts'

export interface Item {
  utcMs: number
  row: number
  rows: 1 | 2
  /** Index in the problem's list of its kind. */
  index: number
  what: 'sighting' | 'level' | 'reference'
  slots: Int16Array
  /** The axes whose readings it tells of. */
  lower: boolean
  upper: boolean
  /** Never rejected. */
  isFixed: boolean
  id: string
  utc: string
}

export interface Linear {
  n: number
  items: Item[]
  /** rows × n, residuals, and rows × 2: what one reading more on each axis does. */
  A: Float64Array
  r: Float64Array
  perReading: Float64Array
  /** The unknowns' distance from their priors. */
  q: Float64Array
  /** 1 kept, 0 rejected, by item; scalar measurements are always kept. */
  kept: Float64Array
  /** Rows whose triangle does not close. */
  isLost: Uint8Array
  /** Weights with the rejected softly back in. */
  soft: Float64Array
  /** Of the kept alone, and with the soft weights; asked for by every hypothesis. */
  moments: { kept?: Moments; soft?: Moments }
}

export function linearised(problem: Problem, fit: Fitted): Linear {
  const { values } = fit
  const n = values.length
  const items: Item[] = []
  const push = (item: Omit<Item, 'row'>) => items.push({ ...item, row: 0 })
  problem.sightings.forEach((s, index) => {
    const { id, utc } = s.record
    const isFixed = s.use === 'always'
    push({
      utcMs: s.utcMs,
      rows: 2,
      index,
      what: 'sighting',
      slots: s.slots,
      lower: true,
      upper: true,
      isFixed,
      id,
      utc,
    })
  })
  problem.levels.forEach((l, index) => {
    const { id, utc, what } = l.record
    const lower = what === 'dish-elevation' || what === 'upper-axis-elevation'
    const upper = what === 'dish-elevation'
    const rows = what === 'mast-lean' ? 2 : 1
    push({ utcMs: msFromUtc(utc), rows, index, what: 'level', slots: l.slots, lower, upper, isFixed: true, id, utc })
  })
  problem.references.forEach((ref, index) => {
    const { id, utc, axis } = ref.record
    const told = { lower: axis === 'lower', upper: axis === 'upper' }
    push({ utcMs: ref.utcMs, rows: 1, index, what: 'reference', slots: ref.slots, ...told, isFixed: true, id, utc })
  })
  items.sort((a, b) => a.utcMs - b.utcMs)
  let row = 0
  for (const item of items) {
    item.row = row
    row += item.rows
  }
  const linear: Linear = {
    n,
    items,
    A: new Float64Array(row * n),
    r: new Float64Array(row),
    perReading: new Float64Array(2 * row),
    q: Float64Array.from(values, (x, i) => (x - problem.priorValue[i]!) / problem.priorSigma[i]!),
    kept: Float64Array.from(items, x => (x.what === 'sighting' ? fit.kept[x.index]! : 1)),
    isLost: new Uint8Array(items.length),
    soft: new Float64Array(items.length),
    moments: {},
  }
  const built = new Float64Array(SLOTS)
  const partials = new Float64Array(2 * SLOTS)
  items.forEach((item, k) => {
    builtAt(values, item.slots, built)
    const put = (at: number, bySlot: Float64Array, offset: number, residual: number) => {
      linear.r[at] = residual
      for (let p = 0; p < SLOTS; p++) {
        const j = item.slots[p]!
        if (j >= 0) linear.A[at * n + j] = bySlot[offset + p]! * problem.priorSigma[j]!
      }
      linear.perReading[2 * at] = bySlot[offset + SLOT.lowerShift]!
      linear.perReading[2 * at + 1] = bySlot[offset + SLOT.upperShift]!
    }
    if (item.what === 'sighting') {
      const s = problem.sightings[item.index]!
      const miss = whitenedRows(problem.model, s, built, partials)
      if (miss === null) linear.isLost[k] = 1
      else for (let half = 0; half < 2; half++) put(item.row + half, partials, half * SLOTS, miss[half]!)
      return
    }
    const rows =
      item.what === 'level'
        ? levelRows(problem.model, problem.levels[item.index]!, built)
        : [
            referenceRow(
              problem.model,
              problem.references[item.index]!,
              built,
              values[problem.references[item.index]!.mark]!,
            ),
          ]
    if (rows === null || rows[0] === null) linear.isLost[k] = 1
    else
      rows.forEach((x, i) => {
        // A clamping's own constant shifts its row; a mark's is in its row already.
        const shared = item.what === 'level' && x!.shared >= 0 ? x!.perShared * values[x!.shared]! : 0
        put(item.row + i, x!.bySlot, 0, x!.residual + shared)
        if (x!.shared >= 0) linear.A[(item.row + i) * n + x!.shared] = x!.perShared * problem.priorSigma[x!.shared]!
      })
  })
  linear.soft.set(softened(linear))
  return linear
}

/** Further unknowns of a hypothesis: rows × m, in σ of their priors. */
export interface Columns {
  m: number
  c: Float64Array
}

/** One reading more on an axis, counted in `unit` readings. */
export function shiftColumn(linear: Linear, axis: Axis, unit: number): Columns {
  const c = new Float64Array(linear.r.length)
  for (let k = 0; k < c.length; k++) c[k] = unit * linear.perReading[2 * k + (axis === 'lower' ? 0 : 1)]!
  return { m: 1, c }
}

/** Normal equations of the items with weights, priors included: their inverse and gradient. */
export interface Moments {
  C: Float64Array
  g: Float64Array
  /** C g: where the unknowns would step to. */
  Cg: Float64Array
}

/** The moments with one of the two kinds of weights. */
export function momentsWith(linear: Linear, which: 'kept' | 'soft'): Moments {
  linear.moments[which] ??= momentsOf(linear, linear[which])
  return linear.moments[which]
}

function momentsOf(linear: Linear, weights: Float64Array): Moments {
  const { n, A, r } = linear
  const H = square(n)
  const g = Float64Array.from(linear.q)
  for (let i = 0; i < n; i++) H.a[i * n + i] = 1
  linear.items.forEach((item, k) => {
    const w = weights[k]!
    if (w === 0 || linear.isLost[k] === 1) return
    for (let row = item.row; row < item.row + item.rows; row++) addRow(H.a, g, n, A, row * n, n, w, r[row]!)
  })
  const C = inversePositive(H).a
  const Cg = new Float64Array(n)
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) Cg[i]! += C[i * n + j]! * g[j]!
  return { C, g, Cg }
}

const nonZero = new Int32Array(256)

function addRow(
  H: Float64Array,
  g: Float64Array,
  stride: number,
  A: Float64Array,
  from: number,
  n: number,
  w: number,
  r: number,
): void {
  let count = 0
  for (let i = 0; i < n; i++) if (A[from + i] !== 0) nonZero[count++] = i
  for (let x = 0; x < count; x++) {
    const i = nonZero[x]!
    const a = w * A[from + i]!
    g[i]! += a * r
    for (let y = 0; y <= x; y++) H[i * stride + nonZero[y]!]! += a * A[from + nonZero[y]!]!
  }
}

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
export interface Place {
  /** Members k and later are after it. */
  k: number
  /** True where it is those before it that are shifted. */
  isBefore: boolean
  gain: number
}

const CAP = 25
const MOST_SHIFTS = 48

/**
 * Looks for one shift, from one place on or up to it, that makes good what was rejected: for the shift that each rejected
 * sighting asks for, the best place by running sums. With all else as it is, so for faults that the fit has stood clear of.
 */
export function rescueScan(linear: Linear, columns: Columns, members: readonly number[]): Place[] {
  const { r, items } = linear
  const { m, c } = columns
  const rejectedMembers = members.filter(at => linear.kept[at] === 0 && linear.isLost[at] === 0)
  if (rejectedMembers.length < 2) return []
  const every = Math.ceil(rejectedMembers.length / MOST_SHIFTS)
  const places: Place[] = []
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
    let late: Place = { k: 0, isBefore: false, gain: -Infinity }
    let early: Place = { k: 0, isBefore: true, gain: -Infinity }
    for (let k = 0; k < members.length; k++) {
      if (k > 0 && sum - fromStart > late.gain) late = { k, isBefore: false, gain: sum - fromStart }
      fromStart += gains[k]!
      if (k < members.length - 1 && fromStart > early.gain) early = { k: k + 1, isBefore: true, gain: fromStart }
    }
    places.push(late, early)
  }
  return places.sort((a, b) => b.gain - a.gain).slice(0, 4)
}

/** The shift that would mend a sighting by itself: the residual is lessened by -c⁺ r. */
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

export interface Look {
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
export function quickLook(linear: Linear, { m, c }: Columns, isIn: Uint8Array, start: Float64Array): Look | null {
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

/** Weights with the rejected softly back in. */
function softened(linear: Linear): Float64Array {
  return Float64Array.from(linear.items, (item, k) => {
    if (linear.kept[k] === 1) return 1
    if (linear.isLost[k] === 1) return 0
    let d2 = 0
    for (let x = item.row; x < item.row + item.rows; x++) d2 += linear.r[x]! ** 2
    return 1 / (1 + d2 / 10)
  })
}
