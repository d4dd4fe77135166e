/**
 * The forms of "Measure the dish": diameter and depth, rim to feed, crossed strings; from typed texts to what is kept, and
 * back. Pure. Lengths are typed in the person's unit and kept in millimetres.
 */

import type { DishMeasuresRecord, RimRecord, StringsRecord } from '../../core/records/dishmeasure.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { RANGES, type Range, TYPED } from '../../core/records/ranges.ts'
import { measuresOf } from '../../core/tape/measured.ts'
import type { SeenFrom } from '../../core/tape/rim.ts'
import { MM_PER_INCH } from '../../core/units.ts'
import { MINUS } from '../kit/format.ts'
import { lengthKind, type NumberKind, parseNumber } from '../kit/numberfield.ts'

interface Typed {
  /** Lengths are written in inches. */
  inch: boolean
}
interface BowlForm extends Typed {
  diameter: string
  depth: string
  sigma: string
}
export interface RimForm extends Typed {
  /** Empty until the person has said so. */
  seenFrom: SeenFrom | ''
  places: '3' | '4' | '12'
  /** One for each hour, 12 first. */
  distances: string[]
  to: 'centre' | 'edge'
  mouth: string
  phase: string
  sigma: string
}
interface StringsForm extends Typed {
  seenFrom: SeenFrom | ''
  pair: 'upright' | 'diagonal'
  first: string
  second: string
}

const kindOf = ({ inch }: Typed, range: Range): NumberKind => lengthKind(inch ? 'in' : 'mm', range)
export const tapedKind = (form: Typed): NumberKind => kindOf(form, RANGES.tapeMm)
export const mouthKind = (form: Typed): NumberKind => kindOf(form, RANGES.mouthMm)
export const stringsKind = (form: Typed): NumberKind => kindOf(form, RANGES.stringsMm)
export const sigmaKind = (form: Typed): NumberKind => kindOf(form, TYPED.tapeSigmaMm)
export const phaseKind = (form: Typed): NumberKind => kindOf(form, TYPED.phaseCentreMm)

/** Millimetres; null while there is no number, or none that the field takes. */
export function mmOf(form: Typed, text: string, kind = tapedKind(form)): number | null {
  const parsed = parseNumber(text, kind)
  if (parsed.kind !== 'value') return null
  return form.inch ? Number((parsed.value * MM_PER_INCH).toPrecision(12)) : parsed.value
}

const textOfMm = (form: Typed, mm: number | undefined): string => {
  if (mm === undefined) return ''
  const size = Math.abs(form.inch ? Number((mm / MM_PER_INCH).toPrecision(9)) : mm)
  return (mm < 0 ? MINUS : '') + String(size)
}

/** The hours at which is measured, in the order of the clock. */
export const clockHours = (places: RimForm['places']): readonly number[] =>
  places === '3' ? [12, 4, 8] : places === '4' ? [12, 3, 6, 9] : [12, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]

export function bowlForm(station: StationRecord, inch: boolean): BowlForm {
  const measures = measuresOf(station)
  const form = { inch }
  return {
    inch,
    diameter: textOfMm(form, measures.diameterMm ?? Number((1000 * station.dish.diameterM).toFixed(3))),
    depth: textOfMm(form, measures.depthMm),
    sigma: textOfMm(form, measures.sigmaMm),
  }
}

export function rimForm(station: StationRecord, feed: string, inch: boolean): RimForm {
  const rim = [...(measuresOf(station).rims ?? [])].reverse().find(r => r.feed === feed)
  const form = { inch }
  const distances = Array<string>(12).fill('')
  for (const d of rim?.distances ?? []) if (Number.isInteger(d.clock)) distances[d.clock % 12] = textOfMm(form, d.mm)
  const hours = (rim?.distances ?? []).map(d => d.clock)
  const fits = (places: RimForm['places']) => hours.every(h => clockHours(places).includes(h))
  return {
    inch,
    seenFrom: rim?.seenFrom ?? '',
    places: hours.length === 0 ? '4' : fits('4') ? '4' : fits('3') ? '3' : '12',
    distances,
    to: (rim?.mouthDiameterMm ?? 0) > 0 ? 'edge' : 'centre',
    mouth: textOfMm(form, rim?.mouthDiameterMm ?? station.dish.feedDiameterMm),
    phase: textOfMm(form, rim?.phaseCentreMm),
    sigma: textOfMm(form, rim?.sigmaMm),
  }
}

