/**
 * The forms of the place "Level": what was typed, as text, and its reading as a record. Pure: time and ids are handed in.
 * Whatever measures (a hand, later the phone) fills the same forms. Degrees, and readings as the counters show them.
 */
import type { LevelWhat } from '../../core/level/kinds.ts'
import { type LeanReading, type MastLean, mastLean } from '../../core/level/mastlean.ts'
import { type Reversal, reversalOfElevations, reversalOnCircle, reversalSigma } from '../../core/level/reversal.ts'
import { levelSigma, REVERSED_BIAS, UNREVERSED_BIAS } from '../../core/level/sigma.ts'
import type { PhoneEnd } from '../../core/level/upvector.ts'
import type { Axis, LevelRecord, MountRecord } from '../../core/records/fieldbook.ts'
import { degFromRad, radFromDeg } from '../../core/units.ts'
import { type NumberKind, parseNumber } from '../kit/numberfield.ts'
import { parseUtc } from '../kit/utcfield.ts'
import {
  NO_OWN,
  type OwnError,
  phoneElevation,
  phoneReversal,
  phoneReversedSigma,
  phoneSigma,
  placingOf,
  readingFrom,
  type Taken,
} from './phoneform.ts'

/** How the instrument sits: put on for this reading alone, or clamped so that readings share an unknown constant. */
export type Sits = 'once' | 'new' | 'same'

export interface MeasureForm {
  how: 'one' | 'reversal'
  value: string
  sigma: string
  shows: 'circle' | 'quarter'
  first: string
  second: string
  step: string
  noise: string
  /** Where the axes stood. */
  lower: string
  upper: string
  /** Round the mast. */
  around: { heading: string; reading: string; taken?: Taken | null }[]
  /** What the phone took for these fields; a field that is typed over has none. */
  taken: { value: Taken | null; first: Taken | null; second: Taken | null }
  /** Which end of the phone lay toward the end that counts. */
  end: PhoneEnd
  sits: Sits
  /** Id of an instrument of the station; '': the name as typed. */
  instrumentId: string
  instrument: string
  note: string
  utc: string
}

export const KINDS = {
  tilt: { form: 'angle', min: -90, max: 90 },
  /** The end that points up is the one that is told: never below nothing. */
  raised: { form: 'angle', min: 0, max: 90 },
  circle: { form: 'angle', min: -360, max: 360 },
  heading: { form: 'angle', min: 0, max: 360 },
  sigma: { form: 'angle', min: 0.001, max: 45 },
  step: { form: 'angle', min: 0, max: 5 },
  turn: { form: 'angle', min: -180, max: 180 },
  turnSigma: { form: 'angle', min: 0.001, max: 180 },
  shift: { form: 'number', unit: 'mm', min: -1000, max: 1000 },
  shiftSigma: { form: 'number', unit: 'mm', min: 0.01, max: 1000 },
} as const satisfies Record<string, NumberKind>

export const readingKind = (mount: MountRecord, axis: Axis): NumberKind =>
  mount[axis].readout.type === 'degrees' ? { form: 'angle' } : { form: 'count', unit: 'counts' }

export const valueKind = (what: LevelWhat): NumberKind => (what === 'upper-axis-elevation' ? KINDS.raised : KINDS.tilt)

/** What is taken where step and noise are left empty. */
export const USUAL_STEP_DEG = 0.1
export const USUAL_NOISE_DEG = 0.1

/** "2026-04-27 20:14:05", as the field wants it. */
export const utcText = (ms: number): string => new Date(ms).toISOString().slice(0, 19).replace('T', ' ')

/** The number typed, or null. */
export const typed = (text: string, kind: NumberKind): number | null => {
  const parsed = parseNumber(text, kind)
  return parsed.kind === 'value' ? parsed.value : null
}

/** The instant typed as it is kept; what was not touched keeps its fraction of a second. */
export function utcOf(text: string, old: { utc: string } | null): string | null {
  if (old && text === utcText(Date.parse(old.utc))) return old.utc
  const parsed = parseUtc(text)
  return parsed.kind === 'value' ? new Date(parsed.utcMs).toISOString().replace('.000Z', 'Z') : null
}

/** Empty counts as `usual`; what is typed and cannot be read is null. */
export function typedOr(text: string, kind: NumberKind, usual: number): number | null {
  return text.trim() === '' ? usual : typed(text, kind)
}

export const emptyMeasure = (nowMs: number): MeasureForm => ({
  how: 'one',
  value: '',
  sigma: '',
  shows: 'quarter',
  first: '',
  second: '',
  step: '',
  noise: '',
  lower: '',
  upper: '',
  around: [0, 120, 240].map(heading => ({ heading: String(heading), reading: '' })),
  taken: { value: null, first: null, second: null },
  end: 'top',
  sits: 'once',
  instrumentId: '',
  instrument: '',
  note: '',
  utc: utcText(nowMs),
})

/** What a level was made from, kept beside the file's own fields. */
export interface Raw {
  shows?: 'circle' | 'quarter'
  firstDeg?: number
  secondDeg?: number
  stepDeg?: number
  noiseDeg?: number
  biasDeg?: number
  /** One reading: what was shown before the instrument's own error was taken off. */
  shownDeg?: number
  /** By the phone: the end that counts, and its readings in order. */
  end?: PhoneEnd
  taken?: Taken[]
  around?: { headingDeg: number; readingDeg: number; taken?: Taken }[]
  /** By swinging: the positions (swingform.ts). */
  swing?: unknown
}
export type LevelWithRaw = LevelRecord & { raw?: Raw }

