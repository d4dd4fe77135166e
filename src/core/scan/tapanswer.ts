/** Taps and equal levels as JSON: degrees, readings and UTC text, with the sighting that follows. */
import { builtFor } from '../fit/solution.ts'
import type { Solved } from '../fit/solved.ts'
import { feedOf } from '../records/feeds.ts'
import type { Axis } from '../records/fieldbook.ts'
import { msFromUtc, utcFromMs } from '../records/instant.ts'
import { type CrossScanRecord, type DriftScanRecord, knownScans, type TapMark } from '../records/scans.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { apparentPlace } from '../sky/targets.ts'
import { degFromRad, type UtcMs } from '../units.ts'
import { type LineOffset, lineOffsetAt } from './dishtrack.ts'
import { type SightingDraft, sightingDraft } from './draft.ts'
import { discOf, scanWidth } from './drift.ts'
import { type EqualAnswer, equalFit } from './equal.ts'
import { pairsOf, tappedPeak } from './tapped.ts'

const deg = degFromRad

interface TapsFitJson {
  kind: 'peak'
  /** True time, and the second of the scan (device's clock). */
  peakUtc: string
  peakS: number
  sigmaS: number
  from: 'pairs' | 'peaks'
  count: number
  spreadS: number | null
  rateDegPerMin: number
  sigmaAlongDeg: number
  missAlongDeg: number
  sighting: SightingDraft
}
export type TapsJson = TapsFitJson | { kind: 'too-few' } | { kind: 'no-drift' } | { kind: 'no-pose' }

/** All marks of a drift scan, its parts' too, in order of time. */
export const marksOf = (scan: DriftScanRecord, scans: readonly unknown[] | undefined): TapMark[] =>
  [scan, ...knownScans(scans).filter(r => r.what === 'part' && r.scan === scan.id)]
    .flatMap(r => (r.what === 'cross' ? [] : (r.marks ?? [])))
    .sort((a, b) => a.s - b.s)

/** Slower than this nothing drifts: a tenth of the Sun's 15″ a second. rad/s */
const SLOWEST = 7e-6
/** The drift counts as straight this long either side of the peak. */
const NEAR_MS = 30_000

/** When a target stood highest, by taps. */
export function tapsJson(solved: Solved, scan: DriftScanRecord, scans: readonly unknown[] | undefined): TapsJson {
  const { station } = solved
  const feed = feedOf(station, scan.feed)
  const startMs = msFromUtc(scan.utc)
  const offsetMs = 1000 * (scan.clockOffsetS ?? 0)
  const paired = pairsOf(marksOf(scan, scans))
  const rough = tappedPeak(paired, 600)
  if (rough === null) return { kind: 'too-few' }
  const target = targetFromRecord(scan.target)
  const { built } = builtFor(solved, startMs - offsetMs, feed)
  const spot = (ms: UtcMs): LineOffset | null =>
    lineOffsetAt(station.model, built, 'beam', scan, apparentPlace(target, ms, station.site, 'radio').direction)
  const roughMs = startMs + 1000 * rough.s - offsetMs
  const [a, b] = [spot(roughMs - NEAR_MS), spot(roughMs + NEAR_MS)]
  if (a === null || b === null) return { kind: 'no-pose' }
  const step = Math.hypot(b.right - a.right, b.up - a.up)
  const rate = (1000 * step) / (2 * NEAR_MS)
  if (!(rate > SLOWEST)) return { kind: 'no-drift' }
  const [x, y] = [(b.right - a.right) / step, (b.up - a.up) / step]
  const peak = tappedPeak(paired, scanWidth(feed.hpbw, discOf(target)) / rate)!
  const peakMs = startMs + 1000 * peak.s - offsetMs
  const at = spot(peakMs)
  if (at === null) return { kind: 'no-pose' }
  const [ca, cc] = [(peak.sigmaS * rate) ** 2, feed.hpbw ** 2]
  return {
    kind: 'peak',
    peakUtc: utcFromMs(peakMs),
    peakS: peak.s,
    sigmaS: peak.sigmaS,
    from: peak.from,
    count: peak.count,
    spreadS: peak.spreadS,
    rateDegPerMin: deg(60 * rate),
    sigmaAlongDeg: deg(peak.sigmaS * rate),
    missAlongDeg: deg(at.right * x + at.up * y),
    sighting: sightingDraft(scan, 'drift-scan', feed, {
      utcMs: peakMs,
      lower: scan.lower,
      upper: scan.upper,
      arrivedFrom: scan.arrivedFrom,
      cov: { rr: ca * x * x + cc * y * y, ru: (ca - cc) * x * y, uu: ca * y * y + cc * x * x },
    }),
  }
}

interface EqualFitJson {
  kind: 'middle'
  lower: number
  upper: number
  miss: { rightDeg: number; upDeg: number }
  sigmaRightDeg: number
  sigmaUpDeg: number
  arms: { axis: Axis; pairs: number; sigmaDeg: number }[]
  sighting: SightingDraft
}
export type EqualJson = EqualFitJson | Exclude<EqualAnswer, { kind: 'middle' }>

/** Both coordinates by equal levels on either side. */
export function equalJson(solved: Solved, scan: CrossScanRecord): EqualJson {
  const { station } = solved
  const feed = feedOf(station, scan.feed)
  const offsetMs = 1000 * (scan.clockOffsetS ?? 0)
  const startMs = msFromUtc(scan.utc) - offsetMs
  const readings = (scan.marks ?? []).map(({ s, ...rest }) => ({ ...rest, utcMs: startMs + 1000 * s }))
  const { built } = builtFor(solved, startMs, feed)
  const fit = equalFit(station, feed, built, targetFromRecord(scan.target), readings)
  if (fit.kind !== 'middle') return fit
  return {
    kind: 'middle',
    lower: fit.lower,
    upper: fit.upper,
    miss: { rightDeg: deg(fit.miss.right), upDeg: deg(fit.miss.up) },
    sigmaRightDeg: deg(Math.sqrt(fit.cov.rr)),
    sigmaUpDeg: deg(Math.sqrt(fit.cov.uu)),
    arms: fit.arms.map(a => ({ axis: a.axis, pairs: a.pairs, sigmaDeg: deg(a.sigma) })),
    sighting: sightingDraft(scan, 'cross-scan', feed, {
      utcMs: fit.utcMs,
      lower: fit.lower,
      upper: fit.upper,
      cov: fit.cov,
    }),
  }
}
