/** The form of a noise record: from typed texts to what is kept, and back. Pure. dB, kelvin, solar flux units, degrees. */
import { standardAround } from '../../core/noise/flux.ts'
import type { FeedRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { NoiseOf, NoiseRecord } from '../../core/records/noise.ts'
import { RANGES, type Range, TYPED } from '../../core/records/ranges.ts'
import { MINUS } from '../kit/format.ts'
import { bounds, type NumberKind, parseNumber } from '../kit/numberfield.ts'
import { utcOf, utcText } from '../kit/utcfield.ts'

export interface NoiseForm {
  feed: string
  of: NoiseOf
  how: 'rise' | 'levels'
  rise: string
  hot: string
  cold: string
  unit: 'dB' | 'power'
  /** Typed for the feed's frequency; two published ones; or only 10.7 cm at hand. */
  fluxFrom: 'own' | 'two' | 'ten-cm'
  sfu: string
  low: string
  high: string
  brightness: string
  hotK: string
  coldK: string
  zenith: string
  el: string
  loss: string
  sigma: string
  gain: string
  utc: string
  note: string
}

const of = (unit: string | undefined, range: Range): NumberKind => ({
  form: 'number',
  ...(unit && { unit }),
  ...bounds(range),
})
export const NOISE_KINDS = {
  rise: of('dB', RANGES.noiseDb),
  db: of('dB', TYPED.levelDb),
  power: of(undefined, [0, RANGES.measure[1]]),
  sfu: of('sfu', RANGES.fluxSfu),
  kelvin: of('K', RANGES.kelvin),
  loss: of('dB', RANGES.lossDb),
  sigma: of('dB', RANGES.sigmaDb),
  gain: of('dBi', RANGES.gainDbi),
  el: { form: 'angle', ...bounds(RANGES.raisedDeg) },
} as const satisfies Record<string, NumberKind>

export const levelKind = (form: NoiseForm): NumberKind => (form.unit === 'dB' ? NOISE_KINDS.db : NOISE_KINDS.power)

export const emptyNoise = (feed: FeedRecord, nowMs: number): NoiseForm => ({
  feed: feed.id,
  of: 'sun',
  how: 'rise',
  rise: '',
  hot: '',
  cold: '',
  unit: 'dB',
  fluxFrom: standardAround(feed.frequencyMHz) === null ? 'own' : 'two',
  sfu: '',
  low: '',
  high: '',
  brightness: '',
  hotK: '',
  coldK: '',
  zenith: '',
  el: '',
  loss: '',
  sigma: '',
  gain: '',
  utc: utcText(nowMs),
  note: '',
})

const text = (x: number | undefined): string => (x === undefined ? '' : String(x).replace(/^-/, MINUS))

/** The form of a record that is in the book. */
export function noiseFormOf(record: NoiseRecord, feed: FeedRecord): NoiseForm {
  const [low, high] = record.fluxAt ?? []
  return {
    ...emptyNoise(feed, instantMs(record.utc)),
    feed: record.feed,
    of: record.of,
    how: record.levels === undefined ? 'rise' : 'levels',
    rise: text(record.yDb),
    hot: text(record.levels?.hot),
    cold: text(record.levels?.cold),
    unit: record.levels?.unit ?? 'dB',
    ...(record.of === 'sun' && record.fluxSfu !== undefined && { fluxFrom: 'own' }),
    sfu: text(record.fluxSfu),
    low: text(low?.sfu),
    high: text(high?.sfu),
    brightness: text(record.brightnessK),
    hotK: text(record.hotK),
    coldK: text(record.coldK),
    zenith: text(record.air?.zenithDb),
    el: text(record.air?.elDeg),
    loss: text(record.lossDb),
    sigma: text(record.sigmaDb),
    gain: text(record.gainDbi),
    note: record.note ?? '',
  }
}

export type NoiseNotYet =
  | 'feed'
  | 'rise'
  | 'hot'
  | 'cold'
  | 'sfu'
  | 'two'
  | 'kelvin'
  | 'loss'
  | 'el'
  | 'sigma'
  | 'gain'
  | 'time'
export type NoiseReady = { kind: 'ready'; record: NoiseRecord } | { kind: 'not-yet'; why: NoiseNotYet }
const notYet = (why: NoiseNotYet): { kind: 'not-yet'; why: NoiseNotYet } => ({ kind: 'not-yet', why })

const number = (typed: string, kind: NumberKind): number | null => {
  const parsed = parseNumber(typed, kind)
  return parsed.kind === 'value' ? parsed.value : null
}
/** Empty: undefined; what cannot be read: null. */
const optional = (typed: string, kind: NumberKind): number | undefined | null =>
  typed.trim() === '' ? undefined : number(typed, kind)
const above0 = (x: number | null | undefined): x is number => typeof x === 'number' && x > 0

/** The published frequencies that the two fields are for; one where the feed's own is published. */
export const fluxFields = (feed: FeedRecord): readonly number[] => standardAround(feed.frequencyMHz) ?? []

/** Empty: it is asked for later. */
function fluxOf(form: NoiseForm, feed: FeedRecord): Pick<NoiseRecord, 'fluxSfu' | 'fluxAt'> | NoiseNotYet {
  if (form.fluxFrom === 'ten-cm') return {}
  const written = form.fluxFrom === 'own' ? [form.sfu] : fluxFields(feed).map((_, i) => [form.low, form.high][i]!)
  if (written.every(typed => typed.trim() === '')) return {}
  if (form.fluxFrom === 'own') {
    const fluxSfu = number(form.sfu, NOISE_KINDS.sfu)
    return above0(fluxSfu) ? { fluxSfu } : 'sfu'
  }
  const typed = [form.low, form.high]
  const fluxAt = fluxFields(feed).map((frequencyMHz, i) => ({
    frequencyMHz,
    sfu: number(typed[i]!, NOISE_KINDS.sfu) ?? 0,
  }))
  return fluxAt.length > 0 && fluxAt.every(f => f.sfu > 0) ? { fluxAt } : 'two'
}

/**
 * The record that the form says.
 *
 * @param old   the record being edited; what it holds beyond the form stays
 * @param elDeg how high the source stood, where that field is empty; null: not known
 */
export function noiseFromForm(
  form: NoiseForm,
  feed: FeedRecord | undefined,
  old: NoiseRecord | null,
  id: string,
  elDeg: number | null,
): NoiseReady {
  if (feed === undefined) return notYet('feed')
  const utc = utcOf(form.utc, old)
  if (utc === null) return notYet('time')
  const record = { ...old, id, utc, feed: feed.id, of: form.of } as NoiseRecord
  for (const key of ['yDb', 'levels', 'fluxSfu', 'fluxAt', 'brightnessK', 'hotK', 'coldK', 'air', 'lossDb'] as const)
    delete record[key]
  for (const key of ['sigmaDb', 'gainDbi', 'note'] as const) delete record[key]
  if (form.how === 'rise') {
    const yDb = number(form.rise, NOISE_KINDS.rise)
    if (yDb === null) return notYet('rise')
    record.yDb = yDb
  } else {
    const [hot, cold] = [number(form.hot, levelKind(form)), number(form.cold, levelKind(form))]
    if (hot === null || (form.unit === 'power' && hot <= 0)) return notYet('hot')
    if (cold === null || (form.unit === 'power' && cold <= 0)) return notYet('cold')
    record.levels = { hot, cold, unit: form.unit }
  }
  const isDisc = form.of === 'sun' || form.of === 'moon'
  if (form.of === 'sun') {
    const flux = fluxOf(form, feed)
    if (typeof flux === 'string') return notYet(flux)
    Object.assign(record, flux)
  }
  for (const [key, typed, wanted] of [
    ['brightnessK', form.brightness, form.of === 'moon'],
    ['hotK', form.hotK, !isDisc],
    ['coldK', form.coldK, !isDisc],
  ] as const) {
    const kelvin = wanted ? optional(typed, NOISE_KINDS.kelvin) : undefined
    if (kelvin === null || kelvin === 0) return notYet('kelvin')
    if (kelvin !== undefined) record[key] = kelvin
  }
  if (isDisc) {
    const zenithDb = optional(form.zenith, NOISE_KINDS.loss)
    if (zenithDb === null) return notYet('loss')
    if (zenithDb !== undefined) {
      const el = optional(form.el, NOISE_KINDS.el)
      const stood = el === undefined ? elDeg : el
      if (stood === null || stood < 0) return notYet('el')
      record.air = { zenithDb, elDeg: Math.round(100 * stood) / 100 }
    }
    const lossDb = optional(form.loss, NOISE_KINDS.loss)
    if (lossDb === null) return notYet('loss')
    if (lossDb !== undefined) record.lossDb = lossDb
  }
  const sigmaDb = optional(form.sigma, NOISE_KINDS.sigma)
  if (sigmaDb === null || sigmaDb === 0) return notYet('sigma')
  if (sigmaDb !== undefined) record.sigmaDb = sigmaDb
  const gainDbi = optional(form.gain, NOISE_KINDS.gain)
  if (gainDbi === null) return notYet('gain')
  if (gainDbi !== undefined) record.gainDbi = gainDbi
  if (form.note.trim() !== '') record.note = form.note.trim()
  return { kind: 'ready', record }
}
