/**
 * The form of a sighting: what was typed, as text, and its reading as a record. Pure. What an old record says and the
 * person did not touch stays to the last digit. The form of a marked time begins with the readings to drive to, to be corrected to what
 * the dish shows.
 * The shadow is typed as seen; seen from in front, left and right are swapped when it is read.
 */
import { isScanMethod } from '../../../core/fit/methods.ts'
import { checkAt, offsetOf } from '../../../core/records/clockchecks.ts'
import type {
  Axis,
  Method,
  MountRecord,
  Side,
  SightingRecord,
  StationRecord,
  TargetRecord,
} from '../../../core/records/fieldbook.ts'
import type { HalfSighting } from '../../../core/records/halfsightings.ts'
import { MM_PER_INCH } from '../../../core/units.ts'
import type { LengthUnit } from '../format.ts'
import { KINDS } from '../kinds.ts'
import { type NumberKind, numberOf, typedDeg, typedNumber } from '../numberfield.ts'
import { readingDecimals } from '../phrases.ts'
import { readingKind, typedReading } from '../readings.ts'
import { parseUtc, typedUtc } from '../utcfield.ts'

export interface SightForm {
  /** Of the lengths typed. */
  unit: LengthUnit
  target: TargetRecord['type'] | null
  source: string | null
  satelliteLon: string
  landmarkAz: string
  landmarkEl: string
  method: Method | null
  feed: string | null
  lower: string
  upper: string
  lowerSide: Side | ''
  upperSide: Side | ''
  view: 'behind' | 'front' | null
  shadowSide: 'left' | 'right' | null
  shadowAcross: string
  shadowHeight: 'above' | 'below' | null
  shadowAlong: string
  offsetRight: string
  offsetUp: string
  sigma: string
  utc: string
  clockOffset: string
  note: string
  wind: string
}
export type SightField = keyof SightForm

export const emptySightForm = (unit: LengthUnit): SightForm => ({
  unit,
  target: null,
  source: null,
  satelliteLon: '',
  landmarkAz: '',
  landmarkEl: '',
  method: null,
  feed: null,
  lower: '',
  upper: '',
  lowerSide: '',
  upperSide: '',
  view: null,
  shadowSide: null,
  shadowAcross: '',
  shadowHeight: null,
  shadowAlong: '',
  offsetRight: '',
  offsetUp: '',
  sigma: '',
  utc: '',
  clockOffset: '',
  note: '',
  wind: '',
})

function targetForm(target: TargetRecord | undefined): Partial<SightForm> {
  if (target === undefined) return {}
  return {
    target: target.type,
    ...(target.type === 'source' && { source: target.name }),
    ...(target.type === 'geostationary' && { satelliteLon: typedDeg(target.lonDeg) }),
    ...(target.type === 'landmark' && { landmarkAz: typedDeg(target.azDeg), landmarkEl: typedDeg(target.elDeg) }),
  }
}

/** A reading to drive to as it stood on the screen when the time was marked: whole counts, tenths of a degree. */
const dialledText = (mount: MountRecord, axis: Axis, half: HalfSighting): string => {
  const value = half.dialled?.[axis]
  if (value === undefined) return ''
  return typedReading(mount, axis, Number(value.toFixed(readingDecimals(mount, axis))))
}

/** What stands in the readings of a half before anything is typed. */
export const filledOf = (half: HalfSighting, mount: MountRecord): { lower: string; upper: string } => ({
  lower: dialledText(mount, 'lower', half),
  upper: dialledText(mount, 'upper', half),
})

/** The form of a half: its guesses picked, the readings to drive to filled in. */
export const formOfHalf = (half: HalfSighting, unit: LengthUnit, mount: MountRecord): SightForm => ({
  ...emptySightForm(unit),
  ...targetForm(half.target),
  method: half.method ?? null,
  feed: half.feed ?? null,
  lower: half.lower === undefined ? dialledText(mount, 'lower', half) : typedReading(mount, 'lower', half.lower),
  upper: half.upper === undefined ? dialledText(mount, 'upper', half) : typedReading(mount, 'upper', half.upper),
  lowerSide: half.arrivedFrom?.lower ?? '',
  upperSide: half.arrivedFrom?.upper ?? '',
  utc: typedUtc(half.utc),
  note: half.note ?? '',
})

const lengthText = (mm: number, unit: LengthUnit): string =>
  unit === 'mm' ? typedNumber(Math.abs(mm)) : typedNumber(Number((Math.abs(mm) / MM_PER_INCH).toFixed(3)))

