/** Forms of scans: what is typed becomes a record, and the order in which a cross scan is stepped. Pure. */
import { type Pasted, pastedLevels } from '../../core/import/levels.ts'
import { AXES } from '../../core/mount/names.ts'
import { checkAt } from '../../core/records/clockchecks.ts'
import type { Axis, MountRecord, Side, StationRecord, TargetRecord } from '../../core/records/fieldbook.ts'
import { instantMs, utcFromMs } from '../../core/records/instant.ts'
import { TYPED } from '../../core/records/ranges.ts'
import type {
  CrossSampleRecord,
  CrossScanRecord,
  DriftSampleRecord,
  DriftScanRecord,
  EqualMark,
} from '../../core/records/scans.ts'
import { shownStep } from '../../core/records/shownstep.ts'
import type { CrossPlanJson, DriftPlanJson } from '../../state/scanasks.ts'
import { bounds, type NumberKind, numberOf } from '../kit/numberfield.ts'
import { readingUnit } from '../kit/phrases.ts'
import { readingKind } from '../kit/readings.ts'
import { utcOf } from '../kit/utcfield.ts'

export type Scale = 'dB' | 'linear'
export type How = 'typed' | 'tapped' | 'pasted'

export interface DriftForm {
  feed: string
  scale: Scale
  how: How
  /** Unix ms as text; empty: as soon as there is time. */
  pass: string
  lower: string
  upper: string
  lowerSide: Side | ''
  upperSide: Side | ''
  text: string
  start: string
  note: string
}

export const emptyDrift = (feed: string, startUtc: string): DriftForm => ({
  feed,
  scale: 'dB',
  how: 'typed',
  pass: '',
  lower: '',
  upper: '',
  lowerSide: '',
  upperSide: '',
  text: '',
  start: startUtc,
  note: '',
})

export const LEVEL_KINDS: Readonly<Record<Scale, NumberKind>> = {
  dB: { form: 'number', unit: 'dB', ...bounds(TYPED.levelDb) },
  linear: { form: 'number' },
}

export type ScanNotYet = Axis | 'plan' | 'text' | 'no-levels' | 'start' | 'reading'
export type MadeScan<T> = { kind: 'ready'; record: T } | { kind: 'not-yet'; why: ScanNotYet }
const notYet = (why: ScanNotYet): { kind: 'not-yet'; why: ScanNotYet } => ({ kind: 'not-yet', why })

/** What the clock check says that still counts for that instant. */
const clockOf = (station: StationRecord, at: string): { clockOffsetS?: number } => {
  const check = checkAt(station, at)
  return check === null ? {} : { clockOffsetS: check.offsetS }
}

/** Off what was planned by no more than one step that the axis shows. */
const isAt = (mount: MountRecord, axis: Axis, reading: number, plan: number): boolean =>
  Math.abs(reading - plan) <= (readingUnit(mount, axis) === 'degrees' ? 0.51 : 1) * shownStep(mount[axis])

/** The record of a drift scan that begins at `startMs`, without levels. */
export function driftFromForm(
  form: DriftForm,
  station: StationRecord,
  target: TargetRecord,
  plan: DriftPlanJson | null,
  id: string,
  startMs: number,
): MadeScan<DriftScanRecord> {
  const { mount } = station
  const lower = numberOf(form.lower, readingKind(mount, 'lower'))
  const upper = numberOf(form.upper, readingKind(mount, 'upper'))
  if (lower === null) return notYet('lower')
  if (upper === null) return notYet('upper')
  const isAsPlanned =
    plan !== null && isAt(mount, 'lower', lower, plan.lower) && isAt(mount, 'upper', upper, plan.upper)
  const sides = {
    ...(form.lowerSide !== '' && { lower: form.lowerSide }),
    ...(form.upperSide !== '' && { upper: form.upperSide }),
  }
  const at = utcFromMs(startMs)
  return {
    kind: 'ready',
    record: {
      id,
      utc: at,
      ...clockOf(station, at),
      what: 'drift',
      target,
      feed: form.feed,
      scale: form.scale,
      how: form.how,
      lower,
      upper,
      ...(Object.keys(sides).length > 0 && { arrivedFrom: sides }),
      samples: [],
      ...(isAsPlanned && form.how !== 'pasted' && { expect: { peakUtc: plan.peakUtc, widthS: plan.widthS } }),
      ...(form.note.trim() !== '' && { note: form.note.trim() }),
    },
  }
}

