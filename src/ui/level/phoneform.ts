/**
 * Readings by the phone as the forms and the field book keep them (degrees), and what is made of them: an elevation with
 * the known bias of the sensor, a reversal, σ. Pure.
 */
import { type BiasUse, biasFor } from '../../core/level/instrumentbias.ts'
import {
  biasSigmaAt,
  clampedBias,
  correctedElevation,
  oneReadingSigma,
  type PhoneReading,
  phoneReversalSigma,
  placingNoise,
  tiltInPlane,
} from '../../core/level/phone.ts'
import { type Reversal, reversalOfUpVectors } from '../../core/level/reversal.ts'
import { SENSOR_BIAS } from '../../core/level/sigma.ts'
import { axisVector, lineOfEnd, type PhoneAxis, type PhoneEnd, turnAxisFor } from '../../core/level/upvector.ts'
import { round6 } from '../../core/records/digits.ts'
import type { LevelRecord, StationRecord, Taken } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { InstrumentBias, InstrumentRecord } from '../../core/records/instruments.ts'
import { degFromRad, type Rad, radFromDeg } from '../../core/units.ts'
import type { Vec3 } from '../../core/vectors.ts'

export const takenFrom = (reading: PhoneReading & { rateHz: number | null }, utcMs: number): Taken => ({
  utc: new Date(utcMs).toISOString(),
  source: reading.source,
  stepDeg: round6(degFromRad(reading.step)),
  rateHz: reading.rateHz === null ? null : Math.round(10 * reading.rateHz) / 10,
  noiseDeg: round6(degFromRad(reading.noise)),
  spreadDeg: round6(degFromRad(reading.spread)),
  up: reading.up.map(x => Math.round(x * 1e7) / 1e7) as [number, number, number],
})

export const readingFrom = (taken: Taken): PhoneReading => ({
  source: taken.source,
  step: radFromDeg(taken.stepDeg),
  noise: radFromDeg(taken.noiseDeg),
  spread: radFromDeg(taken.spreadDeg),
  up: taken.up,
})

/** What is known of the instrument in use: which it is, and whether its bias may be taken off. */
export interface OwnError {
  /** What the level names; null: nothing, or a name as typed. */
  id: string | null
  instrument: InstrumentRecord | null
  use: BiasUse
  /** Where the clamping's first reading by the phone stood; null: this is the first. */
  clampedAtDeg: number | null
}
export const NO_OWN: OwnError = { id: null, instrument: null, use: { kind: 'none' }, clampedAtDeg: null }

/** The axis that a half turn would go about, as the phone lies. */
const aboutOf = (taken: Pick<Taken, 'up'>, end: PhoneEnd): PhoneAxis => turnAxisFor(end, taken.up)

export function ownError(
  station: StationRecord,
  instrument: InstrumentRecord | null,
  id: string | null,
  at: { nowMs: number; clamping: string | null; phone: string; taken: Pick<Taken, 'up'> | null; end: PhoneEnd },
): OwnError {
  const use = biasFor(instrument, station.levels, {
    nowMs: at.nowMs,
    clamping: at.clamping,
    phone: at.phone,
    ...(at.taken && { about: aboutOf(at.taken, at.end) }),
  })
  const first = at.clamping === null ? undefined : firstOfClamping(station.levels, at.clamping)
  return {
    id,
    instrument,
    use,
    clampedAtDeg: first ? degFromRad(tiltInPlane(at.end, aboutOf(first, at.end), first.up)) : null,
  }
}

const firstOfClamping = (levels: readonly LevelRecord[] | undefined, clamping: string): Taken | undefined =>
  (levels ?? [])
    .filter(l => l.clamping === clamping)
    .sort((a, b) => instantMs(a.utc) - instantMs(b.utc))
    .map(l => l.raw?.taken?.[0])
    .find(t => t !== undefined)

/** Rise of the end above level, rad, the sensor's bias taken off where that is allowed. */
export const phoneElevation = (up: Vec3<'Phone'>, end: PhoneEnd, use: BiasUse): Rad =>
  correctedElevation(end, turnAxisFor(end, up), up, use.kind === 'valid' ? use.bias : 0)

/** 1 σ of one reading by the phone. @param clamped  it shares a constant that the solution finds */
export function phoneSigma(reading: PhoneReading, end: PhoneEnd, own: OwnError, clamped: boolean): Rad {
  const tilt = tiltInPlane(end, turnAxisFor(end, reading.up), reading.up)
  if (own.use.kind === 'valid') return oneReadingSigma(reading, biasSigmaAt(own.use.sigma, own.use.foundAt, tilt))
  if (!clamped) return oneReadingSigma(reading, SENSOR_BIAS)
  return oneReadingSigma(reading, clampedBias(own.clampedAtDeg === null ? null : radFromDeg(own.clampedAtDeg), tilt))
}

/** The two as a reversal: the first says how the phone lay, and so about which axis it was to be turned. */
export const phoneReversal = (first: Taken, second: Taken, end: PhoneEnd): Reversal =>
  reversalOfUpVectors(first.up, second.up, lineOfEnd(end), axisVector(aboutOf(first, end)))

export const phoneReversedSigma = (left: Rad, first: Taken, second: Taken): Rad =>
  phoneReversalSigma(left, readingFrom(first), readingFrom(second))

/** 1 σ of one placing, rad, rms of several. */
export const placingOf = (list: readonly Taken[]): Rad =>
  Math.sqrt(list.reduce((a, t) => a + placingNoise(readingFrom(t)) ** 2, 0) / Math.max(1, list.length))

/** In the plane of measurement, degrees, full circle, two decimals: what the form shows. */
export function circleText(taken: Taken, first: Taken, end: PhoneEnd): string {
  return (Math.round(100 * degFromRad(tiltInPlane(end, aboutOf(first, end), taken.up))) / 100).toString()
}

/** The instrument's bias as a reversal by the phone found it. */
export const biasFromPhone = (
  reversal: Extract<Reversal, { kind: 'reversed' }>,
  first: Taken,
  second: Taken,
  end: PhoneEnd,
  clamping: string | null,
): InstrumentBias => ({
  utc: second.utc,
  biasDeg: round6(degFromRad(reversal.bias)),
  sigmaDeg: round6(degFromRad(phoneReversedSigma(reversal.left, first, second))),
  atDeg: round6(degFromRad(tiltInPlane(end, aboutOf(first, end), first.up))),
  about: aboutOf(first, end),
  ...(clamping !== null && { clamping }),
})

/** The same from two readings by hand. */
export const biasFromHand = (
  reversal: Extract<Reversal, { kind: 'reversed' }>,
  sigmaDeg: number,
  utc: string,
  clamping: string | null,
): InstrumentBias => ({
  utc,
  biasDeg: round6(degFromRad(reversal.bias)),
  sigmaDeg: round6(sigmaDeg),
  atDeg: round6(degFromRad(reversal.angle)),
  ...(clamping !== null && { clamping }),
})
