/**
 * One scan, level against place: P(x) = A exp(-4 ln 2 ((x - x0)/w)²) + C + M t, fitted in linear power. Robust against
 * spikes, gaps and a receiver that clips; says when the peak is weak, clipped or not there. x, w in any one unit.
 * Source of the form and of the values it is held to: a published nine-point scan (tests/core/scan/gaussian.test.ts).
 */
import { atTheTop, dbFrom, type LevelScale, levelAbout, linearFrom } from './levels.ts'
import { fitPeak, type Peak, surely } from './peakfit.ts'
import type { PeakPoint } from './peakmodel.ts'

export interface ScanSample {
  x: number
  /** In the scan's own scale. */
  level: number
  /** For the slope M; x when left out. */
  t?: number
}

export interface GaussianOptions {
  scale: LevelScale
  /** Full width at half power where it is known; null: free. */
  width: number | null
  /** About how wide the peak is, where that much is known: a free width is looked for from a third to three times of it. */
  expectedWidth?: number
  /** Whether the base may rise or fall with t. Default: true from eight samples on. */
  slope?: boolean
  /** Default: 'proportional' for dB, 'even' for linear levels. */
  noise?: 'even' | 'proportional'
}

export interface GaussianFit {
  kind: 'peak'
  x0: number
  sigmaX0: number
  width: number
  /** 0 for a width that was given. */
  sigmaWidth: number
  /** Linear power. */
  amplitude: number
  sigmaAmplitude: number
  /** C at t = 0 and M; linear power. */
  base: number
  sigmaBase: number
  slope: number
  sigmaSlope: number
  /** Scatter of one sample, linear power. */
  rms: number
  dof: number
  /** A/σ_A below this cannot be told from nothing: see weakBelow. */
  isWeak: boolean
  /** The top was cut off by the receiver; those samples were left out. */
  isClipped: boolean
  /** The peak is nearer to an end of the scan than a quarter of its width: one flank is missing. */
  isAtEdge: boolean
  /** Indices of samples left out as spikes, and as clipped. */
  spikes: number[]
  clipped: number[]
  /** By how much σ was widened for noise that wanders slowly; 1 when it does not. */
  widened: number
  /**
   * The skirts are not those of a Gaussian (side lobes, ground): the place was found from the samples within one width of the
   * peak alone, and the width from all.
   */
  isShaped: boolean
  /** Level of peak and of base at the peak, in dB (of the scale's own zero, or of linear power 1); null when not above 0. */
  peakDb: number | null
  baseDb: number | null
}

type GaussianAnswer =
  | GaussianFit
  /** Not more samples than unknowns. */
  | { kind: 'too-few'; samples: number; needed: number }
  /** Nothing rises above the base by more than its own scatter. */
  | { kind: 'no-peak' }
  /** It still rises at the end of the scan: the peak lies beyond the first or last place. */
  | { kind: 'outside'; toward: 'first' | 'last' }

/**
 * A peak of fewer σ is called weak: noise alone shows as much in one scan of thousands. With few spare samples σ itself
 * is poorly known, and more is required.
 */
export const weakBelow = (dof: number): number => Math.max(5, surely(dof))

/** Fits one scan. Samples in order of time; numbers not finite are a mistake of ours and throw. */
export function fitGaussian(samples: readonly ScanSample[], o: GaussianOptions): GaussianAnswer {
  for (const s of samples)
    if (!Number.isFinite(s.x) || !Number.isFinite(s.level) || !Number.isFinite(s.t ?? 0))
      throw new RangeError(`fitGaussian: x, t and level must be finite, got ${s.x}, ${s.t}, ${s.level}`)
  const hasSlope = o.slope ?? samples.length >= 8
  const needed = (o.width === null ? 4 : 3) + (hasSlope ? 1 : 0) + 1
  if (samples.length < needed) return { kind: 'too-few', samples: samples.length, needed }
  const xs = samples.map(s => s.x)
  const lo = Math.min(...xs)
  const hi = Math.max(...xs)
  const span = hi - lo
  if (!(span > 0)) return { kind: 'no-peak' }
  const points: PeakPoint[] = samples.map(s => ({
    at: [s.x],
    level: linearFrom(o.scale, s.level),
    base: hasSlope ? [1, s.t ?? s.x] : [1],
    shifts: [[1]],
  }))
  const about = o.expectedWidth ?? o.width
  const widths: [number, number] =
    about === null ? [Math.max((1.2 * span) / samples.length, span / 40), 1.5 * span] : [about / 3, about * 3]
  const margin = 0.25 * Math.min(span, about ?? span)
  const fitOf = (list: PeakPoint[]): Peak | null =>
    fitPeak(list, {
      width: o.width,
      widths,
      noise: o.noise ?? (o.scale === 'dB' ? 'proportional' : 'even'),
      range: [[lo - margin, hi + margin]],
    })
  const top = atTheTop(samples.map(s => s.level))
  let peak = fitOf(points)
  let clipped: number[] = []
  let index = samples.map((_, i) => i)
  if (top.length > 0 && samples.length - top.length >= needed) {
    const rest = index.filter(i => !top.includes(i))
    const flanks = fitOf(rest.map(i => points[i]!))
    if (flanks !== null && isCutOff(flanks, points, top, hasSlope)) {
      peak = flanks
      clipped = top
      index = rest
    }
  }
  if (peak === null) return { kind: 'no-peak' }
  const main = peak.widened < SHAPED ? null : mainBeam(peak, points, index, fitOf)
  // Where t is not x, the time of the nearest sample is that of the peak.
  const tAt = (x: number): number => {
    const nearest = samples.reduce((a, s) => (Math.abs(s.x - x) < Math.abs(a.x - x) ? s : a))
    return nearest.t ?? x
  }
  return answerOf(peak, { o, hasSlope, index, clipped, lo, hi, tAt, points, main })
}