/** True where the phone took the reading that the form stands on. */
export const isByPhone = (form: MeasureForm, what: LevelWhat): boolean =>
  what === 'mast-lean'
    ? form.around.some(row => row.taken)
    : form.how === 'one'
      ? form.taken.value !== null
      : form.taken.first !== null && form.taken.second !== null

/** σ in degrees where the person states none. */
export function usualSigmaDeg(form: Pick<MeasureForm, 'sits' | 'taken' | 'end'>, own: OwnError = NO_OWN): number {
  const clamped = form.sits !== 'once'
  if (form.taken.value) return degFromRad(phoneSigma(readingFrom(form.taken.value), form.end, own, clamped))
  // In a clamping the instrument's own error is the constant that the solution finds.
  const bias = own.use.kind === 'valid' ? own.use.sigma : clamped ? REVERSED_BIAS : UNREVERSED_BIAS
  const { stepDeg, noiseDeg } = usualFineness(own)
  return degFromRad(levelSigma({ noise: radFromDeg(noiseDeg), step: radFromDeg(stepDeg), bias }))
}

/** How fine the instrument is where the form says nothing. */
export const usualFineness = (own: OwnError): { stepDeg: number; noiseDeg: number } => ({
  stepDeg: own.instrument?.stepDeg ?? USUAL_STEP_DEG,
  noiseDeg: own.instrument?.noiseDeg ?? USUAL_NOISE_DEG,
})

/** What one reading comes to with the instrument's own error taken off, degrees; null until it can be read. */
export function correctedDeg(form: MeasureForm, what: LevelWhat, own: OwnError): number | null {
  if (form.taken.value) {
    const deg = degFromRad(phoneElevation(form.taken.value.up, form.end, own.use))
    return what === 'upper-axis-elevation' ? Math.abs(deg) : deg
  }
  const shown = typed(form.value, valueKind(what))
  if (shown === null) return null
  const deg = own.use.kind === 'valid' ? shown - degFromRad(own.use.bias) : shown
  return what === 'upper-axis-elevation' ? Math.abs(deg) : Math.max(-90, Math.min(90, deg))
}

/** The two readings as a reversal; null until both can be read. */
export function reversalOf(form: MeasureForm): Reversal | null {
  if (form.taken.first && form.taken.second) return phoneReversal(form.taken.first, form.taken.second, form.end)
  const kind = form.shows === 'circle' ? KINDS.circle : KINDS.tilt
  const [first, second] = [typed(form.first, kind), typed(form.second, kind)]
  if (first === null || second === null) return null
  const reverse = form.shows === 'circle' ? reversalOnCircle : reversalOfElevations
  return reverse(radFromDeg(first), radFromDeg(second))
}

const spreadOf = (form: MeasureForm, own: OwnError): { step: number; noise: number } | null => {
  const { stepDeg, noiseDeg } = usualFineness(own)
  const step = typedOr(form.step, KINDS.step, stepDeg)
  const noise = typedOr(form.noise, KINDS.step, noiseDeg)
  return step === null || noise === null ? null : { step: radFromDeg(step), noise: radFromDeg(noise) }
}

/** σ of the reversal in degrees; null until it can be told. */
export function reversedSigmaDeg(form: MeasureForm, left: number, own: OwnError = NO_OWN): number | null {
  const { first, second } = form.taken
  if (first && second) return degFromRad(phoneReversedSigma(left, first, second))
  const spread = spreadOf(form, own)
  return spread && degFromRad(reversalSigma(left, spread))
}

/** The rows round the mast in which both are typed. */
export const leanReadings = (form: MeasureForm): LeanReading[] => leanRows(form).map(row => row.reading)

export const leanRows = (form: MeasureForm): { reading: LeanReading; taken: Taken | null }[] =>
  form.around.flatMap(row => {
    const [heading, reading] = [typed(row.heading, KINDS.heading), typed(row.reading, KINDS.tilt)]
    if (heading === null || reading === null) return []
    return [{ reading: { heading: radFromDeg(heading), reading: radFromDeg(reading) }, taken: row.taken ?? null }]
  })

export function leanOf(form: MeasureForm, own: OwnError = NO_OWN): MastLean | null {
  const taken = form.around.flatMap(row => (row.taken ? [row.taken] : []))
  // The placings round different values, so their rounding is part of their noise.
  const spread = taken.length > 0 ? { noise: placingOf(taken), step: 0 } : spreadOf(form, own)
  return spread && mastLean(leanReadings(form), { ...spread, bias: REVERSED_BIAS })
}

/** What still keeps a form from being a record. */
export type NotYet =
  | 'time'
  | 'lower'
  | 'upper'
  | 'value'
  | 'sigma'
  | 'readings'
  | 'reversal'
  | 'around'
  | 'step'
  | 'mark'
  | 'reading'
  | 'what'
  | 'moved'
  | 'swing'
  | 'no-kind'

export type Ready<T> = { kind: 'ready'; record: T } | { kind: 'not-yet'; why: NotYet }
export const notYet = (why: NotYet): { kind: 'not-yet'; why: NotYet } => ({ kind: 'not-yet', why })

/** True where a clamping's constant can matter: a single reading, or the dish, against which the instrument sits askew. */
export const asksSits = (form: MeasureForm, what: LevelWhat): boolean =>
  what !== 'mast-lean' && (form.how === 'one' || what === 'dish-elevation')