export const stringsForm = (inch: boolean): StringsForm => ({
  inch,
  seenFrom: '',
  pair: 'upright',
  first: '',
  second: '',
})

export type TapeReady<T> = { kind: 'ready'; value: T } | { kind: 'not-yet'; why: TapeNotYet }
export type TapeNotYet =
  | 'side'
  | 'diameter'
  | 'depth'
  | 'shape'
  | 'sigma'
  | 'distances'
  | 'mouth'
  | 'phase'
  | 'first'
  | 'second'
const notYet = (why: TapeNotYet): { kind: 'not-yet'; why: TapeNotYet } => ({ kind: 'not-yet', why })

/** Empty: undefined; what cannot be read: null. */
const optional = (form: Typed, text: string, kind: NumberKind): number | undefined | null =>
  text.trim() === '' ? undefined : mmOf(form, text, kind)

const defined = <T extends object>(o: T): T =>
  Object.fromEntries(Object.entries(o).filter(([, value]) => value !== undefined)) as T

/** The dish's measures with diameter and depth as typed. */
export function withBowl(form: BowlForm, station: StationRecord, utc: string): TapeReady<DishMeasuresRecord> {
  const diameterMm = mmOf(form, form.diameter)
  if (diameterMm === null || diameterMm < 1000 * RANGES.diameterM[0]) return notYet('diameter')
  const depthMm = mmOf(form, form.depth)
  if (depthMm === null || depthMm <= 0) return notYet('depth')
  const ratio = diameterMm / (16 * depthMm)
  if (ratio < RANGES.focalRatio[0] || ratio > RANGES.focalRatio[1]) return notYet('shape')
  const sigmaMm = optional(form, form.sigma, sigmaKind(form))
  if (sigmaMm === null || sigmaMm === 0) return notYet('sigma')
  const { sigmaMm: _, ...before } = measuresOf(station)
  return { kind: 'ready', value: defined({ ...before, utc, diameterMm, depthMm, sigmaMm }) }
}

/** A rim record as typed; its distances may be too few for an answer yet. */
export function rimOf(form: RimForm, feed: string, utc: string): TapeReady<RimRecord> {
  const distances: RimRecord['distances'] = []
  for (const clock of clockHours(form.places)) {
    const mm = optional(form, form.distances[clock % 12] ?? '', tapedKind(form))
    if (mm === null || mm === 0) return notYet('distances')
    if (mm !== undefined) distances.push({ clock, mm })
  }
  if (distances.length < 3) return notYet('distances')
  const mouthDiameterMm = form.to === 'centre' ? undefined : mmOf(form, form.mouth, mouthKind(form))
  if (mouthDiameterMm === null || mouthDiameterMm === 0) return notYet('mouth')
  const phaseCentreMm = optional(form, form.phase, phaseKind(form))
  if (phaseCentreMm === null) return notYet('phase')
  const sigmaMm = optional(form, form.sigma, sigmaKind(form))
  if (sigmaMm === null || sigmaMm === 0) return notYet('sigma')
  const { seenFrom } = form
  if (seenFrom === '') return notYet('side')
  const value = defined({ utc, feed, seenFrom, distances, sigmaMm, mouthDiameterMm, phaseCentreMm }) as RimRecord
  return { kind: 'ready', value }
}

/** The dish's measures with one feed's rim distances in place of those before. */
export function withRim(rim: RimRecord, station: StationRecord): DishMeasuresRecord {
  const before = measuresOf(station)
  return { ...before, utc: rim.utc, rims: [...(before.rims ?? []).filter(r => r.feed !== rim.feed), rim] }
}

export function stringsOf(form: StringsForm, utc: string): TapeReady<StringsRecord> {
  const { pair, seenFrom } = form
  if (seenFrom === '') return notYet('side')
  const firstInFrontMm = mmOf(form, form.first, stringsKind(form))
  if (firstInFrontMm === null) return notYet('first')
  const firstBehindMm = mmOf(form, form.second, stringsKind(form))
  if (firstBehindMm === null) return notYet('second')
  return { kind: 'ready', value: { utc, pair, seenFrom, firstInFrontMm, firstBehindMm } }
}

export function withStrings(strings: StringsRecord, station: StationRecord): DishMeasuresRecord {
  const before = measuresOf(station)
  return {
    ...before,
    utc: strings.utc,
    strings: [...(before.strings ?? []).filter(s => s.pair !== strings.pair), strings],
  }
}