export const formOfSighting = (s: SightingRecord, unit: LengthUnit, mount: MountRecord): SightForm => ({
  ...emptySightForm(unit),
  ...targetForm(s.target),
  method: s.method,
  feed: s.feed ?? null,
  lower: typedReading(mount, 'lower', s.lower),
  upper: typedReading(mount, 'upper', s.upper),
  lowerSide: s.arrivedFrom?.lower ?? '',
  upperSide: s.arrivedFrom?.upper ?? '',
  ...(s.shadow && {
    view: 'behind' as const,
    shadowSide: s.shadow.rightMm < 0 ? ('left' as const) : ('right' as const),
    shadowAcross: lengthText(s.shadow.rightMm, unit),
    shadowHeight: s.shadow.upMm < 0 ? ('below' as const) : ('above' as const),
    shadowAlong: lengthText(s.shadow.upMm, unit),
  }),
  offsetRight: typedDeg(s.offset?.rightDeg),
  offsetUp: typedDeg(s.offset?.upDeg),
  sigma: typedDeg(s.sigmaDeg),
  utc: typedUtc(s.utc),
  clockOffset: typedNumber(s.clockOffsetS),
  note: s.note ?? '',
  wind: s.wind ?? '',
})

const isEmpty = (text: string): boolean => text.trim() === ''

/** The shadow as the dish counts it (seen from behind), mm; null while something is missing. */
export function shadowOf(form: SightForm): { rightMm: number; upMm: number } | null {
  const kind = KINDS[form.unit]
  const across = numberOf(form.shadowAcross, kind)
  const along = numberOf(form.shadowAlong, kind)
  if (form.view === null || across === null || along === null) return null
  if ((across !== 0 && form.shadowSide === null) || (along !== 0 && form.shadowHeight === null)) return null
  const scale = form.unit === 'mm' ? 1 : MM_PER_INCH
  const seenRight = form.shadowSide === 'left' ? -across : across
  const rightMm = scale * (form.view === 'front' ? -seenRight : seenRight)
  const upMm = scale * (form.shadowHeight === 'below' ? -along : along)
  return { rightMm: rightMm === 0 ? 0 : rightMm, upMm: upMm === 0 ? 0 : upMm }
}

/** The target as far as it is said; null while something is missing. */
export function targetOf(form: SightForm): TargetRecord | null {
  switch (form.target) {
    case 'moon':
    case 'sun':
      return { type: form.target }
    case 'source':
      return form.source === null ? null : { type: 'source', name: form.source }
    case 'geostationary': {
      const lonDeg = numberOf(form.satelliteLon, KINDS.longitude)
      return lonDeg === null ? null : { type: 'geostationary', lonDeg }
    }
    case 'landmark': {
      const azDeg = numberOf(form.landmarkAz, KINDS.azimuth)
      const elDeg = numberOf(form.landmarkEl, KINDS.elevation)
      return azDeg === null || elDeg === null ? null : { type: 'landmark', azDeg, elDeg }
    }
    default:
      return null
  }
}

/** The methods that a target can be sighted by. */
export function methodsFor(target: TargetRecord['type'] | null): readonly Method[] {
  switch (target) {
    case 'sun':
      return ['shadow', 'signal-peak', 'optical']
    case 'moon':
      return ['signal-peak', 'optical']
    case 'landmark':
      return ['optical', 'signal-peak']
    case 'source':
    case 'geostationary':
      return ['signal-peak']
    default:
      return ['signal-peak', 'shadow', 'optical']
  }
}

export type ReadForm =
  | { kind: 'whole'; record: SightingRecord }
  /** What is missing or cannot be read, in the order of the form. */
  | { kind: 'not-yet'; missing: SightField[] }

/** Fields kept as they were when their text was not touched. */
function isTouched(form: SightForm, before: SightForm | null, ...fields: SightField[]): boolean {
  return before === null || fields.some(f => form[f] !== before[f])
}

/**
 * The record that the form says.
 *
 * @param base    id and what the form does not show; an old record's untouched fields are taken from it
 * @param before  the form as it was made from `base`; null for a new sighting
 */