/** Where residuals are so correlated that σ grows threefold, the beam's shape is the cause, not noise. */
const SHAPED = 3

/** The fit of the samples within one width of the peak; null when too few are there. */
function mainBeam(
  peak: Peak,
  points: readonly PeakPoint[],
  index: readonly number[],
  fitOf: (list: PeakPoint[]) => Peak | null,
): Peak | null {
  const x0 = peak.values[0]!
  const near = index.filter((i, k) => peak.kept[k] === 1 && Math.abs(points[i]!.at[0]! - x0) < peak.width)
  const main = near.length < 20 ? null : fitOf(near.map(i => points[i]!))
  return main !== null && Math.abs(main.values[0]! - x0) < peak.width / 4 ? main : null
}

/** True when the flanks' fit stands clearly above the level at which the top is flat. */
function isCutOff(flanks: Peak, points: readonly PeakPoint[], top: readonly number[], hasSlope: boolean): boolean {
  const { values, covariance, width, height } = flanks
  const a = values.length - 1 - (hasSlope ? 2 : 1)
  const above = top.map(i => {
    const p = points[i]!
    const g = Math.exp(-4 * Math.LN2 * ((p.at[0]! - values[0]!) / width) ** 2)
    return height * g + values[a + 1]! + (hasSlope ? values[a + 2]! * p.base[1]! : 0) - p.level
  })
  const mean = above.reduce((s, x) => s + x, 0) / above.length
  const sigma = Math.hypot(flanks.scatter, Math.sqrt(covariance.a[a * covariance.n + a]!))
  return mean > 3 * sigma && above.filter(x => x > 0).length >= 0.6 * above.length
}

function answerOf(
  peak: Peak,
  c: {
    o: GaussianOptions
    hasSlope: boolean
    index: number[]
    clipped: number[]
    lo: number
    hi: number
    tAt: (x: number) => number
    points: PeakPoint[]
    main: Peak | null
  },
): GaussianAnswer {
  const { main } = c
  const { values, covariance, width } = peak
  const height = (main ?? peak).height
  const sigma = (k: number): number => Math.sqrt(Math.max(0, covariance.a[k * covariance.n + k]!))
  const free = c.o.width === null
  const a = free ? 2 : 1
  const x0 = (main ?? peak).values[0]!
  const sigmaX0 = main === null ? sigma(0) : Math.sqrt(main.covariance.a[0]!)
  const sigmaAmplitude = sigma(a)
  if (!(height > 2 * sigmaAmplitude)) return { kind: 'no-peak' }
  if (x0 < c.lo || x0 > c.hi) return { kind: 'outside', toward: x0 < c.lo ? 'first' : 'last' }
  const base = values[a + 1]!
  const slope = c.hasSlope ? values[a + 2]! : 0
  const top = c.index.filter((i, k) => peak.kept[k] === 1 && Math.abs(c.points[i]!.at[0]! - x0) < 0.2 * width)
  const seen =
    c.clipped.length > 0
      ? null
      : levelAbout(
          top.map(i => c.points[i]!.at[0]! - x0),
          top.map(i => c.points[i]!.level),
        )
  const under = base + slope * c.tAt(x0)
  return {
    kind: 'peak',
    x0,
    sigmaX0,
    width,
    sigmaWidth: free ? sigma(1) : 0,
    amplitude: height,
    sigmaAmplitude,
    base,
    sigmaBase: sigma(a + 1),
    slope,
    sigmaSlope: c.hasSlope ? sigma(a + 2) : 0,
    rms: peak.scatter,
    dof: peak.dof,
    isWeak: height < weakBelow(peak.dof) * sigmaAmplitude,
    isClipped: c.clipped.length > 0,
    isAtEdge: Math.min(x0 - c.lo, c.hi - x0) < width / 4,
    spikes: c.index.filter((_, k) => peak.kept[k] === 0),
    clipped: c.clipped,
    widened: peak.widened,
    isShaped: main !== null,
    peakDb: dbFrom(seen ?? height + under),
    baseDb: dbFrom(under),
  }
}
