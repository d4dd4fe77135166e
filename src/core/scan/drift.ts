/**
 * The drift scan: the dish stands parked ahead of a target, which drifts through its beam; level against time. The track runs
 * through the dish (scan/dishtrack.ts) as a line; the Gaussian is fitted along it, so an uneven rate does no harm. What comes
 * out is a sighting at the moment of the peak: sharp along the drift, hardly known across it unless the height is known.
 * Radians; times are true UTC (the clock's error taken off before).
 */
import { lineOf } from '../fit/methods.ts'
import { aim } from '../mount/aim.ts'
import type { Built } from '../mount/slots.ts'
import { countsSteps } from '../readout/readout.ts'
import type { Feed, Station } from '../records/station.ts'
import type { Target } from '../sky/place.ts'
import { apparentPlace } from '../sky/targets.ts'
import { DEG, MINUTE_MS, type Rad, type UtcMs } from '../units.ts'
import { directionTrack, type LineOffset, lineOffsetAt } from './dishtrack.ts'
import { fitGaussian, type GaussianFit } from './gaussian.ts'
import type { LevelScale } from './levels.ts'

interface DriftSample {
  utcMs: UtcMs
  level: number
}

export interface Parked {
  lower: number
  upper: number
}

export interface DriftOptions {
  scale: LevelScale
  /** 'known': w is fixed at the beam widened by the source; 'free' (default). */
  width?: 'free' | 'known'
  /** The height over the base that the target would show in the beam's centre, in linear power of the scan, and its σ. */
  height?: { value: number; sigma: number }
  /** Covariance of the predicted offset across the drift, from the solution; it decides whether the sign of a known offset across can be told. */
  sigmaAcross?: Rad
}

export interface DriftFit {
  kind: 'peak'
  /** When the target stood highest in the beam; true time. */
  peakUtcMs: UtcMs
  sigmaS: number
  /** Unit vector of the drift in the dish at the peak, right and up as seen from behind. */
  along: LineOffset
  /** rad/s */
  rate: Rad
  sigmaAlong: Rad
  /** The target's offset across the drift (positive to the left of the drift as drawn: along turned a quarter from right to up). */
  across: Rad
  sigmaAcross: Rad
  acrossFrom: 'unknown' | 'height' | 'height-sign-unknown'
  /** Square radians, right and up. */
  cov: { rr: number; ru: number; uu: number }
  /** Where the target stood from the beam at the peak, by measurement: across × its direction. */
  offset: LineOffset
  /** Where the mount as built puts it at that moment: what the sighting will be compared with. */
  predicted: LineOffset
  width: Rad
  sigmaWidth: Rad
  /** Of this beam and this source. */
  expectedWidth: Rad
  gaussian: GaussianFit
}

export type DriftAnswer =
  | DriftFit
  | { kind: 'too-few'; samples: number; needed: number }
  | { kind: 'no-peak' }
  | { kind: 'outside'; toward: 'first' | 'last' }
  /** The target hardly moves in the dish (a geostationary satellite, a landmark): nothing drifts. */
  | { kind: 'no-drift' }
  | { kind: 'no-pose' }

/** Disc of the source, radians: optical means (0.533°, 0.518°); the Sun at radio is a little wider at 1 GHz (from memory, 0.6°). */
export const discOf = (target: Target): Rad =>
  target.type === 'sun' ? 0.533 * DEG : target.type === 'moon' ? 0.518 * DEG : 0

/** Full width at half power of a scan across a disc: √(HPBW² + (ln 2/2) disc²); common practice, exact for discs that are small. */
export const scanWidth = (hpbw: Rad, disc: Rad): Rad => Math.sqrt(hpbw * hpbw + (Math.LN2 / 2) * disc * disc)

/** Slower than this nothing drifts: a tenth of the Sun's 15″ a second. */
const SLOWEST: Rad = 7e-6

/** Fits a drift scan. @param samples any order; at least two different times */
export function fitDrift(
  station: Station,
  feed: Feed,
  built: Built,
  target: Target,
  parked: Parked,
  samples: readonly DriftSample[],
  o: DriftOptions,
): DriftAnswer {
  const list = [...samples].sort((a, b) => a.utcMs - b.utcMs)
  if (list.length < 2) return { kind: 'too-few', samples: list.length, needed: 6 }
  const first = list[0]!.utcMs
  const last = list[list.length - 1]!.utcMs
  const direction = directionTrack(target, station.site, 'radio', first, last)
  const spot = (utcMs: UtcMs): LineOffset | null => lineOffsetAt(station.model, built, 'beam', parked, direction(utcMs))
  const from = spot(first)
  const to = spot(last)
  if (from === null || to === null) return { kind: 'no-pose' }
  const length = Math.hypot(to.right - from.right, to.up - from.up)
  if (!(length > (SLOWEST * (last - first)) / 1000)) return { kind: 'no-drift' }
  const e: LineOffset = { right: (to.right - from.right) / length, up: (to.up - from.up) / length }
  const alongAt = (utcMs: UtcMs): number => {
    const q = spot(utcMs)!
    return q.right * e.right + q.up * e.up
  }
  const expectedWidth = scanWidth(feed.hpbw, discOf(target))
  const answer = fitGaussian(
    list.map(s => ({ x: alongAt(s.utcMs), level: s.level, t: (s.utcMs - first) / 1000 })),
    { scale: o.scale, width: o.width === 'known' ? expectedWidth : null, expectedWidth },
  )
  if (answer.kind !== 'peak') return answer
  // The moment at which the track passes the peak's place: along grows with time, so halving finds it.
  let a = first
  let b = last
  for (let k = 0; k < 50 && b - a > 1; k++) {
    const m = (a + b) / 2
    if (alongAt(m) < answer.x0) a = m
    else b = m
  }
  const peakUtcMs = Math.round((a + b) / 2)
  const near = Math.min(30_000, (last - first) / 4)
  const before = spot(Math.max(first, peakUtcMs - near))!
  const after = spot(Math.min(last, peakUtcMs + near))!
  const span = (Math.min(last, peakUtcMs + near) - Math.max(first, peakUtcMs - near)) / 1000
  const step = Math.hypot(after.right - before.right, after.up - before.up)
  const rate = step / span
  const along: LineOffset = { right: (after.right - before.right) / step, up: (after.up - before.up) / step }
  const predicted = spot(peakUtcMs)!
  const across = acrossOf(answer, o, expectedWidth, feed.hpbw, predicted.up * along.right - predicted.right * along.up)
  const [ca, cc] = [answer.sigmaX0 ** 2, across.sigma ** 2]
  const { right: x, up: y } = along
  return {
    kind: 'peak',
    peakUtcMs,
    sigmaS: answer.sigmaX0 / rate,
    along,
    rate,
    sigmaAlong: answer.sigmaX0,
    across: across.value,
    sigmaAcross: across.sigma,
    acrossFrom: across.from,
    cov: { rr: ca * x * x + cc * y * y, ru: (ca - cc) * x * y, uu: ca * y * y + cc * x * x },
    offset: { right: -y * across.value, up: x * across.value },
    predicted,
    width: answer.width,
    sigmaWidth: answer.sigmaWidth,
    expectedWidth,
    gaussian: answer,
  }
}

