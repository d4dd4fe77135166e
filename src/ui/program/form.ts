/** The form of a comparison: the place that is being typed, and those that are compared, as text; and the question they make. Pure. */
import type { ProgramWish } from '../../core/check/programjson.ts'
import type { StationRecord, TargetRecord } from '../../core/records/fieldbook.ts'
import { RANGES } from '../../core/records/ranges.ts'
import { bounds, type NumberKind, numberOf } from '../kit/numberfield.ts'
import { readingKind } from '../kit/readings.ts'
import { emptySightForm, type SightForm, targetOf } from '../kit/sighting/form.ts'
import { utcOf, utcText } from '../kit/utcfield.ts'

/** One place, as typed. Target, time and readings have the fields of a sighting. */
export interface TypedPlace extends Pick<SightForm, 'target' | 'source' | 'utc' | 'lower' | 'upper'> {
  az: string
  el: string
}

export interface ProgramForm {
  /** What is being typed. */
  typed: TypedPlace
  /** Whether its fields are open; with no place at all they always are. */
  isOpen: boolean
  /** What is compared. */
  places: TypedPlace[]
  /** Which of them is being edited; -1: a new one. */
  editing: number
}

export const PROGRAM_KINDS = {
  /** Some programs count from -180. */
  az: { form: 'angle', min: -180, max: 360 },
  el: { form: 'angle', ...bounds(RANGES.elevationDeg) },
} as const satisfies Record<string, NumberKind>

export const emptyPlace = (target: TypedPlace['target'] = 'moon', source: string | null = null): TypedPlace => ({
  target,
  source,
  utc: '',
  lower: '',
  upper: '',
  az: '',
  el: '',
})

export const emptyProgram = (): ProgramForm => ({ typed: emptyPlace(), isOpen: true, places: [], editing: -1 })

/** As the fields of a sighting take it. */
export const sightFormOf = (typed: TypedPlace): SightForm => ({ ...emptySightForm('mm'), ...typed })

export type PlaceLack = 'source' | 'utc' | 'az' | 'el' | 'lower' | 'upper'
type Shown = ProgramWish['shown'][number] & { target: TargetRecord }

/** The place that was typed, or what is missing or cannot be read, in the order of the form. Both readings, or none. */
export function readPlace(typed: TypedPlace, station: StationRecord): { shown: Shown } | { lacks: PlaceLack } {
  const target = targetOf(sightFormOf(typed))
  const utc = utcOf(typed.utc, null)
  const azDeg = numberOf(typed.az, PROGRAM_KINDS.az)
  const elDeg = numberOf(typed.el, PROGRAM_KINDS.el)
  if (target === null) return { lacks: 'source' }
  if (utc === null) return { lacks: 'utc' }
  if (azDeg === null) return { lacks: 'az' }
  if (elDeg === null) return { lacks: 'el' }
  const shown = { target, utc, azDeg, elDeg }
  if (typed.lower.trim() === '' && typed.upper.trim() === '') return { shown }
  const lower = numberOf(typed.lower, readingKind(station.mount, 'lower'))
  const upper = numberOf(typed.upper, readingKind(station.mount, 'upper'))
  if (lower === null) return { lacks: 'lower' }
  if (upper === null) return { lacks: 'upper' }
  return { shown: { ...shown, lower, upper } }
}

/** Decimals that were typed; degrees with minutes are as good as two. */
export const typedDecimals = (text: string): number =>
  /\d[ °:]\s*\d/.test(text.trim()) ? 2 : (/[.,](\d+)/.exec(text)?.[1]?.length ?? 0)

/** Of a coordinate rounded to tenths or finer, with what almanacs differ by; and of one that is rounded to whole degrees. */
const FINE_DEG = 0.06
const WHOLE_DEG = 0.3

/** From the finest that was typed: a program shows all of them with the same digits, and zeros at the end are easily left out. */
export const typedSigma = (places: readonly TypedPlace[]): number =>
  Math.max(0, ...places.flatMap(p => [typedDecimals(p.az), typedDecimals(p.el)])) > 0 ? FINE_DEG : WHOLE_DEG

/** The question that the places make; null where there is none, or one that cannot be read any more. */
export function programWish(places: readonly TypedPlace[], station: StationRecord): ProgramWish | null {
  const shown: Shown[] = []
  for (const typed of places) {
    const read = readPlace(typed, station)
    if ('lacks' in read) return null
    shown.push(read.shown)
  }
  const [first] = shown
  return first === undefined ? null : { target: first.target, shown, sigmaDeg: typedSigma(places) }
}

/** The form with the time at which the program is read, true by the clock check. */
export const marked = (form: ProgramForm, trueMs: number): ProgramForm => ({
  ...form,
  typed: { ...form.typed, utc: utcText(trueMs) },
})

/** The form with what was typed among its places. */
export const taken = (form: ProgramForm): ProgramForm => {
  const { typed, editing } = form
  const places = editing < 0 ? [...form.places, typed] : form.places.map((p, k) => (k === editing ? typed : p))
  return { typed: emptyPlace(typed.target, typed.source), isOpen: false, places, editing: -1 }
}

export const opened = (form: ProgramForm, k: number): ProgramForm => ({
  ...form,
  typed: form.places[k] ?? form.typed,
  editing: form.places[k] === undefined ? -1 : k,
  isOpen: true,
})

/** Without the place that is being edited. */
export function removed(form: ProgramForm): ProgramForm {
  const places = form.places.filter((_, k) => k !== form.editing)
  return { typed: emptyPlace(form.typed.target, form.typed.source), isOpen: places.length === 0, places, editing: -1 }
}
