/**
 * The fields of a station's form: what each takes. A field's name is its path in the record, with a row's own key in
 * place of its number: "site.latDeg", "feeds.k1.frequencyMHz", "mount.upper.baseArmMm". Pure.
 */
import { entryOf, isOfKind, knownEntry, PARAMETER_IDS } from '../../core/mount/parameters.ts'
import type { FeedRecord, MountKind, PriorRecord } from '../../core/records/fieldbook.ts'
import { RANGES, type Range } from '../../core/records/ranges.ts'
import { MM_PER_INCH } from '../../core/units.ts'
import { MINUS } from '../kit/format.ts'
import { bounds, lengthKind, type NumberKind, typedAngle } from '../kit/numberfield.ts'
import { lengthOf, type NumberSpec, READOUT_FIELDS } from '../kit/readoutwords.ts'

export type { NumberSpec }

/** In the order in which the review lists them. */
export const STATION_STEPS = [
  'place',
  'mount',
  'dish',
  'feeds',
  'lower',
  'upper',
  'name',
  'allow',
  'horizon',
  'known',
] as const
/** What a new station is asked; the rest can wait. */
export const ASKED: readonly StepId[] = ['place', 'mount', 'dish']
export type StepId = (typeof STATION_STEPS)[number]

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

const of = (form: NumberKind['form'], range: Range, unit?: string): NumberSpec => ({
  kind: { form, ...(unit && { unit }), ...bounds(range) },
})

const FIXED: Readonly<Record<string, NumberSpec>> = {
  'site.latDeg': of('latitude', RANGES.latDeg),
  'site.lonDeg': of('longitude', RANGES.lonDeg),
  'site.heightM': of('number', RANGES.heightM, 'm'),
  'site.air.pressureHPa': of('number', RANGES.pressureHPa, 'hPa'),
  'site.air.temperatureC': of('number', RANGES.temperatureC, '°C'),
  'site.air.humidityPct': of('number', RANGES.humidityPct, '%'),
  'dish.diameterM': of('number', RANGES.diameterM, 'm'),
  'dish.focalRatio': of('number', RANGES.focalRatio),
  'dish.depth': lengthOf(RANGES.tapeMm),
  'dish.surfaceRmsMm': lengthOf(RANGES.surfaceRmsMm),
  'dish.feedDiameterMm': lengthOf(RANGES.feedDiameterMm),
  'feeds.*.frequencyMHz': of('number', RANGES.frequencyMHz, 'MHz'),
  'feeds.*.beamwidthDeg': of('angle', RANGES.beamwidthDeg),
  'feeds.*.systemTemperatureK': of('number', RANGES.systemTemperatureK, 'K'),
  'mount.headingDeg': of('angle', RANGES.azimuthDeg),
  'mount.boresightOffsetDeg': of('angle', RANGES.boresightOffsetDeg),
  'mount.*.stepDeg': of('angle', RANGES.stepDeg),
  ...Object.fromEntries(Object.entries(READOUT_FIELDS).map(([name, { spec }]) => [`mount.*.readout.${name}`, spec])),
  'tolerance.echoLossDb': of('number', RANGES.echoLossDb, 'dB'),
  'tolerance.minElevationDeg': of('angle', RANGES.minElevationDeg),
  'tolerance.floorDeg': of('angle', RANGES.floorDeg),
  'horizonMask.*.azDeg': of('angle', RANGES.azimuthDeg),
  'horizonMask.*.elDeg': of('angle', RANGES.maskElevationDeg),
}

/** The same for every row and axis. */
export const general = (path: string): string =>
  path
    .replace(/^(feeds|horizonMask|priors)\.[^.]+/, '$1.*')
    .replace(/^mount\.(lower|upper)\.(readout|stepDeg)/, 'mount.*.$2')

export interface FormShape {
  texts: Readonly<Record<string, string>>
  /** Lengths are written in inches. */
  inch: boolean
}

const inInches = (spec: NumberSpec): NumberSpec => ({
  ...spec,
  kind:
    spec.length === 'mm' ? lengthKind('in', [spec.kind.min!, spec.kind.max!]) : { ...spec.kind, unit: 'counts per in' },
})

/** What a field takes. @throws RangeError for a field that is not a number's */
export function specOf(form: FormShape, path: string): NumberSpec {
  let spec = FIXED[general(path)]
  const limit = /^mount\.(lower|upper)\.(minReading|maxReading)$/.exec(path)
  if (limit) {
    const type = form.texts[`mount.${limit[1]}.readout.type`]
    spec = type === 'degrees' || !type ? of('angle', RANGES.measure) : of('count', RANGES.measure, 'counts')
  }
  const prior = /^priors\.([^.]+)\.(value|sigma)$/.exec(path)
  if (prior) {
    const unit = knownEntry((form.texts[`priors.${prior[1]}.id`] ?? '').replace(/:.*/, ''))?.unit ?? 'deg'
    const range = prior[2] === 'sigma' ? RANGES.priorSigma : RANGES.measure
    spec = unit === 'mm' ? lengthOf(range) : unit === 'deg' ? of('angle', range) : of('number', range)
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
    const { needs, axis, ofFeed } = entryOf(id)
    if (!isOfKind(id, kind)) return []
    if (needs === 'jack' && readouts[axis!] !== 'jack') return []
    if (needs === 'no-jack' && readouts[axis!] === 'jack') return []
    if (ofFeed) return feeds.length === 1 ? [id] : feeds.map(feed => `${id}:${feed.id}`)
    return [id]
  })
}

/** "feedRight:a" from a prior that may name its feed in a field of its own. */
export const priorName = (prior: PriorRecord): string =>
  prior.feed !== undefined && !prior.id.includes(':') ? `${prior.id}:${prior.feed}` : prior.id
