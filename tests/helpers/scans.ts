/** Scans with known truth, and the least position error that any unbiased fit could have (Cramér-Rao). */
import { inversePositive, square } from '../../src/core/matrices.ts'
import { onPaper } from '../../src/core/mount/slots.ts'
import type { MountKind } from '../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { fitCross } from '../../src/core/scan/cross.ts'
import { planCross } from '../../src/core/scan/crossplan.ts'
import { lineOffsetAt } from '../../src/core/scan/dishtrack.ts'
import { fitGaussian, type GaussianFit, type ScanSample } from '../../src/core/scan/gaussian.ts'
import { enuFromAzEl } from '../../src/core/vectors.ts'
import { chance } from './random.ts'
import { drawScene, type Scene } from './simulate.ts'
import { gravelPit } from './stations.ts'

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

/**
 * Cross scans in both coordinates on a mount in degrees, a landmark at 30° for target: position rms (both coordinates) over the
 * bound, stated σ over actual.
 */
export function crossTrials(seed: number, trials: number, snr: number, points: number) {
  const c = chance(seed)
  const station = stationFromRecord(
    gravelPit({
      site: { latDeg: 47, lonDeg: 9, heightM: 0 },
      feeds: [{ id: 'a', name: 'feed', frequencyMHz: 1296, beamwidthDeg: 5 }],
    }),
  )
  const D = Math.PI / 180
  const target = { type: 'landmark', az: 120 * D, el: 30 * D } as const
  const plan = planCross(station, station.feeds[0]!, onPaper(), target, 0, { points })!
  const place = plan.points.map(
    p => lineOffsetAt(station.model, onPaper(), 'beam', p, enuFromAzEl(target.az, target.el))!,
  )
  let [errors, bounds, stated, none] = [0, 0, 0, 0]
  for (let k = 0; k < trials; k++) {
    const truth = [c.between(-1, 1) * D, c.between(-1, 1) * D, 1, 0.3, 0.35]
    const levelOf = (p: readonly number[], i: number) => {
      const d2 = (place[i]!.right - p[0]!) ** 2 + (place[i]!.up - p[1]!) ** 2
      const base = plan.points[i]!.axis === 'lower' ? p[3]! : p[4]!
      return p[2]! * Math.exp((-4 * Math.LN2 * d2) / (5 * D) ** 2) + base
    }
    const samples = plan.points.map((p, i) => ({ ...p, level: levelOf(truth, i) + c.normal(1 / snr) }))
    const fit = fitCross(station, station.feeds[0]!, onPaper(), target, samples, { scale: 'linear' })
    if (fit.kind !== 'peak') {
      none++
      continue
    }
    errors += (fit.miss.right - truth[0]!) ** 2 + (fit.miss.up - truth[1]!) ** 2
    stated += fit.cov.rr + fit.cov.uu
    const m = square(5)
    for (let i = 0; i < place.length; i++) {
      const d = truth.map((_, j) => {
        const step = j < 2 ? 1e-6 : 1e-5
        const moved = (s: number) =>
          levelOf(
            truth.map((v, l) => (l === j ? v + s : v)),
            i,
          )
        return ((moved(step) - moved(-step)) / (2 * step)) * snr
      })
      for (let r = 0; r < 5; r++) for (let l = 0; l < 5; l++) m.a[r * 5 + l]! += d[r]! * d[l]!
    }
    const inverse = inversePositive(m).a
    bounds += inverse[0]! + inverse[6]!
  }
  return {
    overBound: Math.sqrt(errors / bounds),
    statedOverActual: Math.sqrt(stated / errors),
    none: none / trials,
    rms: Math.sqrt(errors / Math.max(1, trials - none)) / D,
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

/** Mounts a little off, so that the Sun still comes through the beam. */
export function nearly(seed: number, kind: MountKind, latDeg: number): Scene {
  const scene = drawScene(seed, { kind, latDeg, frequencyMHz: 1296, wild: false })
  for (const { truth } of scene.truths)
    for (const key of Object.keys(truth)) truth[key]! *= key.includes('Scale') ? 0.02 : key.includes('Arm') ? 0.1 : 0.12
  if (scene.record.mount.headingDeg !== undefined) scene.record.mount.headingDeg = latDeg >= 0 ? 180 : 0
  delete scene.cache
  return scene
}
