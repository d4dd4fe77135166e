/**
 * The forms of the place "Mount": what was typed, as text, and its reading as a record. Pure: time and ids are handed in.
 * A person and the phone fill the same forms. Degrees, and readings as the counters show them.
 */
import { type LeanReading, type MastLean, mastLean } from '../../core/level/mastlean.ts'
import { type Reversal, reversalOfElevations, reversalOnCircle, reversalSigma } from '../../core/level/reversal.ts'
import { levelSigma, REVERSED_BIAS, UNREVERSED_BIAS } from '../../core/level/sigma.ts'
import type { PhoneEnd } from '../../core/level/upvector.ts'
import type { Taken } from '../../core/records/fieldbook.ts'
import type { LevelWhat } from '../../core/records/levelkinds.ts'
import { degFromRad, radFromDeg } from '../../core/units.ts'
import { KINDS } from '../kit/kinds.ts'
import { type NumberKind, numberOf, numberOr } from '../kit/numberfield.ts'
import { utcText } from '../kit/utcfield.ts'
import {
  NO_OWN,
  type OwnError,
  phoneElevation,
  phoneReversal,
  phoneReversedSigma,
  phoneSigma,
  placingOf,
  readingFrom,
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

export const valueKind = (what: LevelWhat): NumberKind => (what === 'upper-axis-elevation' ? KINDS.raised : KINDS.tilt)

/** What is taken where step and noise are left empty. */
const USUAL_STEP_DEG = 0.1
const USUAL_NOISE_DEG = 0.1

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
  // In a clamping the instrument's bias is part of the constant that the solution finds.
  const bias = own.use.kind === 'valid' ? own.use.sigma : clamped ? REVERSED_BIAS : UNREVERSED_BIAS
  const { stepDeg, noiseDeg } = usualFineness(own)
  return degFromRad(levelSigma({ noise: radFromDeg(noiseDeg), step: radFromDeg(stepDeg), bias }))
}

/** How fine the instrument is where the form says nothing. */
export const usualFineness = (own: OwnError): { stepDeg: number; noiseDeg: number } => ({
  stepDeg: own.instrument?.stepDeg ?? USUAL_STEP_DEG,
  noiseDeg: own.instrument?.noiseDeg ?? USUAL_NOISE_DEG,
})

/** One reading with the instrument's bias taken off, degrees; null until it can be read. */
export function correctedDeg(form: MeasureForm, what: LevelWhat, own: OwnError): number | null {
  if (form.taken.value) {
    const deg = degFromRad(phoneElevation(form.taken.value.up, form.end, own.use))
    return what === 'upper-axis-elevation' ? Math.abs(deg) : deg
  }
  const shown = numberOf(form.value, valueKind(what))
  if (shown === null) return null
  const deg = own.use.kind === 'valid' ? shown - degFromRad(own.use.bias) : shown
  return what === 'upper-axis-elevation' ? Math.abs(deg) : Math.max(-90, Math.min(90, deg))
}

/** The two readings as a reversal; null until both can be read. */
export function reversalOf(form: MeasureForm): Reversal | null {
  if (form.taken.first && form.taken.second) return phoneReversal(form.taken.first, form.taken.second, form.end)
  const kind = form.shows === 'circle' ? KINDS.circle : KINDS.tilt
  const [first, second] = [numberOf(form.first, kind), numberOf(form.second, kind)]
  if (first === null || second === null) return null
  const reverse = form.shows === 'circle' ? reversalOnCircle : reversalOfElevations
  return reverse(radFromDeg(first), radFromDeg(second))
}

const spreadOf = (form: MeasureForm, own: OwnError): { step: number; noise: number } | null => {
  const { stepDeg, noiseDeg } = usualFineness(own)
  const step = numberOr(form.step, KINDS.step, stepDeg)
  const noise = numberOr(form.noise, KINDS.step, noiseDeg)
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
    const [heading, reading] = [numberOf(row.heading, KINDS.heading), numberOf(row.reading, KINDS.tilt)]
    if (heading === null || reading === null) return []
    return [{ reading: { heading: radFromDeg(heading), reading: radFromDeg(reading) }, taken: row.taken ?? null }]
  })

export function leanOf(form: MeasureForm, own: OwnError = NO_OWN): MastLean | null {
  const taken = form.around.flatMap(row => (row.taken ? [row.taken] : []))
  // The placings round different values, so their rounding is part of their noise.
  const spread = taken.length > 0 ? { noise: placingOf(taken), step: 0 } : spreadOf(form, own)
  return spread && mastLean(leanReadings(form), { ...spread, bias: REVERSED_BIAS })
}

/** True where a clamping's constant can matter: a single reading, or the dish, against which the instrument sits askew. */
export const asksSits = (form: MeasureForm, what: LevelWhat): boolean =>
  what !== 'mast-lean' && (form.how === 'one' || what === 'dish-elevation')
