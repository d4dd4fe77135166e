/**
 * Measurements prepared for the fit: sightings as (apparent direction, readings, measured offset, whitening),
 * levels and references as scalar rows. The sky is asked once, here. Enu, radians.
 */
import { sunFromShadow } from '../dish/shadow.ts'
import { turningPoseAt } from '../mount/asbuilt.ts'
import { sideNumber, trueAngle } from '../mount/readings.ts'
import { onPaper } from '../mount/slots.ts'
import { COUNT_SIGMA, countsSteps } from '../readout/readout.ts'
import { feedOf } from '../records/feeds.ts'
import type { LevelRecord, ReferenceRecord, SightingRecord } from '../records/fieldbook.ts'
import { GUESS_FOCAL, isGuess, isOffsetFed } from '../records/guesses.ts'
import { msFromUtc } from '../records/instant.ts'
import { isLevelFitted } from '../records/levelkinds.ts'
import { MARK_SIGMA_DEG } from '../records/marks.ts'
import type { Station } from '../records/station.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { apparentPlace } from '../sky/targets.ts'
import { DEG, type Rad, radFromDeg } from '../units.ts'
import { cross, dot } from '../vectors.ts'
import { bandOf, lineOf, methodSigma } from './methods.ts'
import type { Parameters } from './parameters.ts'
import { crowding, repeatsOf } from './repeats.ts'
import type { Sighting } from './sighting.ts'

/** A measured elevation, lean or mark: one scalar row, or two for a lean. */
export interface Level {
  record: LevelRecord
  slots: Int16Array
  clamping: number
  sigma: Rad
}

export interface Reference {
  record: ReferenceRecord
  utcMs: number
  slots: Int16Array
  mark: number
  sigma: Rad
}

/** What the fit may use: not marked "never", and no copy. */
export const mayCount = (s: Sighting): boolean => s.use !== 'never' && s.repeats === null

export interface Observations {
  sightings: Sighting[]
  levels: Level[]
  references: Reference[]
}

/** A σ below this is a typing slip, and its reciprocal's square would drown the other digits: 1e-7 rad, 0.02″. */
const SHARPEST: Rad = 1e-7

