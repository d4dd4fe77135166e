/**
 * A row of Sun noise against a setting of the feed: where along it the dish hears best. A parabola in dB by least squares; its
 * vertex with Fieller's interval (the set of places at which the slope may be zero), which is unbounded where no peak can be told
 * from the scatter. Settings in the row's own unit, mm or degrees; levels in dB.
 * Source of the interval: E. C. Fieller 1954, J. R. Statist. Soc. B 16, 175 (from memory), for the ratio -b/2c.
 */
import { chiSquare99 } from '../chance.ts'
import { inversePositive, square } from '../matrices.ts'

export interface RowReading {
  at: number
  yDb: number
  /** 1 σ; null where nothing is stated: then the row's own scatter says it. */
  sigmaDb: number | null
}

export type RowEnd = 'more' | 'less'

export type RowVerdict =
  /** Fewer than four different settings, or too few readings to see their scatter: `wanted` more are needed. */
  | { kind: 'not-enough'; wanted: number }
  /** Neither peak nor slope stands out of the scatter. */
  | { kind: 'flat' }
  /** The level rises toward one end, and the best is not bracketed. */
  | { kind: 'open'; toward: RowEnd }
  /** The best lies beyond that end, 19 times in 20. Where, the row does not say. */
  | { kind: 'outside'; toward: RowEnd }
  /** The level is lowest in the middle. */
  | { kind: 'valley' }
  /** Bracketed: the whole 95 % interval lies within the row. */
  | { kind: 'best'; at: number; low68: number; high68: number; low95: number; high95: number; yDb: number }

export interface RowAnswer {
  verdict: RowVerdict
  /** The parabola a + b x + c x²; null while there is not enough. */
  curve: { a: number; b: number; c: number } | null
  /** 1 σ of one reading as the interval takes it, dB. */
  scatterDb: number | null
}

const SETTINGS = 4

/** Student's t, two-sided, for 1 to 20 degrees of freedom (standard tables); beyond, 1.96 or 1 and a share of 1/n. */
const T95 = [
  12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.16, 2.145, 2.131, 2.12, 2.11,
  2.101, 2.093, 2.086,
]
const T68 = [
  1.837, 1.321, 1.197, 1.142, 1.111, 1.091, 1.077, 1.067, 1.059, 1.053, 1.048, 1.043, 1.04, 1.037, 1.034, 1.032, 1.03,
  1.029, 1.027, 1.026,
]
const t95 = (dof: number): number => T95[dof - 1] ?? 1.96 + 2.52 / dof
const t68 = (dof: number): number => T68[dof - 1] ?? 1 + 0.52 / dof

/**
 * A best is reported for rows whose curve came out steep and whose scatter came out small: their σ is a little too
 * small. Widened by these factors the intervals hold what they claim (measured: tests/studies/feedrow.study.ts).
 */
const CHOSEN = { stated: { q68: 1.12, q95: 1.1 }, byScatter: { q68: 1.3, q95: 1.25 } } as const

interface Fit {
  p: number[]
  /** Covariance for weights as given. */
  C: number[][]
  chi2: number
}

/** Weighted least squares in powers of u up to `degree`. */
function polynomial(u: readonly number[], y: readonly number[], w: readonly number[], degree: number): Fit {
  const n = degree + 1
  const H = square(n)
  const g = new Array<number>(n).fill(0)
  u.forEach((x, i) => {
    for (let r = 0; r < n; r++) {
      g[r]! += w[i]! * x ** r * y[i]!
      for (let c = 0; c < n; c++) H.a[r * n + c]! += w[i]! * x ** (r + c)
    }
  })
  const inverse = inversePositive(H)
  const C = Array.from({ length: n }, (_, r) => Array.from({ length: n }, (_, c) => inverse.a[r * n + c]!))
  const p = C.map(row => row.reduce((sum, v, k) => sum + v * g[k]!, 0))
  const chi2 = u.reduce((sum, x, i) => sum + w[i]! * (y[i]! - p.reduce((s, v, k) => s + v * x ** k, 0)) ** 2, 0)
  return { p, C, chi2 }
}

