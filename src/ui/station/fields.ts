/**
 * The fields of a station's form: what each takes. A field's name is its path in the record, with a row's own key in
 * place of its number: "site.latDeg", "feeds.k1.frequencyMHz", "mount.upper.baseArmMm". Pure.
 */

import { unitOf } from '../../core/fit/parameters.ts'
import { slotOf } from '../../core/mount/slots.ts'
import type { FeedRecord, MountKind, ParameterId, PriorRecord } from '../../core/records/fieldbook.ts'
import { FEED_PARAMETERS, PARAMETER_IDS } from '../../core/records/fieldbook.ts'
import { MM_PER_INCH } from '../../core/units.ts'
import { MINUS } from '../kit/format.ts'
import { type NumberKind, typedAngle } from '../kit/numberfield.ts'

export interface NumberSpec {
  kind: NumberKind
  /** Kept in millimetres (or counts per millimetre) and written in the person's unit. */
  length?: 'mm' | 'per-mm'
}

export const STEPS = ['name', 'place', 'dish', 'feeds', 'mount', 'lower', 'upper', 'allow', 'horizon', 'known'] as const
export type StepId = (typeof STEPS)[number]

/** The step that shows a field; null for what no step shows. */
export function stepOf(path: string): StepId | null {
  if (/^(name|notes)$/.test(path)) return 'name'
  if (/^(site|locator)\b/.test(path)) return 'place'
  if (/^dish\.feedDiameterMm$|^feeds\b/.test(path)) return 'feeds'
  if (/^dish\b/.test(path)) return 'dish'
  if (/^mount\.(kind|headingDeg|boresightOffsetDeg)$/.test(path)) return 'mount'
  if (/^mount\.lower\b/.test(path)) return 'lower'
  if (/^mount\.upper\b/.test(path)) return 'upper'
  if (/^tolerance\b/.test(path)) return 'allow'
  if (/^horizonMask\b/.test(path)) return 'horizon'
  if (/^priors\b/.test(path)) return 'known'
  return null
}

const of = (form: NumberKind['form'], unit?: string, min?: number, max?: number): NumberSpec => ({
  kind: { form, ...(unit && { unit }), ...(min !== undefined && { min }), ...(max !== undefined && { max }) },
})
const lengthOf = (max: number): NumberSpec => ({ kind: { form: 'number', unit: 'mm', min: 0, max }, length: 'mm' })

const FIXED: Readonly<Record<string, NumberSpec>> = {
  'site.latDeg': of('latitude', undefined, -90, 90),
  'site.lonDeg': of('longitude', undefined, -180, 180),
  'site.heightM': of('number', 'm', -500, 9000),
  'site.air.pressureHPa': of('number', 'hPa', 0, 1200),
  'site.air.temperatureC': of('number', '°C', -100, 100),
  'site.air.humidityPct': of('number', '%', 0, 100),
  'dish.diameterM': of('number', 'm', 0.2, 100),
  'dish.focalRatio': of('number', undefined, 0.15, 2),
  'dish.depth': lengthOf(1e5),
  'dish.surfaceRmsMm': lengthOf(1000),
  'dish.feedDiameterMm': lengthOf(1e5),
  'feeds.*.frequencyMHz': of('number', 'MHz', 30, 300_000),
  'feeds.*.beamwidthDeg': of('angle', undefined, 0, 180),
  'feeds.*.systemTemperatureK': of('number', 'K', 0, 1e6),
  'mount.headingDeg': of('angle', undefined, 0, 360),
  'mount.boresightOffsetDeg': of('angle', undefined, -45, 45),
  'mount.*.readout.zeroCounts': of('count', 'counts', -1e9, 1e9),
  'mount.*.readout.countsPerDeg': { kind: { form: 'number', unit: 'counts per °', min: -1e9, max: 1e9 } },
  'mount.*.readout.baseArmMm': lengthOf(1e6),
  'mount.*.readout.rodArmMm': lengthOf(1e6),
  'mount.*.readout.lengthAtReadingZeroMm': lengthOf(1e6),
  'mount.*.readout.countsPerMm': {
    kind: { form: 'number', unit: 'counts per mm', min: 0, max: 1e9 },
    length: 'per-mm',
  },
  'mount.*.readout.phiAtAngleZeroDeg': of('angle', undefined, -720, 720),
  'tolerance.echoLossDb': of('number', 'dB', 0, 100),
  'tolerance.minElevationDeg': of('angle', undefined, -5, 90),
  'tolerance.floorDeg': of('angle', undefined, 0, 90),
  'horizonMask.*.azDeg': of('angle', undefined, 0, 360),
  'horizonMask.*.elDeg': of('angle', undefined, -10, 90),
}

