/**
 * The fit behind every scan: a Gaussian peak on a base, P = A exp(-4 ln 2 |d|²/w²) + Σ c_j base_j, in linear power, with
 * d = at - Σ θ_k shift_k: the sample's place minus the peak's, in one or two coordinates. A start from a grid (least
 * absolute deviations, so spikes do not lead it), Tukey's biweight, hard rejection by studentised residuals, and at last the
 * plain least-squares fit of the kept samples: nothing is lost where nothing was wrong, and σ is honest.
 * Places and widths in any one unit; levels in any linear unit.
 */
import { quadraticForm, type Square } from '../matrices.ts'
import { descend, inverse } from './descent.ts'
import { evaluate, median, type PeakOptions, type PeakPoint, type PeakProblem, sizeOf } from './peakmodel.ts'
import { gridStart, thinnedSamples } from './peakstart.ts'

export interface Peak {
  /** The shifts, then the width when it is free, then A, then the base's coefficients. */
  values: Float64Array
  /** Of the values, scaled by the scatter; rows as values. */
  covariance: Square
  /** Full width at half power, free or as given. */
  width: number
  height: number
  /** Scatter of a sample of mean noise, linear power; corrected for the parameters. */
  scatter: number
  dof: number
  sumSquares: number
  /** 1 for the samples that were kept. */
  kept: Uint8Array
  residuals: Float64Array
  /** By how much σ was widened because neighbouring residuals go together; 1 when they do not. */
  widened: number
}

/**
 * Student's t that is passed by chance once in 10 000, either side, with ν degrees of freedom.
 * Source: Cornish-Fisher expansion of t about the normal quantile 3.891 (Abramowitz & Stegun 26.7.5); 4 % low at ν = 6.
 */