export function readSightForm(
  form: SightForm,
  station: StationRecord,
  base: Partial<SightingRecord> & { id: string },
  before: SightForm | null,
): ReadForm {
  const missing: SightField[] = []
  const need = <T>(value: T | null, field: SightField): T => {
    if (value === null) missing.push(field)
    return value as T
  }
  const optional = (field: SightField, kind: NumberKind, old: number | undefined): number | undefined => {
    const text = form[field] as string
    if (isEmpty(text)) return undefined
    if (old !== undefined && !isTouched(form, before, field)) return old
    return need(numberOf(text, kind), field)
  }
  const isAsBefore = (...fields: SightField[]) => !isTouched(form, before, ...fields)

  const targetFields = ['target', 'source', 'satelliteLon', 'landmarkAz', 'landmarkEl'] as const
  const target =
    base.target && isAsBefore(...targetFields) ? base.target : need(targetOf(form), fieldOfTarget(form.target))
  const lower =
    base.lower !== undefined && isAsBefore('lower')
      ? base.lower
      : need(numberOf(form.lower, readingKind(station.mount, 'lower')), 'lower')
  const upper =
    base.upper !== undefined && isAsBefore('upper')
      ? base.upper
      : need(numberOf(form.upper, readingKind(station.mount, 'upper')), 'upper')
  const isScan = form.method !== null && isScanMethod(form.method)
  const fits = form.method !== null && (isScan || methodsFor(form.target).includes(form.method))
  const method = need(fits ? form.method : null, 'method')
  const isShadow = method === 'shadow'
  const shadowFields = ['view', 'shadowSide', 'shadowAcross', 'shadowHeight', 'shadowAlong'] as const
  const shadow = !isShadow
    ? undefined
    : base.shadow && isAsBefore(...shadowFields)
      ? base.shadow
      : need(shadowOf(form), form.view === null ? 'view' : missingOfShadow(form))
  const feed =
    method === 'optical' ? undefined : station.feeds.length > 1 ? need(form.feed, 'feed') : (base.feed ?? undefined)
  const at = parseUtc(form.utc)
  const utc =
    base.utc !== undefined && isAsBefore('utc')
      ? base.utc
      : need(at.kind === 'value' ? new Date(at.utcMs).toISOString() : null, 'utc')
  const clockOffsetS = optional('clockOffset', KINDS.clockOffset, base.clockOffsetS)
  const sigmaDeg = optional('sigma', KINDS.sigma, base.sigmaDeg)
  const rightDeg = optional('offsetRight', KINDS.offset, base.offset?.rightDeg)
  const upDeg = optional('offsetUp', KINDS.offset, base.offset?.upDeg)
  if (missing.length > 0) return { kind: 'not-yet', missing }

  const {
    feed: _f,
    shadow: _s,
    offset: _o,
    arrivedFrom: _a,
    sigmaDeg: _g,
    clockOffsetS: _c,
    note: _n,
    wind: _w,
    ...rest
  } = base
  // The scan's own covariance belongs to the scan: another method, or a σ typed by hand, replaces it.
  if (method !== base.method || !isAsBefore('sigma')) {
    delete rest.cov
    if (method !== base.method) delete rest.scan
  }
  const hasOffset = !isShadow && (rightDeg !== undefined || upDeg !== undefined)
  return {
    kind: 'whole',
    record: {
      ...rest,
      id: base.id,
      utc,
      ...(clockOffsetS !== undefined && { clockOffsetS }),
      target,
      lower,
      upper,
      ...((form.lowerSide || form.upperSide) && {
        arrivedFrom: {
          ...(form.lowerSide && { lower: form.lowerSide }),
          ...(form.upperSide && { upper: form.upperSide }),
        },
      }),
      method,
      ...(feed !== undefined && { feed }),
      ...(hasOffset && { offset: { rightDeg: rightDeg ?? 0, upDeg: upDeg ?? 0 } }),
      ...(shadow && { shadow }),
      ...(sigmaDeg !== undefined && { sigmaDeg }),
      ...(!isEmpty(form.note) && { note: form.note }),
      ...(!isEmpty(form.wind) && { wind: form.wind }),
    },
  }
}

function fieldOfTarget(type: SightForm['target']): SightField {
  switch (type) {
    case 'source':
      return 'source'
    case 'geostationary':
      return 'satelliteLon'
    case 'landmark':
      return 'landmarkAz'
    default:
      return 'target'
  }
}

function missingOfShadow(form: SightForm): SightField {
  const kind = KINDS[form.unit]
  const across = numberOf(form.shadowAcross, kind)
  if (across === null) return 'shadowAcross'
  if (across !== 0 && form.shadowSide === null) return 'shadowSide'
  return numberOf(form.shadowAlong, kind) === null ? 'shadowAlong' : 'shadowHeight'
}

/** The clock fields that the form of a marked time begins with: the offset of the check that counts for it; none where the clock was set since. */
export function clockOfHalf(station: StationRecord, half: HalfSighting): { clockOffset?: string } {
  const check = half.time === 'stamped' && half.clockStepS === undefined ? checkAt(station, half.utc) : null
  return check === null ? {} : { clockOffset: typedNumber(offsetOf(check)) }
}
