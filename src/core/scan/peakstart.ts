/** Where a scan's fit starts: a grid of places and widths, judged by absolute residuals so that spikes do not lead it. */
import { median, type PeakPoint, type PeakProblem, sizeOf } from './peakmodel.ts'

const K = 4 * Math.LN2

/** Least squares of the linear part for a given place and width; `weights` per sample. Null when it is singular. */
function linearPart(p: PeakProblem, g: Float64Array, weights: Float64Array, m: Float64Array): Float64Array | null {
  const n = 1 + p.bases
  const wide = n + 1
  m.fill(0)
  for (let i = 0; i < p.points.length; i++) {
    const { base, level } = p.points[i]!
    for (let r = 0; r < n; r++) {
      const k = weights[i]! * (r === 0 ? g[i]! : base[r - 1]!)
      for (let c = 0; c < n; c++) m[r * wide + c]! += k * (c === 0 ? g[i]! : base[c - 1]!)
      m[r * wide + n]! += k * level
    }
  }
  return eliminated(m, n)
}

/** Gauss-Jordan on n rows of n + 1; a grid asks this thousands of times, so it is kept plain. Null when singular. */
function eliminated(m: Float64Array, n: number): Float64Array | null {
  const wide = n + 1
  for (let k = 0; k < n; k++) {
    const pivot = m[k * wide + k]!
    if (!(Math.abs(pivot) > 1e-300)) return null
    for (let r = 0; r < n; r++) {
      if (r === k) continue
      const f = m[r * wide + k]! / pivot
      for (let c = k; c <= n; c++) m[r * wide + c]! -= f * m[k * wide + c]!
    }
  }
  const out = new Float64Array(n)
  for (let k = 0; k < n; k++) out[k] = m[k * wide + n]! / m[k * wide + k]!
  return out.every(Number.isFinite) ? out : null
}

/** The best node of a grid by the sum of absolute residuals; null when no node rises above the base. */
export function gridStart(p: PeakProblem): Float64Array | null {
  const dims = p.o.range.length
  const [lo, hi] = p.o.widths
  const widths = p.free ? Array.from({ length: 7 }, (_, k) => lo * (hi / lo) ** (k / 6)) : [p.o.width!]
  const narrow = p.free ? Math.sqrt(lo * hi) : p.o.width!
  const ticks = p.o.range.map(([from, to]) => {
    const most = dims === 1 ? 60 : 17
    const count = Math.max(7, Math.min(most, Math.ceil((3 * (to - from)) / narrow) + 1))
    return Array.from({ length: count }, (_, k) => from + ((to - from) * k) / (count - 1))
  })
  const places = dims === 1 ? ticks[0]!.map(x => [x]) : ticks[0]!.flatMap(x => ticks[1]!.map(y => [x, y]))
  const n = p.points.length
  const g = new Float64Array(n)
  const weights = new Float64Array(n)
  const size = Math.max(...p.points.map(q => Math.abs(q.level)), 1e-300)
  const work = new Float64Array((1 + p.bases) * (2 + p.bases))
  // However tall a lone spike is, above this it counts no more, so no narrow peak is fitted to it.
  const sorted = p.points.map(q => q.level).sort((a, b) => a - b)
  const most = n < 20 ? Infinity : 2 * (sorted[Math.floor(0.75 * n)]! - sorted[Math.floor(0.1 * n)]!)
  let best: Float64Array | null = null
  let least = Infinity
  for (const w of widths) {
    for (const place of places) {
      p.points.forEach((q, i) => {
        let d2 = 0
        for (let c = 0; c < dims; c++) d2 += (q.at[c]! - place[c]!) ** 2
        g[i] = Math.exp((-K * d2) / (w * w))
        weights[i] = 1
      })
      let linear: Float64Array | null = null
      let sum = Infinity
      for (let pass = 0; pass < 3; pass++) {
        linear = linearPart(p, g, weights, work)
        if (linear === null) break
        sum = 0
        for (let i = 0; i < n; i++) {
          let r = p.points[i]!.level - linear[0]! * g[i]!
          for (let j = 0; j < p.bases; j++) r -= linear[1 + j]! * p.points[i]!.base[j]!
          sum += Math.min(Math.abs(r), most)
          weights[i] = 1 / Math.max(Math.abs(r), 1e-4 * size)
        }
      }
      if (linear === null || !(linear[0]! > 0) || sum >= least) continue
      least = sum
      best = new Float64Array(sizeOf(p))
      best.set(place)
      if (p.free) best[p.shifts] = w
      best.set(linear, p.shifts + (p.free ? 1 : 0))
    }
  }
  return best
}

/** At most 100 samples for the grid: medians of neighbours, which also take out lone spikes. */
export function thinnedSamples(p: PeakProblem): PeakProblem {
  const { points } = p
  if (points.length <= 100 || p.o.range.length > 1) return p
  const order = [...points].sort((a, b) => a.at[0]! - b.at[0]!)
  const group = Math.ceil(points.length / 100)
  const out: PeakPoint[] = []
  for (let i = 0; i < order.length; i += group) {
    const some = order.slice(i, i + group)
    const middle = some[some.length >> 1]!
    out.push({ ...middle, level: median(some.map(q => q.level)) })
  }
  return { ...p, points: out }
}