/** Where the slope may be zero at q σ; null where that is everywhere or nowhere bounded. */
function fieller(fit: Fit, scale2: number, q: number): [number, number] | null {
  const [, b, c] = fit.p as [number, number, number]
  const k = q * q * scale2
  const [Vbb, Vbc, Vcc] = [fit.C[1]![1]!, fit.C[1]![2]!, fit.C[2]![2]!]
  const A = 4 * (c * c - k * Vcc)
  const B = 4 * (b * c - k * Vbc)
  const D = b * b - k * Vbb
  const root = B * B - 4 * A * D
  if (!(A > 0) || !(root >= 0)) return null
  return [(-B - Math.sqrt(root)) / (2 * A), (-B + Math.sqrt(root)) / (2 * A)]
}

/** What a row says. @param readings  in any order; settings may repeat */
export function feedRow(readings: readonly RowReading[]): RowAnswer {
  const settings = new Set(readings.map(r => r.at)).size
  const isStated = readings.every(r => r.sigmaDb !== null)
  const needed = Math.max(SETTINGS - settings, (isStated ? 4 : 5) - readings.length)
  if (needed > 0) return { verdict: { kind: 'not-enough', wanted: needed }, curve: null, scatterDb: null }

  const from = Math.min(...readings.map(r => r.at))
  const to = Math.max(...readings.map(r => r.at))
  const [middle, half] = [(from + to) / 2, (to - from) / 2]
  const u = readings.map(r => (r.at - middle) / half)
  const y = readings.map(r => r.yDb)
  const w = readings.map(r => (isStated ? 1 / r.sigmaDb! ** 2 : 1))
  const fit = polynomial(u, y, w, 2)
  const dof = readings.length - 3
  // Stated σ are believed until the row scatters more than they allow once in a hundred.
  const isBelieved = isStated && fit.chi2 <= chiSquare99(dof)
  const scale2 = isBelieved ? 1 : fit.chi2 / dof
  const widen = isBelieved ? CHOSEN.stated : CHOSEN.byScatter
  const q95 = widen.q95 * (isBelieved ? 1.96 : t95(dof))
  const q68 = widen.q68 * (isBelieved ? 1 : t68(dof))
  const [a0, b0, c0] = fit.p as [number, number, number]
  const curve = {
    a: a0 - (b0 * middle) / half + c0 * (middle / half) ** 2,
    b: b0 / half - (2 * c0 * middle) / (half * half),
    c: c0 / (half * half),
  }
  const each = isStated ? readings.reduce((sum, r) => sum + r.sigmaDb! ** 2, 0) / readings.length : 1
  const scatterDb = Math.sqrt(scale2 * each)
  const said = (verdict: RowVerdict): RowAnswer => ({ verdict, curve, scatterDb })

  const wide = fieller(fit, scale2, q95)
  if (wide === null) {
    const line = polynomial(u, y, w, 1)
    const slopeScale = isBelieved ? 1 : Math.max(scale2, line.chi2 / (dof + 1))
    const slope = line.p[1]! / Math.sqrt(slopeScale * line.C[1]![1]!)
    return said(Math.abs(slope) > q95 ? { kind: 'open', toward: slope > 0 ? 'more' : 'less' } : { kind: 'flat' })
  }
  if (c0 > 0) return said({ kind: 'valley' })
  const back = (x: number): number => middle + half * x
  if (wide[0] > 1 || wide[1] < -1) return said({ kind: 'outside', toward: wide[0] > 1 ? 'more' : 'less' })
  if (wide[0] < -1 && wide[1] > 1) return said({ kind: 'flat' })
  if (wide[1] > 1 || wide[0] < -1) return said({ kind: 'open', toward: wide[1] > 1 ? 'more' : 'less' })
  const narrow = fieller(fit, scale2, q68)!
  const best = -b0 / (2 * c0)
  return said({
    kind: 'best',
    at: back(best),
    low68: back(narrow[0]),
    high68: back(narrow[1]),
    low95: back(wide[0]),
    high95: back(wide[1]),
    yDb: a0 + b0 * best + c0 * best * best,
  })
}
