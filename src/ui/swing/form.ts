/**
 * The form of a swing: positions, each with a reading and which way is up in the phone, by clamping; and what comes of it.
 * Up is typed as the tilts of the two edges, or taken by the phone. Pure. Degrees, readings as the counters show them.
 */
import { type Calibration, calibrate } from '../../core/calibration/calibrate.ts'
import { pairsFromSwing } from '../../core/calibration/swungpairs.ts'
import { LEAST_REDUCED, type PhoneReading } from '../../core/level/phone.ts'
import { SENSOR_BIAS } from '../../core/level/sigma.ts'
import { type Swing, spreadOfReadings, swingAxis } from '../../core/level/swing.ts'
import { bookElevation, levelOfSwing, swingSense } from '../../core/level/swungaxis.ts'
import { angleFromReading } from '../../core/readout/readout.ts'
import { round6 } from '../../core/records/digits.ts'
import type {
  Axis,
  LevelRecord,
  PairRecord,
  StationRecord,
  SwingPlace,
  SwingRaw,
} from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { SwungLevel } from '../../core/records/levelkinds.ts'
import { TYPED } from '../../core/records/ranges.ts'
import type { Station } from '../../core/records/station.ts'
import { stationFromRecord } from '../../core/records/stationintake.ts'
import { degFromRad, radFromDeg } from '../../core/units.ts'
import type { Vec3 } from '../../core/vectors.ts'
import { KINDS } from '../kit/kinds.ts'
import { notYet, type Ready } from '../kit/mount/notyet.ts'
import { bounds, numberOf } from '../kit/numberfield.ts'
import { readingKind } from '../kit/readings.ts'
import { utcOf, utcText } from '../kit/utcfield.ts'

/** A position as a phone took it. */
type TakenUp = Pick<PhoneReading, 'up' | 'noise' | 'spread' | 'source' | 'step'>

/** What is being typed for the next position. */
export interface SwingNext {
  reading: string
  /** Tilts of the two edges: top end up +, right side up +. */
  top: string
  right: string
  face: 'up' | 'down'
}

export interface SwingForm {
  axis: Axis
  by: 'phone' | 'hand'
  /** Positions by clamping; the last one is being filled. */
  clampings: SwingPlace[][]
  next: SwingNext
  /** Where the other axis stands, for an upper axis. */
  lower: string
  step: string
  noise: string
  bias: string
  note: string
  utc: string
}

export const USUAL_SWING = { stepDeg: 0.1, noiseDeg: 0.05, biasDeg: 1.15 } as const
export const EMPTY_NEXT: SwingNext = { reading: '', top: '', right: '', face: 'up' }

export const emptySwing = (axis: Axis, nowMs: number): SwingForm => ({
  axis,
  by: 'phone',
  clampings: [[]],
  next: EMPTY_NEXT,
  lower: '',
  step: '',
  noise: '',
  bias: '',
  note: '',
  utc: utcText(nowMs),
})

export function formOfSwing(level: SwungLevel): SwingForm {
  const { swing } = level.raw
  return {
    ...emptySwing(swing.axis, instantMs(level.utc)),
    by: 'hand',
    clampings: swing.clampings,
    lower: 'lower' in level ? String(level.lower) : '',
    step: String(swing.stepDeg),
    noise: String(swing.noiseDeg),
    bias: String(swing.biasDeg),
    note: level.note ?? '',
  }
}

type NextUp =
  | { kind: 'up'; up: [number, number, number] }
  | { kind: 'missing' }
  /** Two edges of one phone cannot both be so steep. */
  | { kind: 'impossible' }

/** Up in the phone from the tilts of its two edges. */
export function upFromTilts(next: SwingNext): NextUp {
  const [top, right] = [numberOf(next.top, KINDS.tilt), numberOf(next.right, KINDS.tilt)]
  if (top === null || right === null) return { kind: 'missing' }
  const [x, y] = [Math.sin(radFromDeg(right)), Math.sin(radFromDeg(top))]
  const rest = 1 - x * x - y * y
  // Rounded to 0.1°, a phone that stands on an edge may come out a little beyond.
  if (rest < -0.01) return { kind: 'impossible' }
  const z = Math.sqrt(Math.max(0, rest))
  return { kind: 'up', up: [x, y, next.face === 'up' ? z : -z] }
}