/**
 * Across the drift: the height tells how far off the beam's centre the track ran, not on which side. The side is taken from the
 * solution where that leaves no doubt (3 σ); else both sides stay possible. Without a height: heard at all, so within a beam.
 */
function acrossOf(
  fit: GaussianFit,
  o: DriftOptions,
  width: Rad,
  hpbw: Rad,
  predicted: Rad,
): { value: Rad; sigma: Rad; from: DriftFit['acrossFrom'] } {
  if (o.height === undefined) return { value: 0, sigma: hpbw, from: 'unknown' }
  const { value: full, sigma } = o.height
  // c² = w² ln(full/A)/(4 ln 2), and its σ from both heights'; c² may come out below 0 by noise.
  const k = (width * width) / (4 * Math.LN2)
  const square = k * Math.log(full / fit.amplitude)
  const sigmaSquare = k * Math.hypot(sigma / full, fit.sigmaAmplitude / fit.amplitude)
  const size = Math.sqrt(Math.max(0, square))
  const isSure = o.sigmaAcross !== undefined && Math.abs(predicted) > 3 * o.sigmaAcross && square > 3 * sigmaSquare
  if (isSure) return { value: Math.sign(predicted) * size, sigma: sigmaSquare / (2 * size), from: 'height' }
  // Either side: no offset, and a σ that holds both.
  return { value: 0, sigma: Math.min(hpbw, Math.sqrt(Math.max(0, square) + sigmaSquare)), from: 'height-sign-unknown' }
}

interface DriftPlan {
  /** Readings to park at, rounded to what the axis can show. */
  lower: number
  upper: number
  inside: boolean
  /** When the target passes the beam's centre line. */
  peakUtcMs: UtcMs
  /** Start and end: two widths before and after. */
  fromUtcMs: UtcMs
  toUtcMs: UtcMs
  /** Full width at half power, seconds. */
  widthS: number
  /** rad/s */
  rate: Rad
  along: LineOffset
  /** How far past the centre the track runs with readings in whole counts. */
  across: Rad
}

/** Widths before and after the peak that a drift is watched. */
const AHEAD = 2

/** Where to park for a target to pass at a time; null where no pose shows it or it does not drift. */
export function planDrift(
  station: Station,
  feed: Feed,
  built: Built,
  target: Target,
  passUtcMs: UtcMs,
): DriftPlan | null {
  const { model, site } = station
  const place = apparentPlace(target, passUtcMs, site, 'radio')
  const reach = aim(model, built, lineOf('drift-scan'), place.direction)
  if (reach === null) return null
  const shown = (axis: 'lower' | 'upper'): number => {
    const step = countsSteps(model[axis].readout) ? 1 : 0.01
    return Math.round(reach[axis] / step) * step
  }
  const parked = { lower: Number(shown('lower').toFixed(2)), upper: Number(shown('upper').toFixed(2)) }
  const half = MINUTE_MS
  const spot = (ms: UtcMs): LineOffset | null =>
    lineOffsetAt(model, built, 'beam', parked, apparentPlace(target, ms, site, 'radio').direction)
  const a = spot(passUtcMs - half)
  const b = spot(passUtcMs + half)
  if (a === null || b === null) return null
  const step = Math.hypot(b.right - a.right, b.up - a.up)
  const rate = (step * 1000) / (2 * half)
  if (!(rate > SLOWEST)) return null
  const along: LineOffset = { right: (b.right - a.right) / step, up: (b.up - a.up) / step }
  const middle: LineOffset = { right: (a.right + b.right) / 2, up: (a.up + b.up) / 2 }
  const late = (middle.right * along.right + middle.up * along.up) / rate
  const peakUtcMs = Math.round(passUtcMs - 1000 * late)
  const width = scanWidth(feed.hpbw, discOf(target))
  const aheadMs = (1000 * AHEAD * width) / rate
  return {
    ...parked,
    inside: reach.inside,
    peakUtcMs,
    fromUtcMs: Math.round(peakUtcMs - aheadMs),
    toUtcMs: Math.round(peakUtcMs + aheadMs),
    widthS: width / rate,
    rate,
    along,
    across: middle.up * along.right - middle.right * along.up,
  }
}
