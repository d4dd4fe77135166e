/**
 * The form of "Degrees per count": stops with a reading, an angle and the side from which the axis arrived; and the
 * calibration that they give. Pure. Degrees, millimetres, readings as the counters show them.
 */
import {
  type Calibration,
  type CalibrationPair,
  calibrate,
  perReadingAlong,
  resolution,
} from '../../core/calibration/calibrate.ts'
import type { Axis, PairRecord, Side, StationRecord } from '../../core/records/fieldbook.ts'
import { readoutFromRecord } from '../../core/records/readouts.ts'
import { narrowestFeed } from '../../core/records/station.ts'
import { stationFromRecord } from '../../core/records/stationintake.ts'
import { degFromRad, type Rad, radFromDeg } from '../../core/units.ts'
import { KINDS } from '../kit/kinds.ts'
import { numberOf } from '../kit/numberfield.ts'
import { readingKind } from '../kit/readings.ts'
import type { PerCount } from './percount-geometry.ts'

export interface CountsRow {
  reading: string
  angle: string
  from: '' | Side
}
export interface CountsForm {
  axis: Axis
  what: 'own' | 'beside'
  rows: CountsRow[]
  sigma: string
  tape: string
}

export const EMPTY_ROW: CountsRow = { reading: '', angle: '', from: '' }
/** An inclinometer of 0.1° steps put down again: common practice, no source. */
export const USUAL_ANGLE_SIGMA_DEG = 0.15

export const emptyCounts = (axis: Axis): CountsForm => ({
  axis,
  what: 'own',
  rows: [EMPTY_ROW, EMPTY_ROW, EMPTY_ROW],
  sigma: '',
  tape: '',
})

export const TAPE_KIND = { form: 'number', unit: 'mm', min: 0.1, max: 1000 } as const

const sigmaDegOf = (form: CountsForm): number | null =>
  form.sigma.trim() === '' ? USUAL_ANGLE_SIGMA_DEG : numberOf(form.sigma, KINDS.sigma)
const tapeOf = (form: CountsForm): number | null => (form.tape.trim() === '' ? 5 : numberOf(form.tape, TAPE_KIND))

/** The rows in which both are typed, with their place in the form. */
export function typedStops(form: CountsForm, station: StationRecord): (PairRecord & { row: number })[] {
  const sigmaDeg = sigmaDegOf(form)
  if (sigmaDeg === null) return []
  return form.rows.flatMap((r, row) => {
    const reading = numberOf(r.reading, readingKind(station.mount, form.axis))
    const angleDeg = numberOf(r.angle, KINDS.circle)
    return reading === null || angleDeg === null
      ? []
      : [{ row, reading, angleDeg, sigmaDeg, ...(r.from !== '' && { from: r.from }) }]
  })
}

const pairOf = (stop: PairRecord, group: boolean): CalibrationPair => ({
  reading: stop.reading,
  angle: radFromDeg(stop.angleDeg),
  sigma: radFromDeg(stop.sigmaDeg),
  side: stop.from === '+' ? 1 : stop.from === '-' ? -1 : 0,
  ...(group && { group: 0 }),
})

/** Null where an uncertainty cannot be read. */
export function countsCalibration(form: CountsForm, station: StationRecord): Calibration | null {
  const tape = tapeOf(form)
  if (sigmaDegOf(form) === null || tape === null) return null
  const { mount } = station
  const beside = form.what === 'beside'
  return calibrate(
    readoutFromRecord(mount[form.axis].readout),
    typedStops(form, station).map(s => pairOf(s, beside)),
    {
      tape,
      ...(beside && { constants: [null] }),
      // An unknown azimuth may have any zero.
      ...(mount.kind === 'el-over-az' && form.axis === 'lower' && { zero: Math.PI }),
    },
  )
}

export const keptStops = (form: CountsForm, station: StationRecord): PairRecord[] =>
  typedStops(form, station).map(({ row: _, ...pair }) => pair)

export interface CountsFineness {
  count: Rad | null
  beam: Rad
}
export function finenessOf(station: StationRecord, axis: Axis, c: Calibration): CountsFineness {
  const core = stationFromRecord(station)
  const readout = c.kind === 'calibrated' ? c.readout : core.model[axis].readout
  const { minReading, maxReading } = station.mount[axis]
  return { count: resolution(readout, [minReading, maxReading]), beam: narrowestFeed(core).hpbw }
}

/** The curve over the stroke with the stops on it; null for a readout in degrees. */
export function perCountOf(station: StationRecord, form: CountsForm, c: Calibration | null): PerCount | null {
  const axis = station.mount[form.axis]
  if (axis.readout.type === 'degrees') return null
  const readout = c?.kind === 'calibrated' ? c.readout : readoutFromRecord(axis.readout)
  const stops = typedStops(form, station)
  return {
    curve: perReadingAlong(readout, [axis.minReading, axis.maxReading]).map(p => ({
      reading: p.reading,
      degPerCount: degFromRad(p.perReading),
    })),
    stops:
      c?.kind === 'calibrated'
        ? stops.map((s, k) => ({ id: String(s.row), reading: s.reading, leftDeg: degFromRad(c.left[k]!) }))
        : [],
  }
}