/** The form with the position in it that is typed; null while something is missing. @param taken  by the phone */
export function withPlace(form: SwingForm, station: StationRecord, taken: TakenUp | null): SwingForm | null {
  const reading = numberOf(form.next.reading, readingKind(station.mount, form.axis))
  const own = taken?.up ?? (form.by === 'hand' ? upOf(form.next) : null)
  if (reading === null || own === null) return null
  const place: SwingPlace = {
    reading,
    up: [round6(own[0]), round6(own[1]), round6(own[2])],
    ...(taken && {
      phone: {
        source: taken.source,
        stepDeg: round6(degFromRad(taken.step)),
        noiseDeg: round6(degFromRad(taken.noise)),
        spreadDeg: round6(degFromRad(taken.spread)),
      },
    }),
  }
  const clampings = [...form.clampings.slice(0, -1), [...form.clampings.at(-1)!, place]]
  return { ...form, clampings, next: { ...EMPTY_NEXT, face: form.next.face } }
}
const upOf = (next: SwingNext): [number, number, number] | null => {
  const at = upFromTilts(next)
  return at.kind === 'up' ? at.up : null
}

export function withoutPlace(form: SwingForm, clamping: number, index: number): SwingForm {
  const clampings = form.clampings.map((list, c) => (c === clamping ? list.filter((_, k) => k !== index) : list))
  const kept = clampings.filter((list, c) => list.length > 0 || c === clampings.length - 1)
  return { ...form, clampings: kept.length > 0 ? kept : [[]] }
}

/** Tilts of the two edges, degrees, as a person would read them. */
export const tiltsOf = (up: SwingPlace['up']): { topDeg: number; rightDeg: number; face: 'up' | 'down' } => ({
  topDeg: degFromRad(Math.asin(up[1] / Math.hypot(...up))),
  rightDeg: degFromRad(Math.asin(up[0] / Math.hypot(...up))),
  face: up[2] >= 0 ? 'up' : 'down',
})

const amount = (text: string, usual: number): number | null =>
  text.trim() === '' ? usual : numberOf(text, { form: 'number', ...bounds(TYPED.swingSpreadDeg) })

interface Spread {
  stepDeg: number
  noiseDeg: number
  biasDeg: number
}
/** What is taken where the person states nothing: what the phone did at its positions, or what is usual by hand. */
export function usualSpread(form: SwingForm): { stepDeg: number; noiseDeg: number } {
  const places = form.clampings.flat()
  const byPhone = places.flatMap(p => (p.phone ? [p.phone] : []))
  if (byPhone.length === 0 || byPhone.length < places.length) return USUAL_SWING
  const spread = spreadOfReadings(
    byPhone.map(p => ({ noise: radFromDeg(p.noiseDeg), spread: radFromDeg(p.spreadDeg), step: radFromDeg(p.stepDeg) })),
  )
  return { stepDeg: round6(degFromRad(spread.step)), noiseDeg: round6(degFromRad(spread.noise)) }
}

function spreadOf(form: SwingForm): Spread | null {
  const usual = usualSpread(form)
  const stepDeg = amount(form.step, usual.stepDeg)
  const noiseDeg = amount(form.noise, usual.noiseDeg)
  const biasDeg = amount(form.bias, USUAL_SWING.biasDeg)
  return stepDeg === null || noiseDeg === null || biasDeg === null ? null : { stepDeg, noiseDeg, biasDeg }
}

export type SwingResult =
  | Swing
  | { kind: 'spread' }
  /** A jack's triangle does not close there. */
  | { kind: 'outside'; reading: number; min: number; max: number }