/** The same for every row and axis. */
export const general = (path: string): string =>
  path
    .replace(/^(feeds|horizonMask|priors)\.[^.]+/, '$1.*')
    .replace(/^mount\.(lower|upper)\.readout/, 'mount.*.readout')

export interface FormShape {
  texts: Readonly<Record<string, string>>
  /** Lengths are written in inches. */
  inch: boolean
}

const inInches = (spec: NumberSpec): NumberSpec => ({
  ...spec,
  kind: {
    ...spec.kind,
    unit: spec.length === 'mm' ? 'in' : 'counts per in',
    ...(spec.kind.max !== undefined &&
      spec.length === 'mm' && { max: Number((spec.kind.max / MM_PER_INCH).toPrecision(4)) }),
  },
})

/** What a field takes. @throws RangeError for a field that is not a number's */
export function specOf(form: FormShape, path: string): NumberSpec {
  let spec = FIXED[general(path)]
  const limit = /^mount\.(lower|upper)\.(minReading|maxReading)$/.exec(path)
  if (limit) {
    const type = form.texts[`mount.${limit[1]}.readout.type`]
    spec = type === 'degrees' ? of('angle', undefined, -1e9, 1e9) : of('count', 'counts', -1e9, 1e9)
  }
  const prior = /^priors\.([^.]+)\.(value|sigma)$/.exec(path)
  if (prior) {
    const unit = unitOf((form.texts[`priors.${prior[1]}.id`] ?? '').replace(/:.*/, '') as ParameterId)
    const min = prior[2] === 'sigma' ? 0 : -1e9
    spec =
      unit === 'mm'
        ? { kind: { form: 'number', unit: 'mm', min, max: 1e9 }, length: 'mm' }
        : unit === 'deg'
          ? of('angle', undefined, min, 1e9)
          : of('number', undefined, min, 1e9)
  }
  if (!spec) throw new RangeError(`specOf: must be a number's field, got ${path}`)
  return form.inch && spec.length ? inInches(spec) : spec
}

/** From the number as written to the record's. */
export function recordValue(form: FormShape, spec: NumberSpec, written: number): number {
  if (!form.inch || !spec.length) return written
  const value = spec.length === 'mm' ? written * MM_PER_INCH : written / MM_PER_INCH
  return Number(value.toPrecision(12)) // 10 in are 254 mm, not 253.99999999999997
}

/** A record's number as the form shows it: all its digits, so that nothing changes by being looked at. */
export function writtenText(form: FormShape, spec: NumberSpec, value: number): string {
  const { form: takes } = spec.kind
  if (takes === 'angle' || takes === 'latitude' || takes === 'longitude') return typedAngle(value)
  const size = Math.abs(
    form.inch && spec.length
      ? Number((spec.length === 'mm' ? value / MM_PER_INCH : value * MM_PER_INCH).toPrecision(9))
      : value,
  )
  let text = String(size)
  if (/e/.test(text)) text = size.toFixed(12).replace(/\.?0+$/, '')
  // A counter's 812.125 could be read as 812125; one more digit says what it is.
  if (spec.kind.form === 'count' && /^\d{1,3}\.\d{3}$/.test(text)) text += '0'
  return (value < 0 ? MINUS : '') + text
}

/** What may be known beforehand of a mount of this kind, with these readouts and feeds: "feedRight:a" for a feed's own. */
export function knowable(
  kind: MountKind,
  readouts: { lower: string; upper: string },
  feeds: readonly Pick<FeedRecord, 'id'>[],
): string[] {
  return PARAMETER_IDS.flatMap(id => {
    if (slotOf(id, kind) === null) return []
    const axis = id.startsWith('lower') ? readouts.lower : readouts.upper
    if (/Arm$/.test(id) && axis !== 'jack') return []
    if (/Scale$/.test(id) && axis === 'jack') return []
    if ((FEED_PARAMETERS as readonly string[]).includes(id))
      return feeds.length === 1 ? [id] : feeds.map(feed => `${id}:${feed.id}`)
    return [id]
  })
}

/** "feedRight:a" from a prior that may name its feed in a field of its own. */
export const priorName = (prior: PriorRecord): string =>
  prior.feed !== undefined && !prior.id.includes(':') ? `${prior.id}:${prior.feed}` : prior.id