/** How a log is read; null while that is going on. */
type ReadLog = (text: string, startMs: number) => Pasted | null

/** The log as it stands in the form; null while it is empty or its start cannot be read. */
export function logOf(form: DriftForm, read: ReadLog = pastedLevels): Pasted | 'reading' | null {
  const start = utcOf(form.start, null)
  return form.text.trim() === '' || start === null ? null : (read(form.text, instantMs(start)) ?? 'reading')
}

/** The record of a pasted log, with its levels apart. */
export function pastedFromForm(
  form: DriftForm,
  station: StationRecord,
  target: TargetRecord,
  id: string,
  read: ReadLog = pastedLevels,
): MadeScan<{ scan: DriftScanRecord; samples: DriftSampleRecord[] }> {
  if (form.text.trim() === '') return notYet('text')
  const log = logOf(form, read)
  if (log === null) return notYet('start')
  if (log === 'reading') return notYet('reading')
  const first = log.samples[0]
  if (first === undefined) return notYet('no-levels')
  const made = driftFromForm(form, station, target, null, id, first.utcMs)
  if (made.kind === 'not-yet') return made
  const samples = log.samples.map(({ utcMs, level }) => ({ s: secondsFrom(made.record.utc, utcMs), level }))
  return { kind: 'ready', record: { scan: made.record, samples } }
}

/** Seconds from a scan's start, to a millisecond. */
export const secondsFrom = (startUtc: string, utcMs: number): number => Math.round(utcMs - instantMs(startUtc)) / 1000
export const msAt = (startUtc: string, s: number): number => instantMs(startUtc) + 1000 * s

export interface CentreForm {
  rise: string
  sigma: string
}
export const CENTRE_KINDS = {
  rise: { form: 'number', unit: 'dB', ...bounds(TYPED.riseDb) },
  sigma: { form: 'number', unit: 'dB', ...bounds(TYPED.riseSigmaDb) },
} as const satisfies Record<string, NumberKind>
/** Where none is stated, dB. */
const CENTRE_SIGMA_DB = 0.1

/** How far the target is above cold sky in the beam's centre; null while it cannot be read. */
export function centreOf(form: CentreForm): { riseDb: number; sigmaDb: number } | null {
  const riseDb = numberOf(form.rise, CENTRE_KINDS.rise)
  const sigmaDb = form.sigma.trim() === '' ? CENTRE_SIGMA_DB : numberOf(form.sigma, CENTRE_KINDS.sigma)
  return riseDb === null || sigmaDb === null ? null : { riseDb, sigmaDb }
}

export interface CrossForm {
  feed: string
  scale: Scale
  axes: 'both' | Axis
  points: '5' | '7' | '9'
  from: Side
  both: 'once' | 'both'
  way: 'steps' | 'equal'
}

export const emptyCross = (feed: string): CrossForm => ({
  feed,
  scale: 'dB',
  axes: 'both',
  points: '5',
  from: '+',
  both: 'once',
  way: 'steps',
})

export type CrossPlanRecord = NonNullable<CrossScanRecord['plan']>
/** Half a beamwidth: where the flank is steepest. */
export const STEP = 0.5
export const USUAL_WISH: CrossPlanRecord = { points: 5, step: STEP, from: '+', axes: [...AXES] }

export const crossWish = (form: CrossForm, useless: readonly Axis[] = []): CrossPlanRecord => {
  const axes: readonly Axis[] = form.axes === 'both' ? AXES : [form.axes]
  return {
    points: Number(form.points),
    step: STEP,
    from: form.from,
    axes: axes.filter(axis => !useless.includes(axis)),
    ...(form.both === 'both' && { both: true }),
  }
}

export function crossFromForm(
  form: CrossForm,
  station: StationRecord,
  target: TargetRecord,
  wish: CrossPlanRecord,
  id: string,
  startMs: number,
): CrossScanRecord {
  const at = utcFromMs(startMs)
  return {
    id,
    utc: at,
    ...clockOf(station, at),
    what: 'cross',
    target,
    feed: form.feed,
    scale: form.scale,
    how: form.way === 'equal' ? 'tapped' : 'typed',
    samples: [],
    ...(form.way === 'steps' && { plan: wish }),
  }
}

export interface CrossStep {
  axis: Axis
  from: Side
  /** Which reading of its arm, from 0 in the order of driving. */
  k: number
}