/** What the positions say; a clamping that was only begun does not count. */
export function swingOf(form: SwingForm, record: StationRecord): SwingResult {
  const spread = spreadOf(form)
  if (spread === null) return { kind: 'spread' }
  const station = stationFromRecord(record)
  const { readout } = station.model[form.axis]
  for (const { reading } of form.clampings.flat()) {
    const at = angleFromReading(readout, reading)
    if (at.kind !== 'angle') return { kind: 'outside', reading, min: at.min, max: at.max }
  }
  const turnOf = (reading: number): number => {
    const at = angleFromReading(readout, reading)
    return at.kind === 'angle' ? at.angle : 0
  }
  return swingAxis(
    usedClampings(form).map(list => list.map(p => ({ turn: turnOf(p.reading), up: p.up as Vec3<'Phone'> }))),
    swingSense(station.model.paper, form.axis),
    {
      noise: Math.max(1e-6, radFromDeg(spread.noiseDeg)),
      step: radFromDeg(spread.stepDeg),
      bias: radFromDeg(spread.biasDeg),
    },
  )
}

const usedClampings = (form: SwingForm): SwingPlace[][] => {
  const filled = form.clampings.filter(list => list.length > 0)
  const whole = filled.filter(list => new Set(list.map(p => p.reading)).size >= 3)
  return whole.length > 0 ? whole : filled.length > 0 ? [filled[0]!] : [[]]
}

/** Positions of a clamping begun later that do not count yet. */
export const waiting = (form: SwingForm): number => form.clampings.flat().length - usedClampings(form).flat().length

/** The readout calibrated by the angles between positions; null where there are none. */
export function calibrationOfSwing(form: SwingForm, record: StationRecord, swing: SwingResult): Calibration | null {
  const spread = spreadOf(form)
  if (swing.kind !== 'swung' || spread === null) return null
  const readings = usedClampings(form).map(list => list.map(p => p.reading))
  const made = pairsFromSwing(swing, readings, radFromDeg(spread.biasDeg) || SENSOR_BIAS / 100)
  return made && calibrate(stationFromRecord(record).model[form.axis].readout, made.pairs, made.given)
}

/** The pairs as they are kept: angles turned since the first position of each clamping. */
export function keptPairs(form: SwingForm, swing: SwingResult): PairRecord[] {
  if (swing.kind !== 'swung') return []
  return usedClampings(form).flatMap((list, c) =>
    list.map((p, k) => ({
      reading: p.reading,
      angleDeg: round6(degFromRad(swing.clampings[c]!.turned?.[k] ?? 0)),
      sigmaDeg: round6(Math.max(0.001, degFromRad(swing.clampings[c]!.turnedSigma))),
    })),
  )
}

/** The level that the form says. @param old  the record being edited */
export function levelFromSwing(
  form: SwingForm,
  record: StationRecord,
  swing: SwingResult,
  old: LevelRecord | null,
  id: string,
): Ready<LevelRecord> {
  const utc = utcOf(form.utc, old)
  if (utc === null) return notYet('time')
  const spread = spreadOf(form)
  if (spread === null) return notYet('step')
  if (swing.kind !== 'swung') return notYet('swing')
  const { kind } = record.mount
  const what = levelOfSwing(kind, form.axis)
  if (what === null) return notYet('no-kind')
  const station: Station = stationFromRecord(record)
  const valueDeg = round6(degFromRad(bookElevation(kind, station.site.lat, form.axis, swing)))
  const { raw: _, note: __, ...kept } = (old ?? {}) as Partial<LevelRecord>
  const common = {
    ...kept,
    id,
    utc,
    valueDeg,
    sigmaDeg: round6(degFromRad(Math.max(swing.sigma, LEAST_REDUCED))),
    ...(form.note.trim() !== '' && { note: form.note.trim() }),
    raw: { swing: { axis: form.axis, clampings: usedClampings(form), ...spread } satisfies SwingRaw },
  }
  if (what === 'lower-axis-elevation') return { kind: 'ready', record: { ...common, what } as LevelRecord }
  const lower = numberOf(form.lower, readingKind(record.mount, 'lower'))
  if (lower === null) return notYet('lower')
  return { kind: 'ready', record: { ...common, what: 'upper-axis-elevation', lower } as LevelRecord }
}
