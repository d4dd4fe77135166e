/**
 * The fit as a linear problem, in which a hypothesis is looked at quickly: its rows, its normal equations, and the columns
 * that a hypothesis adds. Places are scanned in scan.ts, a robust solution is in quicklook.ts.
 *
 * Unknowns are counted in σ of their priors, residuals in σ of the measurement. An item is a sighting (two rows), a level or
 * a reference (one row; a mast's lean two), in order of time.
 */
import { inversePositive, square } from '../../matrices.ts'
import { SLOT, SLOTS } from '../../mount/slots.ts'
import type { Axis } from '../../records/fieldbook.ts'
import { msFromUtc } from '../../records/instant.ts'
import { type Problem, type TieRow, tieRows } from '../map.ts'
import type { Fitted } from '../reject.ts'
import { builtAt, levelRows, referenceRow, whitenedRows } from '../residuals.ts'

interface Item {
  utcMs: number
  row: number
  rows: 1 | 2
  /** Index in the problem's list of its kind. */
  index: number
  what: 'sighting' | 'level' | 'reference'
  slots: Int16Array
  /** The axes whose readings it involves. */
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
  ties: TieRow[]
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
    ties: tieRows(problem, values),
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
  for (const { a, b, ka, kb, r } of linear.ties) {
    H.a[a * n + a]! += ka * ka
    H.a[b * n + b]! += kb * kb
    // The position's own value comes after all that stood there: the lower triangle.
    H.a[b * n + a]! += ka * kb
    g[a]! += ka * r
    g[b]! += kb * r
  }
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

/** Adds w times the row's products to the lower triangle of H, and to g. */
export function addRow(
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
