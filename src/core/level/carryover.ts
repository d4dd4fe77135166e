/**
 * What a change leaves as it was and what it restarts, shown before it is recorded; and the station as it was before
 * a time, to say where things stood. Records in, plain values out.
 */
import { errorForEchoLoss } from '../dish/optics.ts'
import { type Parameter, parametersOf, splitPriorId } from '../fit/parameters.ts'
import { entryOf, isJudged, isRenewedBy } from '../mount/parameters.ts'
import { AXIS_SLOTS } from '../mount/readings.ts'
import { angleFromReading } from '../readout/readout.ts'
import { feedOf } from '../records/feeds.ts'
import type { ParameterId, PriorRecord, StationRecord } from '../records/fieldbook.ts'
import { msFromUtc } from '../records/instant.ts'
import { narrowestFeed, type Station } from '../records/station.ts'
import { stationFromRecord } from '../records/stationintake.ts'
import { type Rad, radFromDeg } from '../units.ts'

export interface Unknown {
  id: ParameterId
  feed: string | null
}

export interface CarryOver {
  /** In the order in which parameters are listed. */
  stays: Unknown[]
  anew: Unknown[]
  /** Sightings after the change until what it restarts is known and checked; 0 when it restarts nothing. */
  sightingsNeeded: number
}

/** Beyond those that determine: the fit leaves nothing out with fewer than four, so a wrong one would not show. */
const TO_CHECK = 4

/** @param expect  what the person expects after the change: an expected value needs no sighting to find it */
export function carriedOverChange(
  record: StationRecord,
  what: readonly string[],
  expect: readonly PriorRecord[] = [],
): CarryOver {
  const station = stationFromRecord({ ...record, changes: [] })
  const unknowns = parametersOf(station).list.filter((p): p is Parameter & { id: ParameterId } => p.id !== null)
  const isAnew = (p: Unknown) => what.some(w => isRenewedBy(w, p.id, p.feed))
  const anew = unknowns.filter(isAnew)
  // What belongs to one feed by its beam; what the feeds share by the narrowest.
  const toleranceOf = (p: Unknown): Rad =>
    errorForEchoLoss(
      station.tolerance.echoLossDb,
      (p.feed === null ? narrowestFeed(station) : feedOf(station, p.feed)).hpbw,
    )
  const open = anew.filter(p => {
    const given = expect.find(e => {
      const named = splitPriorId(e)
      return named.id === p.id && (named.feed === null || named.feed === p.feed)
    })
    const share = skyShare(station, p)
    return (given ? (share / p.prior.sigma) * inCoreUnit(p, given.sigma) : share) > toleranceOf(p) / 2
  })
  // A sighting tells two numbers.
  const sightingsNeeded = anew.length === 0 ? 0 : open.length === 0 ? 1 : Math.ceil(open.length / 2) + TO_CHECK
  const named = ({ id, feed }: Unknown): Unknown => ({ id, feed })
  return { stays: unknowns.filter(p => !isAnew(p)).map(named), anew: anew.map(named), sightingsNeeded }
}

const inCoreUnit = (p: Parameter, sigma: number): number => (p.unit === 'deg' ? radFromDeg(sigma) : sigma)

/** Roughly how far the default prior lets the beam be off, rad, 1 σ: enough to tell what needs sightings from what does not. */
function skyShare(station: Station, p: Parameter & { id: ParameterId }): Rad {
  const { sigma } = p.prior
  const { family, axis: ofAxis = 'lower' } = entryOf(p.id)
  const axis = station.model[ofAxis]
  const middle = (axis.minReading + axis.maxReading) / 2
  if (family === 'scale') {
    const ends = [axis.minReading, axis.maxReading].map(r => angleFromReading(axis.readout, r))
    const [a, b] = ends.map(e => (e.kind === 'angle' ? e.angle : 0))
    return (sigma * Math.abs(b! - a!)) / 2
  }
  if (family === 'arms') {
    const at = angleFromReading(axis.readout, middle)
    return at.kind === 'angle' ? sigma * Math.abs(p.slot === AXIS_SLOTS[ofAxis].base ? at.perBase : at.perRod) : sigma
  }
  if (p.unit === 'mm') return sigma / station.model.focalLength
  return family === 'play' ? sigma / 2 : sigma
}

/** Of what restarts, what can be judged by eye or tape. */
export const judged = (anew: readonly Unknown[]): Unknown[] => anew.filter(p => isJudged(p.id))

/** A parameter after it was moved by about this much: value and 1 σ, in its own unit. */
export const movedBy = (
  before: { value: number; sigma: number },
  by: { value: number; sigma: number },
): { value: number; sigma: number } => ({
  value: before.value + by.value,
  sigma: Math.hypot(before.sigma, by.sigma),
})

/** The station with only what was measured or changed before an instant. @param except  id of a change to leave out */
export function stationBefore(record: StationRecord, utc: string, except?: string): StationRecord {
  const ms = msFromUtc(utc)
  const before = <T extends { id: string; utc: string }>(list: readonly T[] | undefined): T[] =>
    (list ?? []).filter(r => msFromUtc(r.utc) < ms && r.id !== except)
  return {
    ...record,
    sightings: before(record.sightings),
    levels: before(record.levels),
    references: before(record.references),
    changes: before(record.changes),
  }
}

/** The last change at or before an instant: the present setup began there. Null before any. */
export function setupStart(record: StationRecord, nowMs: number): { utc: string; what: string[] } | null {
  const past = (record.changes ?? []).filter(c => msFromUtc(c.utc) <= nowMs)
  return past.sort((a, b) => msFromUtc(b.utc) - msFromUtc(a.utc))[0] ?? null
}