export const surely = (nu: number): number => {
  const z = 3.8906
  return (
    z +
    (z ** 3 + z) / (4 * nu) +
    (5 * z ** 5 + 16 * z ** 3 + 3 * z) / (96 * nu ** 2) +
    (3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / (384 * nu ** 3)
  )
}

/** From this many samples on, several spikes could hide each other in a plain fit, and the biweight is safe. */
const MANY = 20

/** Moves `values` to the plain fit of all samples if none stands out there; else leaves them as they were. */
function isPlainEnough(
  p: PeakProblem,
  values: Float64Array,
  weigh: () => void,
  noise: () => Float64Array,
  most: number,
): boolean {
  const before = Float64Array.from(values)
  const n = p.points.length
  let end = descend(p, values, noise())
  for (let pass = 0; pass < 3 && end !== null; pass++) {
    weigh()
    end = descend(p, values, noise())
  }
  const inv = end === null ? null : inverse(end.normal)
  const size = values.length
  const gradient = new Float64Array(size)
  const isFine =
    end !== null &&
    inv !== null &&
    p.points.every((point, i) => {
      const r2 = (point.level - evaluate(p, values, i, gradient)) ** 2 * noise()[i]!
      const left = Math.max(1e-3, 1 - quadraticForm(inv.a, size, gradient) * noise()[i]!)
      return r2 / left <= (most ** 2 * Math.max(0, end.sum - r2 / left)) / Math.max(1, n - size - 1)
    })
  if (!isFine) values.set(before)
  return isFine
}

/** With fewer spare samples nothing is rejected, since it cannot be told which one is wrong. */
const SPARE = 6

/**
 * Fits the peak. Samples in order of time (their neighbours' residuals are compared).
 *
 * @returns null when nothing rises above the base, or the samples do not determine the parameters
 */
export function fitPeak(points: readonly PeakPoint[], o: PeakOptions): Peak | null {
  const free = o.width === null
  const p: PeakProblem = { points, shifts: points[0]!.shifts.length, bases: points[0]!.base.length, free, o }
  const n = points.length
  const size = sizeOf(p)
  if (n <= size) return null
  const values = gridStart(thinnedSamples(p))
  if (values === null) return null
  const dof = n - size
  const even = new Float64Array(n).fill(1)
  let noise = even
  const residualOf = (i: number): number => points[i]!.level - evaluate(p, values, i, null)
  const scaleNow = (): number => {
    const list = points.map((_, i) => Math.abs(residualOf(i)) * Math.sqrt(noise[i]!))
    const s = 1.4826 * median(list) * Math.sqrt(n / dof)
    return Math.max(s, 1e-9 * Math.abs(values[p.shifts + (free ? 1 : 0)]!))
  }
  const weigh = (): void => {
    if (o.noise === 'even') return
    const model = points.map((_, i) => Math.max(1e-300, evaluate(p, values, i, null)))
    const middle = median(model)
    noise = Float64Array.from(model, m => (middle / Math.max(m, middle / 100)) ** 2)
  }
  let kept = new Uint8Array(n).fill(1)
  // Few samples: the plain fit first, since a biweight about a rough start may reject the peak itself.
  const isClean = n < MANY && isPlainEnough(p, values, weigh, () => noise, surely(Math.max(1, dof - 1)))
  if (dof >= SPARE && !isClean) {
    const tukey = new Float64Array(n)
    for (let pass = 0; pass < 12; pass++) {
      weigh()
      const c = 4.685 * scaleNow()
      for (let i = 0; i < n; i++) {
        const u = (residualOf(i) * Math.sqrt(noise[i]!)) / c
        tukey[i] = Math.abs(u) < 1 ? noise[i]! * (1 - u * u) ** 2 : 0
      }
      const before = Float64Array.from(values)
      if (descend(p, values, tukey) === null) return null
      if (values.every((v, k) => Math.abs(v - before[k]!) <= 1e-9 * Math.abs(v))) break
    }
    const c = 5 * scaleNow()
    kept = Uint8Array.from(points, (_, i) => (Math.abs(residualOf(i)) * Math.sqrt(noise[i]!) <= c ? 1 : 0))
  }
  const gradient = new Float64Array(size)
  let last: { inv: Square; sum: number; dof: number } | null = null
  for (let pass = 0; pass < 25; pass++) {
    const used = kept.reduce((a, k) => a + k, 0)
    if (used <= size) return null
    for (let again = 0; again < (o.noise === 'even' ? 1 : 4); again++) {
      weigh()
      if (
        descend(
          p,
          values,
          noise.map((w, i) => w * kept[i]!),
        ) === null
      )
        return null
    }
    const end = descend(
      p,
      values,
      noise.map((w, i) => w * kept[i]!),
    )
    const inv = end === null ? null : inverse(end.normal)
    if (end === null || inv === null) return null
    last = { inv, sum: end.sum, dof: used - size }
    if (dof < SPARE || last.dof < 3) break
    // Each sample against the fit without it.
    const next = Uint8Array.from(points, (_, i) => {
      const r2 = residualOf(i) ** 2 * noise[i]!
      evaluate(p, values, i, gradient)
      const h = noise[i]! * quadraticForm(inv.a, size, gradient)
      if (kept[i] === 1) {
        if (h > 0.999) return 1
        const nu = last!.dof - 1
        const without = (last!.sum - r2 / (1 - h)) / nu
        return r2 / (1 - h) <= surely(nu) ** 2 * Math.max(0, without) ? 1 : 0
      }
      return r2 / (1 + h) <= surely(last!.dof) ** 2 * (last!.sum / last!.dof) ? 1 : 0
    })
    // Never more than a third: then the model is wrong, not the samples.
    if (next.every((k, i) => k === kept[i]) || next.reduce((a, k) => a + k, 0) < (2 * n) / 3) break
    // While anything is rejected nothing is taken back: otherwise two samples may alternate for ever.
    const isLeaving = next.some((k, i) => k < kept[i]!)
    kept = isLeaving ? next.map((k, i) => Math.min(k, kept[i]!)) : next
  }
  const { inv, sum, dof: left } = last!
  const residuals = Float64Array.from(points, (_, i) => residualOf(i))
  const widened = widening(
    residuals.map((r, i) => r * Math.sqrt(noise[i]!)).filter((_, i) => kept[i] === 1),
    size,
  )
  const variance = (sum / left) * widened ** 2
  const covariance: Square = { n: size, a: inv.a.map(x => x * variance) }
  return {
    values,
    covariance,
    width: free ? Math.abs(values[p.shifts]!) : o.width!,
    height: values[p.shifts + (free ? 1 : 0)]!,
    scatter: Math.sqrt(sum / left),
    dof: left,
    sumSquares: sum,
    kept,
    residuals,
    widened,
  }
}

/**
 * √((1 + ρ)/(1 - ρ)) for the residuals' correlation with the next one, where it is more than chance (2.5 σ). A fit of p unknowns
 * takes about (p + 3 ρ)/n out of ρ, which is given back.
 */
function widening(r: Float64Array, p: number): number {
  const n = r.length
  if (n < 30) return 1
  let own = 0
  let next = 0
  for (let i = 0; i < n; i++) {
    own += r[i]! ** 2
    if (i > 0) next += r[i]! * r[i - 1]!
  }
  const rho = own > 0 ? next / own : 0
  if (rho < 2.5 / Math.sqrt(n)) return 1
  const whole = Math.min(0.97, rho + (p + 3 * rho) / n)
  return Math.sqrt((1 + whole) / (1 - whole))
}
