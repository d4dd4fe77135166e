/** What the screens of scans ask the worker: where to park, what to set, and what the levels say. */
import type { StationRecord, TargetRecord } from '../core/records/fieldbook.ts'
import type { CrossScanRecord, DriftScanRecord } from '../core/records/scans.ts'
import type {
  CrossAnswerJson,
  CrossFitJson,
  CrossPlanJson,
  CrossWishJson,
  DriftAnswerJson,
  DriftFitJson,
  DriftPlanJson,
} from '../core/scan/answer.ts'
import type { EqualJson, TapsJson } from '../core/scan/tapanswer.ts'
import { MINUTE_MS } from '../core/units.ts'
import { ask, isoOf, type Told, trueNowMs } from './ask.ts'

export type { Told } from './ask.ts'
export type {
  CrossAnswerJson,
  CrossFitJson,
  CrossPlanJson,
  CrossWishJson,
  DriftAnswerJson,
  DriftFitJson,
  DriftPlanJson,
  EqualJson,
  TapsJson,
}

/** Without the scans: the one asked about goes with the question. */
const bare = (station: StationRecord): StationRecord => ({ ...station, scans: [] })

/** Time to drive the dish there before the first level. */
export const TO_DRIVE_MS = 180_000
/** The next full minute at which a target may pass, when one begins to drive now: two widths of the beam are heard before. */
export const passAfter = (nowMs: number, widthS: number): number =>
  MINUTE_MS * Math.ceil((nowMs + TO_DRIVE_MS + 2000 * widthS) / MINUTE_MS)

/**
 * Where to park.
 *
 * @param passMs  when it should pass, true time; null: as soon as there is time for the whole of it
 */
export async function askDriftPlan(
  station: StationRecord,
  feed: string,
  target: TargetRecord,
  passMs: number | null,
): Promise<Told<DriftPlanJson | null>> {
  const nowMs = trueNowMs(station)
  const at = (ms: number) =>
    ask(bare(station), 'driftPlan', { feed, target, passUtc: isoOf(ms) }, { topic: 'drift-plan' })
  if (passMs !== null) return at(passMs)
  const rough = await at(nowMs + 10 * MINUTE_MS)
  if (rough?.kind !== 'told' || rough.value === null) return rough
  return at(passAfter(nowMs, rough.value.widthS))
}

/** Height over the sky in linear power, from a rise in dB: base × (10^(dB/10) - 1), and its σ. */
export function heightFrom(basePower: number, { riseDb, sigmaDb }: { riseDb: number; sigmaDb: number }) {
  const ratio = 10 ** (riseDb / 10)
  return { value: basePower * (ratio - 1), sigma: basePower * ratio * (Math.LN10 / 10) * sigmaDb }
}

/** Where it is known how far the target is above cold sky in the beam's centre, the fit is asked for again with that height over its own sky. */
export async function askDriftFit(
  station: StationRecord,
  scan: DriftScanRecord,
  width: 'free' | 'known',
): Promise<Told<DriftAnswerJson>> {
  const how = { topic: 'drift-fit' }
  const first = await ask(bare(station), 'driftFit', { scan, width }, how)
  if (scan.centre === undefined || first?.kind !== 'told' || first.value.kind !== 'peak') return first
  const { basePower } = first.value
  if (!(basePower > 0)) return first
  return ask(bare(station), 'driftFit', { scan, width, height: heightFrom(basePower, scan.centre) }, how)
}

/** @param wish  from now on where it names no time */
export const askCrossPlan = (
  station: StationRecord,
  feed: string,
  wish: Omit<CrossWishJson, 'fromUtc'> & { fromUtc?: string },
): Promise<Told<CrossPlanJson | null>> =>
  ask(
    bare(station),
    'crossPlan',
    { feed, ...wish, fromUtc: wish.fromUtc ?? isoOf(trueNowMs(station)) },
    { topic: 'cross-plan' },
  )

export const askCrossFit = (
  station: StationRecord,
  scan: CrossScanRecord,
  width: 'free' | 'known',
  topic = 'cross-fit',
): Promise<Told<CrossAnswerJson>> => ask(bare(station), 'crossFit', { scan, width }, { topic })

/** @param scan  with the marks of its parts */
export const askTaps = (station: StationRecord, scan: DriftScanRecord): Promise<Told<TapsJson>> =>
  ask(bare(station), 'driftTaps', { scan }, { topic: 'drift-taps' })

export const askEqual = (station: StationRecord, scan: CrossScanRecord): Promise<Told<EqualJson>> =>
  ask(bare(station), 'crossEqual', { scan }, { topic: 'cross-equal' })
