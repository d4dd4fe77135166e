/**
 * Scans as JSON: plans and fits in degrees, readings and UTC text, with the sighting that follows, ready for the field book.
 * Levels stay in the scale they came in. Times in records are the device's; the clock's error is taken off before a fit.
 */
import { offsetPartials } from '../fit/residuals.ts'
import { variancePart } from '../fit/skyerror.ts'
import { builtFor } from '../fit/solution.ts'
import type { Solved } from '../fit/solved.ts'
import { type Built, SLOTS } from '../mount/slots.ts'
import { feedOf } from '../records/feeds.ts'
import type { Axis, Side, TargetRecord } from '../records/fieldbook.ts'
import { msFromUtc, utcFromMs } from '../records/instant.ts'
import { type CrossScanRecord, type DriftScanRecord, knownScans, wholeDrift } from '../records/scans.ts'
import type { Feed } from '../records/station.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { apparentPlace } from '../sky/targets.ts'
import { degFromRad, type Rad, radFromDeg, type UtcMs } from '../units.ts'
import { type CrossAnswer, fitCross } from './cross.ts'
import { planCross } from './crossplan.ts'
import { type SightingDraft, sightingDraft, spotDeg } from './draft.ts'
import { type DriftAnswer, type DriftFit, fitDrift, planDrift } from './drift.ts'
import { dbFrom } from './levels.ts'

const deg = degFromRad

/** A sample that the person left out: kept in the record, not fitted. */
const isOut = (sample: object): boolean => (sample as { out?: unknown }).out === true

export interface DriftPlanJson {
  lower: number
  upper: number
  inside: boolean
  peakUtc: string
  fromUtc: string
  toUtc: string
  widthS: number
  expectedWidthDeg: number
  rateDegPerMin: number
  /** Which way the target runs through the dish, unit, as seen from behind. */
  alongRight: number
  alongUp: number
  acrossDeg: number
}

export function driftPlanJson(solved: Solved, feed: Feed, target: TargetRecord, passUtc: string): DriftPlanJson | null {
  const at = msFromUtc(passUtc)
  const plan = planDrift(solved.station, feed, builtFor(solved, at, feed).built, targetFromRecord(target), at)
  if (plan === null) return null
  return {
    lower: plan.lower,
    upper: plan.upper,
    inside: plan.inside,
    peakUtc: utcFromMs(plan.peakUtcMs),
    fromUtc: utcFromMs(plan.fromUtcMs),
    toUtc: utcFromMs(plan.toUtcMs),
    widthS: plan.widthS,
    expectedWidthDeg: deg(plan.widthS * plan.rate),
    rateDegPerMin: deg(60 * plan.rate),
    alongRight: plan.along.right,
    alongUp: plan.along.up,
    acrossDeg: deg(plan.across),
  }
}

export interface DriftFitJson {
  kind: 'peak'
  /** True time of the peak, and the second of the scan (device's clock). */
  peakUtc: string
  peakS: number
  sigmaS: number
  rateDegPerMin: number
  alongRight: number
  alongUp: number
  sigmaAlongDeg: number
  acrossDeg: number
  sigmaAcrossDeg: number
  acrossFrom: DriftFit['acrossFrom']
  /** Along the drift: where the mount as solved had put the target at the peak; 0 is right. */
  missAlongDeg: number
  widthDeg: number
  sigmaWidthDeg: number
  expectedWidthDeg: number
  /** Measured over expected width is off by more than 3 σ and by more than a tenth. */
  isWidthOdd: boolean
  isWeak: boolean
  isClipped: boolean
  isAtEdge: boolean
  isShaped: boolean
  /** Indices among all samples of scan and parts, in order of time. */
  spikes: number[]
  clipped: number[]
  /** Peak over base. */
  riseDb: number | null
  /** Of the sky under the peak, linear power in the scan's unit. */
  basePower: number
  /** The fitted curve in the scan's scale. */
  curve: { s: number; level: number }[]
  sighting: SightingDraft
}

export type DriftAnswerJson = DriftFitJson | Exclude<DriftAnswer, { kind: 'peak' }>

/** σ of the predicted offset at a pose by the solution, in the worst direction: it decides whether a sign may be trusted. */
function sigmaOfOffset(solved: Solved, built: Built, C: Float64Array, scan: DriftScanRecord, utcMs: UtcMs): Rad {
  const { station } = solved
  const t = apparentPlace(targetFromRecord(scan.target), utcMs, station.site, 'radio').direction
  const J = new Float64Array(2 * SLOTS)
  if (offsetPartials(station.model, built, 'beam', t, scan.lower, scan.upper, 0, 0, J) === null) return Infinity
  return Math.sqrt(variancePart(J, C))
}