/** Every step in the order of driving: an axis from one side, then from the other if chosen, then the other axis. */
export function crossSteps(wish: CrossPlanRecord): CrossStep[] {
  const sides: Side[] = wish.both ? [wish.from, wish.from === '+' ? '-' : '+'] : [wish.from]
  return wish.axes.flatMap(axis =>
    sides.flatMap(from => Array.from({ length: wish.points }, (_, k): CrossStep => ({ axis, from, k }))),
  )
}

export const otherAxis = (axis: Axis): Axis => (axis === 'lower' ? 'upper' : 'lower')

export interface CrossSetting {
  lower: number
  upper: number
  inside: boolean
  /** The other axis stays where it was for the last level. */
  holds: boolean
  /** Where the axis is driven first, so that this reading too is reached from the chosen side. */
  approach: number | null
}

/** The other axis is left alone while the target has run away from it by less than this share of a step. */
const RUNS_AWAY = 0.5

/**
 * What to set for a step. The other axis is moved only when the target has run a quarter of a beamwidth away from it.
 *
 * @param plan  of this step's arm, for its own moment, this axis first
 * @param last  the level noted before this one
 */
export function settingFor(plan: CrossPlanJson, step: CrossStep, last: CrossSampleRecord | null): CrossSetting | null {
  const point = plan.points.filter(p => p.axis === step.axis)[step.k]
  if (point === undefined) return null
  const other = otherAxis(step.axis)
  const per = plan.stepReading[other]
  const before = last !== null && last.axis === step.axis ? last[other] : null
  const holds = before !== null && per !== undefined && Math.abs(point[other] - before) < RUNS_AWAY * per
  const first = step.k === 0 ? (plan.approach.find(a => a.axis === step.axis)?.[step.axis] ?? null) : null
  return {
    lower: point.lower,
    upper: point.upper,
    ...(holds && { [other]: before }),
    inside: point.inside,
    holds,
    approach: first,
  }
}

export interface CrossLevelForm {
  /** Of the step that is next. */
  at: number
  level: string
  lower: string
  upper: string
}

/** The level of a step: as set, or as the dish shows where that was typed. Null: not yet. */
export function crossSample(
  form: CrossLevelForm,
  scan: CrossScanRecord,
  mount: MountRecord,
  step: CrossStep,
  setting: CrossSetting,
  utcMs: number,
): CrossSampleRecord | null {
  const level = numberOf(form.level, LEVEL_KINDS[scan.scale])
  const shown = (axis: Axis): number | null =>
    form[axis].trim() === '' ? setting[axis] : numberOf(form[axis], readingKind(mount, axis))
  const [lower, upper] = [shown('lower'), shown('upper')]
  if (level === null || lower === null || upper === null) return null
  return { s: secondsFrom(scan.utc, utcMs), axis: step.axis, lower, upper, level, from: step.from }
}

export interface EqualForm {
  axis: Axis
  lower: string
  upper: string
}

/** Pairs of an axis with both sides. */
export const pairsOn = (marks: readonly EqualMark[], axis: Axis): number => {
  const sides = new Map<number, number>()
  for (const m of marks) if (m.axis === axis) sides.set(m.pair, (sides.get(m.pair) ?? 0) + 1)
  return [...sides.values()].filter(n => n > 1).length
}

/** The pair of an axis that has one side only; null when there is none. */
export function openPair(marks: readonly EqualMark[], axis: Axis): number | null {
  const own = marks.filter(m => m.axis === axis)
  const last = own.at(-1)
  return last !== undefined && own.filter(m => m.pair === last.pair).length === 1 ? last.pair : null
}

/** The axis to go on with: one whose pair is open, else one without a pair; null when both have one. */
export const lackingAxis = (marks: readonly EqualMark[]): Axis | null =>
  AXES.find(axis => openPair(marks, axis) !== null) ?? AXES.find(axis => pairsOn(marks, axis) === 0) ?? null

/** One side of a pair; null while a reading is missing. */
export function equalMark(form: EqualForm, scan: CrossScanRecord, mount: MountRecord, utcMs: number): EqualMark | null {
  const lower = numberOf(form.lower, readingKind(mount, 'lower'))
  const upper = numberOf(form.upper, readingKind(mount, 'upper'))
  if (lower === null || upper === null) return null
  const own = (scan.marks ?? []).filter(m => m.axis === form.axis)
  const pair = openPair(own, form.axis) ?? 1 + Math.max(0, ...own.map(m => m.pair))
  return { s: secondsFrom(scan.utc, utcMs), axis: form.axis, lower, upper, pair }
}
