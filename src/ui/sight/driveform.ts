/** What is typed about driving an axis, and its reading: a speed, a stow position, a landmark's coordinates. Pure. */

import type { Axis, DriveRecord, MountRecord, Side, StowRecord } from '../../core/records/fieldbook.ts'
import { RANGES, TYPED } from '../../core/records/ranges.ts'
import type { LandmarkWish } from '../../core/sky/landmarkjson.ts'
import type { LengthUnit } from '../kit/format.ts'
import { KINDS } from '../kit/kinds.ts'
import { bounds, type NumberKind, numberOf, typedNumber } from '../kit/numberfield.ts'
import { readingUnit } from '../kit/phrases.ts'
import { readingKind, typedReading } from '../kit/readings.ts'

/** Kilometres in a mile, metres in a foot. */
export const MILES_KM = 1.609344
const FOOT_M = 0.3048

export interface SpeedForm {
  how: 'timed' | 'typed'
  from: string
  to: string
  seconds: string
  perMinute: string
  overrun: string
  side: Side | ''
}

export const speedForm = (mount: MountRecord, axis: Axis): SpeedForm => {
  const drive = mount[axis].drive
  return {
    how: drive === undefined ? 'timed' : 'typed',
    ...{ from: '', to: '', seconds: '' },
    perMinute: drive === undefined ? '' : typedNumber(Number((60 * drive.readingsPerS).toPrecision(6))),
    overrun: drive?.overrun === undefined ? '' : typedReading(mount, axis, drive.overrun),
    side: drive?.arriveFrom ?? '',
  }
}

export const SPEED_KINDS = {
  seconds: { form: 'number', unit: 's', min: 1, max: 36_000 },
  perMinute: (mount: MountRecord, axis: Axis): NumberKind => ({
    form: 'number',
    unit: readingUnit(mount, axis) === 'degrees' ? '°' : 'counts',
    min: 0.001,
    max: 60 * RANGES.readingsPerS[1],
  }),
  overrun: (mount: MountRecord, axis: Axis): NumberKind => ({
    ...readingKind(mount, axis),
    ...bounds(RANGES.overrun),
  }),
} as const

export type SpeedRead = { kind: 'ready'; drive: DriveRecord } | { kind: 'not-yet'; why: string }
const notYet = (why: string): SpeedRead => ({ kind: 'not-yet', why })

/** The speed that a form says; what else the record has is kept. */
export function speedOf(form: SpeedForm, mount: MountRecord, axis: Axis): SpeedRead {
  const { drive: old } = mount[axis]
  let readingsPerS: number
  if (form.how === 'typed') {
    const perMinute = numberOf(form.perMinute, SPEED_KINDS.perMinute(mount, axis))
    if (perMinute === null) return notYet('Not yet: readings a minute.')
    // Untouched, the number stays exactly as it was.
    readingsPerS = form.perMinute === speedForm(mount, axis).perMinute && old ? old.readingsPerS : perMinute / 60
  } else {
    const kind = readingKind(mount, axis)
    const [from, to] = [numberOf(form.from, kind), numberOf(form.to, kind)]
    const seconds = numberOf(form.seconds, SPEED_KINDS.seconds)
    if (from === null || to === null || seconds === null)
      return notYet('Not yet: both readings and the seconds between.')
    if (from === to) return notYet('Both readings are the same: let it run some way.')
    readingsPerS = Math.abs(to - from) / seconds
  }
  const overrun = form.overrun.trim() === '' ? undefined : numberOf(form.overrun, SPEED_KINDS.overrun(mount, axis))
  if (overrun === null) return notYet('Not yet: how far it runs on cannot be read.')
  const { overrun: _o, arriveFrom: _a, ...rest } = old ?? {}
  return {
    kind: 'ready',
    drive: {
      ...rest,
      readingsPerS,
      ...(overrun !== undefined && { overrun }),
      ...(form.side !== '' && { arriveFrom: form.side }),
    },
  }
}

export interface StowForm {
  lower: string
  upper: string
  wind: string
  note: string
}

export const windKind = (unit: LengthUnit): NumberKind =>
  unit === 'mm'
    ? { form: 'number', unit: 'km/h', ...bounds(TYPED.windKmh) }
    : {
        form: 'number',
        unit: 'mph',
        min: Math.ceil(TYPED.windKmh[0] / MILES_KM),
        max: Math.floor(TYPED.windKmh[1] / MILES_KM),
      }

const windTyped = (kmh: number | undefined, unit: LengthUnit): string =>
  kmh === undefined ? '' : typedNumber(unit === 'mm' ? kmh : Number((kmh / MILES_KM).toFixed(1)))

export const stowForm = (mount: MountRecord, stow: StowRecord | undefined, unit: LengthUnit): StowForm => ({
  lower: typedReading(mount, 'lower', stow?.lower),
  upper: typedReading(mount, 'upper', stow?.upper),
  wind: windTyped(stow?.windKmh, unit),
  note: stow?.note ?? '',
})

/** The stow position that a form says; null while something cannot be read. */
export function stowOf(
  form: StowForm,
  mount: MountRecord,
  old: StowRecord | undefined,
  unit: LengthUnit,
): StowRecord | null {
  const lower = numberOf(form.lower, readingKind(mount, 'lower'))
  const upper = numberOf(form.upper, readingKind(mount, 'upper'))
  const typed = form.wind.trim() === '' ? undefined : numberOf(form.wind, windKind(unit))
  if (lower === null || upper === null || typed === null) return null
  const kmh = typed === undefined || unit === 'mm' ? typed : typed * MILES_KM
  const windKmh = form.wind === windTyped(old?.windKmh, unit) ? old?.windKmh : kmh
  const { windKmh: _w, note: _n, ...rest } = old ?? {}
  return {
    ...rest,
    lower,
    upper,
    ...(windKmh !== undefined && { windKmh }),
    ...(form.note.trim() !== '' && { note: form.note }),
  }
}

export interface LandmarkForm {
  lat: string
  lon: string
  top: string
  own: string
}

export const LANDMARK_KINDS = {
  lat: KINDS.latitude,
  lon: KINDS.longitude,
  height: (unit: LengthUnit): NumberKind =>
    unit === 'mm'
      ? { form: 'number', unit: 'm', ...bounds(RANGES.heightM) }
      : {
          form: 'number',
          unit: 'ft',
          min: Math.ceil(RANGES.heightM[0] / FOOT_M),
          max: Math.floor(RANGES.heightM[1] / FOOT_M),
        },
} as const

/** A height as a person would type it: metres, or feet. */
export const heightTyped = (metres: number, unit: LengthUnit): string =>
  typedNumber(unit === 'mm' ? metres : Math.round(metres / FOOT_M))

/** What is asked of the core; null while something cannot be read. */
export function landmarkOf(form: LandmarkForm, unit: LengthUnit): LandmarkWish | null {
  const [latDeg, lonDeg] = [numberOf(form.lat, LANDMARK_KINDS.lat), numberOf(form.lon, LANDMARK_KINDS.lon)]
  const kind = LANDMARK_KINDS.height(unit)
  const [top, own] = [numberOf(form.top, kind), numberOf(form.own, kind)]
  if (latDeg === null || lonDeg === null || top === null || own === null) return null
  const metres = (height: number) => (unit === 'mm' ? height : height * FOOT_M)
  return { latDeg, lonDeg, heightM: metres(top), dishHeightM: metres(own) }
}
