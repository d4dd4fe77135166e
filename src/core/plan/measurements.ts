/**
 * What can be measured at a station: each a step to take, with the whitened rows that it would add to the fit. The check after a storm
 * and the plan of what is worth doing next both choose from these. Radians.
 */
import { lineOf } from '../fit/methods.ts'
import type { SightingToMake } from '../fit/nextbest.ts'
import { referenceFromRecord, sightingFromRecord } from '../fit/observations.ts'
import type { Solved } from '../fit/solved.ts'
import { aim, midRange } from '../mount/aim.ts'
import type { Built } from '../mount/slots.ts'
import { countsSteps } from '../readout/readout.ts'
import type { Axis, LevelRecord, Method, MountKind, ReferenceRecord, SightingRecord } from '../records/fieldbook.ts'
import { type Feed, isHighEnough } from '../records/station.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { apparentPlace } from '../sky/targets.ts'
import { degFromRad, type Rad, radFromDeg, type UtcMs } from '../units.ts'
import { WAY_COUNT } from './stormmoves.ts'
import { type Measured, rowsOf, type WhitenedRow } from './stormrows.ts'
import { straddler } from './straddle.ts'

/** One thing to do. */
export type MeasurementStep = { sigma: Rad } & (
  | ({ kind: 'sighting' } & SightingToMake)
  | { kind: 'level'; what: LevelRecord['what']; lower: number; upper: number }
  | { kind: 'mark'; axis: Axis; mark: string; reading: number }
)

export interface Candidate {
  step: MeasurementStep
  rows: WhitenedRow[]
  /** How many more times it may be chosen. */
  left: number
}

/** A body by a method, as this station does it. `cov`: in place of σ, square radians at readings. */
export interface SightingWay {
  target: 'sun' | 'moon'
  method: Method
  sigma: Rad
  times: number
  cov?: (at: { lower: number; upper: number }, utcMs: UtcMs) => { rr: number; ru: number; uu: number } | null
}

/** A level with a phone turned about, where the person states nothing. */
const LEVEL_SIGMA: Rad = radFromDeg(0.2)
const NOTHING = new Float64Array(WAY_COUNT)

const asCandidate = (solved: Solved, step: MeasurementStep, m: Measured, left: number): Candidate[] => {
  const rows = rowsOf(solved, m, NOTHING)
  return rows === null ? [] : [{ step, rows, left }]
}

/** Sightings at times, where the body is high enough, in reach of the mount as built, and can be sighted in that way (`straddle.ts`). */
export function sightingsToCome(
  solved: Solved,
  feed: Feed,
  built: Built,
  ways: readonly SightingWay[],
  times: readonly UtcMs[],
): Candidate[] {
  const { station } = solved
  const { model } = station
  const mid = midRange(model, built)
  const canSight = straddler(station, feed, built)
  const out: Candidate[] = []
  for (const utcMs of times)
    for (const target of ['sun', 'moon'] as const) {
      const own = ways.filter(w => w.target === target)
      if (own.length === 0) continue
      const place = apparentPlace(targetFromRecord({ type: target }), utcMs, station.site, 'radio')
      if (!isHighEnough(station, feed, place.az, place.el)) continue
      const reach = aim(model, built, 'beam', place.direction, mid)
      if (reach === null || !reach.inside) continue
      const shown = (axis: Axis) => (countsSteps(model[axis].readout) ? Math.round(reach[axis]) : reach[axis])
      const at = { lower: shown('lower'), upper: shown('upper') }
      for (const { method, sigma, times: left, cov } of own) {
        if (!canSight(method, place.direction, reach)) continue
        const square = cov?.(at, utcMs)
        if (square === null) continue
        const made: SightingRecord = {
          id: '?',
          utc: new Date(utcMs).toISOString(),
          target: { type: target },
          ...at,
          method,
          feed: feed.id,
          ...(lineOf(method) === 'shadow' ? { shadow: { rightMm: 0, upMm: 0 } } : {}),
          ...(square === undefined ? { sigmaDeg: degFromRad(sigma) } : { cov: squareDegrees(square) }),
        }
        const sighting = sightingFromRecord(station, solved.parameters, made)
        const step: MeasurementStep = {
          kind: 'sighting',
          target,
          method,
          utcMs,
          az: place.az,
          el: place.el,
          ...at,
          sigma,
        }
        out.push(...asCandidate(solved, step, { kind: 'sighting', id: '?', sighting, isOwnFeed: true }, left))
      }
    }
  return out
}

function squareDegrees({ rr, ru, uu }: { rr: number; ru: number; uu: number }) {
  const k = degFromRad(1) ** 2
  return { rr: k * rr, ru: k * ru, uu: k * uu }
}

const LEVELS: Readonly<Record<MountKind, readonly LevelRecord['what'][]>> = {
  'el-over-az': ['mast-lean', 'dish-elevation'],
  'ha-dec': ['lower-axis-elevation', 'upper-axis-elevation', 'dish-elevation'],
  'az-over-el': ['lower-axis-elevation', 'upper-axis-elevation', 'dish-elevation'],
  'x-y': ['lower-axis-elevation', 'upper-axis-elevation', 'dish-elevation'],
}

/** A level of each kind that the mount has, at readings. */
export function levelsToTake(
  solved: Solved,
  feed: Feed,
  now: UtcMs,
  poses: readonly { lower: number; upper: number }[],
): Candidate[] {
  const { record, model } = solved.station
  const slots = solved.parameters.slotsAt(now, feed.id)
  const out: Candidate[] = []
  for (const what of LEVELS[model.kind]) {
    const stated = (record.levels ?? []).filter(l => l.what === what).map(l => l.sigmaDeg)
    const sigma = stated.length === 0 ? LEVEL_SIGMA : radFromDeg(stated.sort((a, b) => a - b)[stated.length >> 1]!)
    const base = { id: '?', utc: new Date(now).toISOString(), sigmaDeg: degFromRad(sigma) }
    for (const at of poses) {
      const level = (what === 'mast-lean'
        ? { ...base, what, northDeg: 0, eastDeg: 0 }
        : { ...base, what, ...at, valueDeg: 0 }) as unknown as LevelRecord
      const measured = { record: level, slots, clamping: -1, sigma }
      const step: MeasurementStep = { kind: 'level', what, ...at, sigma }
      out.push(...asCandidate(solved, step, { kind: 'level', id: '?', level: measured, clampingSigma: 0 }, 1))
      // The readings do not matter for these two.
      if (what === 'mast-lean' || what === 'lower-axis-elevation') break
    }
  }
  return out
}

/** Every mark that was ever read, to be read once more. */
export function marksToRead(solved: Solved, now: UtcMs): Candidate[] {
  const { station, parameters } = solved
  const marks = new Map<string, ReferenceRecord>()
  for (const r of station.record.references ?? []) marks.set(`${r.axis} ${r.mark}`, r)
  return [...marks.values()].flatMap(r => {
    const again = { ...r, id: '?', utc: new Date(now).toISOString() }
    const reference = referenceFromRecord(station, parameters, again)
    if (reference.mark < 0) return []
    const step: MeasurementStep = {
      kind: 'mark',
      axis: r.axis,
      mark: r.mark,
      reading: r.reading,
      sigma: reference.sigma,
    }
    return asCandidate(solved, step, { kind: 'mark', id: '?', reference }, 1)
  })
}
