/** Scans with known truth, and the least position error that any unbiased fit could have (Cramér-Rao). */

import { inversePositive, square } from '../../src/core/matrices.ts'
import { fitGaussian, type GaussianFit, type ScanSample } from '../../src/core/scan/gaussian.ts'
import { chance } from './random.ts'

export interface ScanWish {
  /** Samples, evenly over `span` widths about 0. */
  samples: number
  span: number
  /** Height over a sample's noise. */
  snr: number
  width: 'free' | 'fixed'
  slope: boolean
  /** Height of the base in heights of the peak; noise in proportion to the power when `proportional`. */
  base?: number
  proportional?: boolean
}

const model = (x: number, p: readonly number[]): number =>
  p[2]! * Math.exp(-4 * Math.LN2 * ((x - p[0]!) / p[1]!) ** 2) + p[3]! + p[4]! * x

/** σ of x0 by the Cramér-Rao bound: the inverse of the Fisher matrix, derivatives by central differences. */
function bound(x: readonly number[], p: readonly number[], sigmas: readonly number[], free: readonly number[]): number {
  const m = square(free.length)
  x.forEach((at, i) => {
    const d = free.map(k => {
      const step = 1e-5
      const moved = (s: number) =>
        model(
          at,
          p.map((v, j) => (j === k ? v + s : v)),
        )
      return (moved(step) - moved(-step)) / (2 * step) / sigmas[i]!
    })
    for (let r = 0; r < free.length; r++)
      for (let c = 0; c < free.length; c++) m.a[r * free.length + c]! += d[r]! * d[c]!
  })
  return Math.sqrt(inversePositive(m).a[0]!)
}

/**
 * Many scans of one kind. @returns position rms over the bound; stated σ (rms) over actual; share of scans that found no peak
 */
export function scanTrials(seed: number, trials: number, wish: ScanWish) {
  const c = chance(seed)
  const errors: number[] = []
  const bounds: number[] = []
  const stated: number[] = []
  let none = 0
  for (let k = 0; k < trials; k++) {
    // Width 1, height 1; the peak anywhere within a sixth of a width of the middle.
    const truth = [c.between(-1 / 6, 1 / 6), 1, 1, wish.base ?? 0.3, wish.slope ? c.normal(0.02) : 0]
    const x = Array.from({ length: wish.samples }, (_, i) => wish.span * (i / (wish.samples - 1) - 0.5))
    const sigmas = x.map(at => (wish.proportional ? model(at, truth) : 1) / wish.snr)
    const samples: ScanSample[] = x.map((at, i) => ({ x: at, level: model(at, truth) + c.normal(sigmas[i]!) }))
    const fit = fitGaussian(samples, {
      scale: 'linear',
      width: wish.width === 'fixed' ? 1 : null,
      expectedWidth: 1,
      slope: wish.slope,
      noise: wish.proportional ? 'proportional' : 'even',
    })
    if (fit.kind !== 'peak') {
      none++
      continue
    }
    errors.push((fit as GaussianFit).x0 - truth[0]!)
    stated.push(fit.sigmaX0)
    bounds.push(bound(x, truth, sigmas, [0, ...(wish.width === 'free' ? [1] : []), 2, 3, ...(wish.slope ? [4] : [])]))
  }
  const rms = (list: readonly number[]) => Math.sqrt(list.reduce((a, v) => a + v * v, 0) / Math.max(1, list.length))
  return {
    overBound: rms(errors) / rms(bounds),
    statedOverActual: rms(stated) / rms(errors),
    none: none / trials,
    rms: rms(errors),
  }
}

/** The kinds of scans that the study runs through; the unit tests take a share of them. */
export const SCAN_KINDS: Record<string, Omit<ScanWish, 'snr'>> = {
  'drift, 120 samples over 4 widths': { samples: 120, span: 4, width: 'free', slope: true },
  'drift, width known': { samples: 120, span: 4, width: 'fixed', slope: true },
  'drift, noise in proportion': { samples: 120, span: 4, width: 'free', slope: true, proportional: true },
  'cross, nine points half a width apart': { samples: 9, span: 4, width: 'free', slope: true },
  'cross, nine points, width known': { samples: 9, span: 4, width: 'fixed', slope: false },
  'cross, five points half a width apart, width known': { samples: 5, span: 2, width: 'fixed', slope: false },
  'cross, seven points, width known': { samples: 7, span: 3, width: 'fixed', slope: false },
}
export const SNRS = [10, 20, 50, 200]