export interface DriftWish {
  scan: DriftScanRecord
  /** 'free' (default) or 'known'. */
  width?: 'free' | 'known'
  /** Height over the base in the beam's centre, linear power in the scan's unit, with its σ. */
  height?: { value: number; sigma: number }
}

/** Fits a drift scan. @param scans the station's, whose parts are joined to it */
export function driftFitJson(solved: Solved, wish: DriftWish, scans: readonly unknown[] | undefined): DriftAnswerJson {
  const { scan } = wish
  const { station } = solved
  const feed = feedOf(station, scan.feed)
  const whole = wholeDrift(scan, knownScans(scans)).samples
  const kept = whole.flatMap((sample, i) => (isOut(sample) ? [] : [i]))
  const samples = kept.map(i => whole[i]!)
  const startMs = msFromUtc(scan.utc)
  const offsetMs = 1000 * (scan.clockOffsetS ?? 0)
  const list = samples.map(s => ({ utcMs: startMs + 1000 * s.s - offsetMs, level: s.level }))
  const { built, covariance } = builtFor(solved, startMs - offsetMs, feed)
  const fit = fitDrift(station, feed, built, targetFromRecord(scan.target), scan, list, {
    scale: scan.scale,
    width: wish.width ?? 'free',
    ...(wish.height === undefined ? {} : { height: wish.height }),
    sigmaAcross: sigmaOfOffset(solved, built, covariance, scan, list[list.length >> 1]?.utcMs ?? startMs),
  })
  if (fit.kind !== 'peak') return fit
  const g = fit.gaussian
  const peakS = (fit.peakUtcMs + offsetMs - startMs) / 1000
  const first = samples[0]!.s
  const last = samples[samples.length - 1]!.s
  const curve = Array.from({ length: 81 }, (_, k) => {
    const s = first + ((last - first) * k) / 80
    const d = ((s - peakS) * fit.rate) / fit.width
    const power = g.amplitude * Math.exp(-4 * Math.LN2 * d * d) + g.base + g.slope * (s - first)
    return { s, level: scan.scale === 'dB' ? dbFrom(power) : power }
    // A fitted power below 0 has no dB and is not drawn.
  }).filter((point): point is { s: number; level: number } => point.level !== null)
  const odd = Math.abs(fit.width - fit.expectedWidth)
  return {
    kind: 'peak',
    peakUtc: utcFromMs(fit.peakUtcMs),
    peakS,
    sigmaS: fit.sigmaS,
    rateDegPerMin: deg(60 * fit.rate),
    alongRight: fit.along.right,
    alongUp: fit.along.up,
    sigmaAlongDeg: deg(fit.sigmaAlong),
    acrossDeg: deg(fit.across),
    sigmaAcrossDeg: deg(fit.sigmaAcross),
    acrossFrom: fit.acrossFrom,
    missAlongDeg: deg(fit.predicted.right * fit.along.right + fit.predicted.up * fit.along.up),
    widthDeg: deg(fit.width),
    sigmaWidthDeg: deg(fit.sigmaWidth),
    expectedWidthDeg: deg(fit.expectedWidth),
    isWidthOdd: odd > 3 * fit.sigmaWidth && odd > 0.1 * fit.expectedWidth,
    isWeak: g.isWeak,
    isClipped: g.isClipped,
    isAtEdge: g.isAtEdge,
    isShaped: g.isShaped,
    spikes: g.spikes.map(i => kept[i]!),
    clipped: g.clipped.map(i => kept[i]!),
    riseDb: g.peakDb === null || g.baseDb === null ? null : g.peakDb - g.baseDb,
    basePower: g.base + g.slope * (peakS - first),
    curve,
    sighting: sightingDraft(scan, 'drift-scan', feed, {
      utcMs: fit.peakUtcMs,
      lower: scan.lower,
      upper: scan.upper,
      arrivedFrom: scan.arrivedFrom,
      offset: fit.across === 0 ? undefined : fit.offset,
      cov: fit.cov,
    }),
  }
}

export interface CrossPlanJson {
  points: {
    axis: Axis
    index: number
    utc: string
    lower: number
    upper: number
    inside: boolean
    offsetDeg: number
  }[]
  approach: { axis: Axis; lower: number; upper: number }[]
  from: Side
  stepDeg: number
  stepReading: Partial<Record<Axis, number>>
  useless: Axis[]
  expectedWidthDeg: number
}

export interface CrossWishJson {
  target: TargetRecord
  fromUtc: string
  points?: number
  /** In beamwidths. */
  step?: number
  from?: Side
  secondsEach?: number
  axes?: Axis[]
  /** Where the peak is thought to be, from the beam of the mount as solved. */
  centre?: { rightDeg: number; upDeg: number }
}

