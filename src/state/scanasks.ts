/** What the screens of scans ask the worker: where to park, what to set, and what the levels say. */
import type { FieldBook, StationRecord, TargetRecord } from '../core/records/fieldbook.ts'
import type { CrossScanRecord, DriftScanRecord } from '../core/records/scans.ts'
import type {
  CrossAnswerJson,
  CrossPlanJson,
  CrossWishJson,
  DriftAnswerJson,
  DriftPlanJson,
} from '../core/scan/answer.ts'
import type { EqualJson, TapsJson } from '../core/scan/tapanswer.ts'
import { type Asked, ask } from '../worker/ask.ts'

export type { CrossAnswerJson, CrossPlanJson, CrossWishJson, DriftAnswerJson, DriftPlanJson, EqualJson, TapsJson }
export type CrossFitJson = Extract<CrossAnswerJson, { kind: 'peak' }>
export type DriftFitJson = Extract<DriftAnswerJson, { kind: 'peak' }>

/** `null`: overtaken by a newer question; nobody wants it any more. */
export type Told<T> = { kind: 'told'; value: T } | { kind: 'failed'; message: string } | null

/** Without the scans: what is asked about goes with the question. */
const bookOf = (station: StationRecord, utc: string): FieldBook => ({
  format: 'moonplumb-fieldbook',
  version: 1,
  exportedUtc: utc,
  stations: [{ ...station, scans: [] }],
})

type Answered<T> = { ok: true; value: T } | { ok: false; faults: readonly { path: string; rule: string }[] }
function told<T>(asked: Asked<Answered<T>>): Told<T> {
  if (asked.kind === 'overtaken') return null
  if (asked.kind === 'failed') return { kind: 'failed', message: asked.message }
  if (asked.value.ok) return { kind: 'told', value: asked.value.value }
  return { kind: 'failed', message: asked.value.faults.map(f => `${f.path}: ${f.rule}`).join('. ') }
}

const iso = (ms: number): string => new Date(ms).toISOString()

/** Time to drive the dish there before the first level. */
export const TO_DRIVE_MS = 180_000
const MINUTE = 60_000
/** The next full minute at which a target may pass, when one begins to drive now: two widths of the beam are heard before. */
export const passAfter = (nowMs: number, widthS: number): number =>
  MINUTE * Math.ceil((nowMs + TO_DRIVE_MS + 2000 * widthS) / MINUTE)

/**
 * Where to park.
 *
 * @param passMs  when it should pass; null: as soon as there is time for the whole of it
 */
export async function askDriftPlan(
  station: StationRecord,
  feed: string,
  target: TargetRecord,
  passMs: number | null,
  nowMs: number,
): Promise<Told<DriftPlanJson | null>> {
  const about = { now: iso(nowMs), feed, target }
  const at = async (ms: number) =>
    told(await ask('driftPlan', [bookOf(station, iso(nowMs)), { ...about, passUtc: iso(ms) }], 'drift-plan'))
  if (passMs !== null) return at(passMs)
  const rough = await at(nowMs + 10 * MINUTE)
  if (rough?.kind !== 'told' || rough.value === null) return rough
  return at(passAfter(nowMs, rough.value.widthS))
}

/** Height over the sky in linear power, from a rise in dB: base × (10^(dB/10) - 1), and its σ. */
export function heightFrom(basePower: number, { riseDb, sigmaDb }: { riseDb: number; sigmaDb: number }) {
  const ratio = 10 ** (riseDb / 10)
  return { value: basePower * (ratio - 1), sigma: basePower * ratio * (Math.LN10 / 10) * sigmaDb }
}

/** Where it is known how loud the target is in the beam's centre, the fit is asked again with that height over its own sky. */
export async function askDriftFit(
  station: StationRecord,
  scan: DriftScanRecord,
  width: 'free' | 'known',
  nowMs: number,
): Promise<Told<DriftAnswerJson>> {
  const about = { now: iso(nowMs), scan, width }
  const first = told(await ask('driftFit', [bookOf(station, scan.utc), about], 'drift-fit'))
  if (scan.centre === undefined || first?.kind !== 'told' || first.value.kind !== 'peak') return first
  const { basePower } = first.value
  if (!(basePower > 0)) return first
  const height = heightFrom(basePower, scan.centre)
  return told(await ask('driftFit', [bookOf(station, scan.utc), { ...about, height }], 'drift-fit'))
}

export const askCrossPlan = async (
  station: StationRecord,
  feed: string,
  wish: CrossWishJson,
  nowMs: number,
): Promise<Told<CrossPlanJson | null>> =>
  told(await ask('crossPlan', [bookOf(station, wish.fromUtc), { now: iso(nowMs), feed, ...wish }], 'cross-plan'))

export const askCrossFit = async (
  station: StationRecord,
  scan: CrossScanRecord,
  width: 'free' | 'known',
  nowMs: number,
  topic = 'cross-fit',
): Promise<Told<CrossAnswerJson>> =>
  told(await ask('crossFit', [bookOf(station, scan.utc), { now: iso(nowMs), scan, width }], topic))

/** @param scan  with the marks of its parts */
export const askTaps = async (station: StationRecord, scan: DriftScanRecord, nowMs: number): Promise<Told<TapsJson>> =>
  told(await ask('driftTaps', [bookOf(station, scan.utc), { now: iso(nowMs), scan }], 'drift-taps'))

export const askEqual = async (
  station: StationRecord,
  scan: CrossScanRecord,
  nowMs: number,
): Promise<Told<EqualJson>> =>
  told(await ask('crossEqual', [bookOf(station, scan.utc), { now: iso(nowMs), scan }], 'cross-equal'))