export function sightingFromRecord(station: Station, parameters: Parameters, record: SightingRecord): Sighting {
  const { model } = station
  const feed = feedOf(station, record.feed)
  const utcMs = msFromUtc(record.utc) - 1000 * (record.clockOffsetS ?? 0)
  const line = lineOf(record.method)
  const place = apparentPlace(targetFromRecord(record.target), utcMs, station.site, bandOf(record.method))
  const measured =
    record.shadow !== undefined && record.method === 'shadow'
      ? sunFromShadow(model.focalLength, record.shadow.rightMm, record.shadow.upMm)
      : { right: radFromDeg(record.offset?.rightDeg ?? 0), up: radFromDeg(record.offset?.upDeg ?? 0) }

  let rr: number
  let ru = 0
  let uu: number
  if (record.cov !== undefined) {
    const k = DEG ** 2
    rr = record.cov.rr * k + SHARPEST ** 2
    ru = record.cov.ru * k
    uu = record.cov.uu * k + SHARPEST ** 2
  } else {
    const sigma =
      record.sigmaDeg === undefined ? methodSigma(record.method, station, feed) : radFromDeg(record.sigmaDeg)
    rr = Math.max(sigma, SHARPEST) ** 2
    uu = rr
  }
  const isShadow = record.method === 'shadow'
  if (isShadow && isGuess(station.record, 'dish.focalRatio')) {
    // One focal length is wrong for all of them: each carries the share of all, or ten shadows would seem to average it away.
    const share = GUESS_FOCAL ** 2 * station.record.sightings.filter(s => s.method === 'shadow').length
    rr += share * measured.right ** 2
    ru += share * measured.right * measured.up
    uu += share * measured.up ** 2
  }
  // The resolution of a count, in the direction in which its axis moves the line; the paper mount is near enough.
  const paper = onPaper()
  const T = trueAngle(model, paper, 'lower', record.lower)
  const S = trueAngle(model, paper, 'upper', record.upper)
  if (T.kind !== 'angle' || S.kind !== 'angle')
    throw new RangeError(`sighting ${record.id}: a reading is outside the jack's triangle`)
  const pose = turningPoseAt(model, paper, T.angle, S.angle, line)
  for (const [axis, turn, per] of [
    ['lower', pose.lowerTurn, T.perReading],
    ['upper', pose.upperTurn, S.perReading],
  ] as const) {
    if (!countsSteps(model[axis].readout)) continue
    const x = dot(turn, cross(pose.r, pose.b)) * per * COUNT_SIGMA
    const y = dot(turn, cross(pose.u, pose.b)) * per * COUNT_SIGMA
    rr += x * x
    ru += x * y
    uu += y * y
  }
  const l11 = Math.sqrt(rr)
  const l21 = ru / l11
  const l22 = Math.sqrt(uu - l21 * l21)
  return {
    record,
    utcMs,
    t: place.direction,
    line,
    lowerSide: sideNumber(record.arrivedFrom?.lower),
    upperSide: sideNumber(record.arrivedFrom?.upper),
    slots: parameters.slotsAt(utcMs, feed.id),
    right: measured.right,
    up: measured.up,
    w11: 1 / l11,
    w21: -l21 / (l11 * l22),
    w22: 1 / l22,
    sigma: Math.sqrt((rr + uu) / 2),
    // With an offset feed a shadow does not have the meaning assumed here.
    use: isShadow && isOffsetFed(station.record) ? 'never' : (record.use ?? 'auto'),
    repeats: null,
    crowd: 1,
  }
}

/** Copies found and named, close ones widened: what only all sightings together tell. */
function judgedTogether(sightings: Sighting[]): Sighting[] {
  const copies = repeatsOf(sightings)
  const once = copies.some(id => id !== null) ? sightings.map((s, i) => ({ ...s, repeats: copies[i]! })) : sightings
  const crowds = crowding(once)
  return once.map((s, i) => {
    const crowd = crowds[i]!
    if (crowd === 1) return s
    const k = 1 / Math.sqrt(crowd)
    return { ...s, crowd, w11: k * s.w11, w21: k * s.w21, w22: k * s.w22 }
  })
}

export function referenceFromRecord(station: Station, parameters: Parameters, record: ReferenceRecord): Reference {
  const utcMs = msFromUtc(record.utc)
  const axis = station.model[record.axis]
  const read = trueAngle(station.model, onPaper(), record.axis, record.reading)
  const step = read.kind === 'angle' && countsSteps(axis.readout) ? read.perReading * COUNT_SIGMA : 0
  return {
    record,
    utcMs,
    slots: parameters.slotsAt(utcMs, null),
    mark: parameters.markIndex(record.axis, record.mark),
    sigma: Math.max(SHARPEST, Math.hypot(radFromDeg(record.sigmaDeg ?? MARK_SIGMA_DEG), step)),
  }
}

/** Everything that was measured, sightings marked "never" and copies included (the fit leaves them out). */
export function observationsOf(station: Station, parameters: Parameters): Observations {
  const { record } = station
  return {
    sightings: judgedTogether(record.sightings.map(s => sightingFromRecord(station, parameters, s))),
    levels: (record.levels ?? [])
      .filter(l => isLevelFitted(station.model.kind, l.what))
      .map(l => ({
        record: l,
        slots: parameters.slotsAt(msFromUtc(l.utc), null),
        clamping: l.clamping === undefined ? -1 : parameters.clampingIndex(l.clamping),
        sigma: Math.max(SHARPEST, radFromDeg(l.sigmaDeg)),
      })),
    references: (record.references ?? []).map(r => referenceFromRecord(station, parameters, r)),
  }
}