export function crossPlanJson(solved: Solved, feed: Feed, wish: CrossWishJson): CrossPlanJson | null {
  const at = msFromUtc(wish.fromUtc)
  const { target, fromUtc, centre, ...rest } = wish
  const plan = planCross(solved.station, feed, builtFor(solved, at, feed).built, targetFromRecord(target), at, {
    ...rest,
    ...(centre === undefined ? {} : { centre: { right: radFromDeg(centre.rightDeg), up: radFromDeg(centre.upDeg) } }),
  })
  if (plan === null) return null
  return {
    points: plan.points.map(({ utcMs, offset, ...p }) => ({ ...p, utc: utcFromMs(utcMs), offsetDeg: deg(offset) })),
    approach: plan.approach,
    from: plan.from,
    stepDeg: deg(plan.step),
    stepReading: plan.stepReading,
    useless: plan.useless,
    expectedWidthDeg: deg(plan.expectedWidth),
  }
}

export interface CrossFitJson {
  kind: 'peak'
  /** Where the mount as solved is wrong: the target from its beam when the true beam is on it. */
  miss: { rightDeg: number; upDeg: number }
  sigmaRightDeg: number
  sigmaUpDeg: number
  /** Readings that were the peak, at the moment of the sighting. */
  lower: number
  upper: number
  lostMotion: { axis: Axis; playDeg: number; sigmaDeg: number; readings: number; isSure: boolean }[]
  axes: Axis[]
  beyond: Axis[]
  widthDeg: number
  sigmaWidthDeg: number
  expectedWidthDeg: number
  isWeak: boolean
  rejected: number[]
  arms: { axis: Axis; samples: { index: number; placeDeg: number; level: number; isKept: boolean; from?: Side }[] }[]
  /** Height of the peak over the base, linear power. */
  height: number
  sighting: SightingDraft
}

export type CrossAnswerJson = CrossFitJson | Exclude<CrossAnswer, { kind: 'peak' }>

/** Fits a cross scan. */
export function crossFitJson(
  solved: Solved,
  wish: { scan: CrossScanRecord; width?: 'free' | 'known' },
): CrossAnswerJson {
  const { scan } = wish
  const { station } = solved
  const feed = feedOf(station, scan.feed)
  const offsetMs = 1000 * (scan.clockOffsetS ?? 0)
  const startMs = msFromUtc(scan.utc) - offsetMs
  const kept = scan.samples
    .map((sample, index) => ({ sample, index }))
    .filter(({ sample }) => !isOut(sample))
    .sort((a, b) => a.sample.s - b.sample.s)
  const samples = kept.map(({ sample: { s, ...rest } }) => ({ ...rest, utcMs: startMs + 1000 * s }))
  const { built } = builtFor(solved, startMs, feed)
  const fit = fitCross(station, feed, built, targetFromRecord(scan.target), samples, {
    scale: scan.scale,
    width: wish.width ?? 'known',
  })
  if (fit.kind !== 'peak') return fit
  const isOffset = fit.offset.right !== 0 || fit.offset.up !== 0
  const sides = Object.keys(fit.arrivedFrom).length > 0
  return {
    kind: 'peak',
    miss: spotDeg(fit.miss),
    sigmaRightDeg: deg(Math.sqrt(fit.cov.rr)),
    sigmaUpDeg: deg(Math.sqrt(fit.cov.uu)),
    lower: fit.lower,
    upper: fit.upper,
    lostMotion: fit.lostMotion.map(l => ({
      axis: l.axis,
      playDeg: deg(l.play),
      sigmaDeg: deg(l.sigma),
      readings: l.readings,
      isSure: Math.abs(l.play) > 3 * l.sigma,
    })),
    axes: fit.axes,
    beyond: fit.beyond,
    widthDeg: deg(fit.width),
    sigmaWidthDeg: deg(fit.sigmaWidth),
    expectedWidthDeg: deg(fit.expectedWidth),
    isWeak: fit.isWeak,
    rejected: fit.rejected.map(i => kept[i]!.index),
    arms: fit.arms.map(a => ({
      axis: a.axis,
      samples: a.samples.map(({ place, index, ...s }) => ({ ...s, index: kept[index]!.index, placeDeg: deg(place) })),
    })),
    height: fit.amplitude,
    sighting: sightingDraft(scan, 'cross-scan', feed, {
      utcMs: fit.utcMs,
      lower: fit.lower,
      upper: fit.upper,
      arrivedFrom: sides ? fit.arrivedFrom : undefined,
      offset: isOffset ? fit.offset : undefined,
      cov: fit.cov,
    }),
  }
}
