/** The form of a row of Sun noise against a setting of the feed: from typed texts to the record, and back. Pure. */
import type { RowReading } from '../../core/noise/feedrow.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { NoiseRowRecord, RowSetting } from '../../core/records/noise.ts'
import { RANGES } from '../../core/records/ranges.ts'
import { MINUS } from '../kit/format.ts'
import { bounds, type NumberKind, parseNumber } from '../kit/numberfield.ts'
import { utcOf, utcText } from '../kit/utcfield.ts'
import { NOISE_KINDS } from './form.ts'

export interface TypedReading {
  at: string
  y: string
}

export interface RowForm {
  feed: string
  setting: RowSetting
  readings: TypedReading[]
  sigma: string
  utc: string
  note: string
}

export const settingKind = (setting: RowSetting): NumberKind => ({
  form: 'number',
  unit: setting === 'rotation' ? '°' : 'mm',
  ...bounds(RANGES.settingAt),
})

/** There is always one empty row at the end. */
const withRoom = (readings: readonly TypedReading[]): TypedReading[] => {
  const last = readings.at(-1)
  return last !== undefined && last.at === '' && last.y === '' ? [...readings] : [...readings, { at: '', y: '' }]
}

export const emptyRow = (feed: string, nowMs: number): RowForm => ({
  feed,
  setting: 'axial',
  readings: withRoom([]),
  sigma: '',
  utc: utcText(nowMs),
  note: '',
})

const text = (x: number): string => String(x).replace(/^-/, MINUS)

export const rowFormOf = (record: NoiseRowRecord): RowForm => ({
  feed: record.feed,
  setting: record.setting,
  readings: withRoom(record.readings.map(r => ({ at: text(r.at), y: text(r.yDb) }))),
  sigma: record.sigmaDb === undefined ? '' : text(record.sigmaDb),
  utc: utcText(instantMs(record.utc)),
  note: record.note ?? '',
})

export const withReading = (form: RowForm, index: number, change: Partial<TypedReading>): RowForm => ({
  ...form,
  readings: withRoom(form.readings.map((r, k) => (k === index ? { ...r, ...change } : r))),
})

export const withoutReading = (form: RowForm, index: number): RowForm => ({
  ...form,
  readings: withRoom(form.readings.filter((_, k) => k !== index)),
})

const number = (typed: string, kind: NumberKind): number | null => {
  const parsed = parseNumber(typed, kind)
  return parsed.kind === 'value' ? parsed.value : null
}

export type RowNotYet = 'none' | 'half' | 'sigma' | 'time'

/** @param old  the record being edited; what it holds beyond the form stays */
export function rowFromForm(
  form: RowForm,
  old: NoiseRowRecord | null,
  id: string,
): { kind: 'ready'; record: NoiseRowRecord } | { kind: 'not-yet'; why: RowNotYet } {
  const written = form.readings.filter(r => r.at.trim() !== '' || r.y.trim() !== '')
  const readings = written.map(r => ({
    at: number(r.at, settingKind(form.setting)),
    yDb: number(r.y, NOISE_KINDS.rise),
  }))
  if (readings.length === 0) return { kind: 'not-yet', why: 'none' }
  if (readings.some(r => r.at === null || r.yDb === null)) return { kind: 'not-yet', why: 'half' }
  const sigma = form.sigma.trim() === '' ? undefined : number(form.sigma, NOISE_KINDS.sigma)
  if (sigma === null || sigma === 0) return { kind: 'not-yet', why: 'sigma' }
  const utc = utcOf(form.utc, old)
  if (utc === null) return { kind: 'not-yet', why: 'time' }
  const record = {
    ...old,
    id,
    utc,
    feed: form.feed,
    of: 'sun-row',
    setting: form.setting,
    readings,
    sigmaDb: sigma,
    note: form.note.trim(),
  } as NoiseRowRecord
  if (sigma === undefined) delete record.sigmaDb
  if (record.note === '') delete record.note
  return { kind: 'ready', record }
}

export const rowReadings = (record: Pick<NoiseRowRecord, 'readings' | 'sigmaDb'>): RowReading[] =>
  record.readings.map(r => ({ ...r, sigmaDb: record.sigmaDb ?? null }))
