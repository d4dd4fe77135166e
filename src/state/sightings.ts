/**
 * Sightings as the screens need them: the marked time that is kept at once, halves that wait, which rules a record would break before it
 * is stored, what a shadow means, and the list with what the solution says of each. Degrees and millimetres, as in the file.
 */
import { sunFromShadow } from '../core/dish/shadow.ts'
import { methodSigma } from '../core/fit/methods.ts'
import type { Fault } from '../core/records/answer.ts'
import { checkRecord } from '../core/records/checkrecord.ts'
import { feedOf } from '../core/records/feeds.ts'
import type { Method, SightingRecord, StationRecord, TargetRecord, Use } from '../core/records/fieldbook.ts'
import { type HalfSighting, halfOf, waitingHalves } from '../core/records/halfsightings.ts'
import { instantMs } from '../core/records/instant.ts'
import type { Solution, SolvedSighting } from '../core/records/solution.ts'
import { stationFromRecord } from '../core/records/stationintake.ts'
import type { Draft, StoredRecord } from '../core/records/stored.ts'
import { degFromRad } from '../core/units.ts'
import type { Kept } from '../store/database.ts'
import { entry, fieldBook, newId, tombstones, type UndoStep, type Unsaved } from './book.ts'
import { clockStep } from './now.ts'

/** The method used last for such a target at this station; else the usual one. Null: the person must say. */
export function guessMethod(station: StationRecord, target: TargetRecord): Method | null {
  const last = station.sightings.findLast(s => s.target.type === target.type)
  if (last && (last.method === 'signal-peak' || last.method === 'shadow' || last.method === 'optical'))
    return last.method
  if (target.type === 'source' || target.type === 'geostationary') return 'signal-peak'
  return target.type === 'landmark' ? 'optical' : null
}

/** A half sighting from a marked time. Pure except for the id. */
export function halfFromStamp(
  station: StationRecord,
  stamp: { utcMs: number; monotonicMs: number },
  target: TargetRecord,
  dialled: { lower: number | null; upper: number | null } | null,
  stepMs: number | null,
): HalfSighting {
  const method = guessMethod(station, target)
  const feed = station.feeds.length > 1 ? station.sightings.findLast(s => s.feed !== undefined)?.feed : undefined
  return {
    id: newId(),
    utc: new Date(stamp.utcMs).toISOString(),
    time: 'stamped',
    target,
    monotonicMs: Math.round(stamp.monotonicMs),
    ...(stepMs !== null && { clockStepS: stepMs / 1000 }),
    ...(method && { method }),
    ...(feed !== undefined && { feed }),
    ...(dialled?.lower != null && dialled.upper != null && { dialled: { lower: dialled.lower, upper: dialled.upper } }),
  }
}

const timed = ({ id, utc }: { id: string; utc: string }) => ({ id, utcMs: instantMs(utc) })

const halfDraft = (station: string, half: HalfSighting): Draft => entry('half-sighting', station, half)

const hasRecord = ({ drafts }: Unsaved, id: string): boolean =>
  drafts.some(d => !d.deleted && (d.body as { id?: unknown } | null)?.id === id)

/** Whether it is on its way to the medium: the next screen is there before the store has answered. */
export const isUnderway = (id: string): boolean => fieldBook.underWay.value.some(u => hasRecord(u, id))

/**
 * Keeps a marked time at once: it survives a reload from when this returns. Where it cannot be written it waits among the
 * unsaved, and is found there by its id.
 */
export function keepStamp(
  station: StationRecord,
  stamp: { utcMs: number; monotonicMs: number },
  target: TargetRecord,
  dialled: { lower: number | null; upper: number | null } | null,
): { half: HalfSighting; kept: Promise<Kept<StoredRecord[]>> } {
  const half = halfFromStamp(station, stamp, target, dialled, clockStep.peek()?.stepMs ?? null)
  const step: UndoStep = { kind: 'stamp', place: 'sight', subject: { id: half.id, utcMs: stamp.utcMs, target } }
  return { half, kept: fieldBook.keep(step, [halfDraft(station.id, half)], { atOnce: true }) }
}

/** Keeps readings alone, to be joined with a marked time. */
export const keepReadings = (station: StationRecord, half: HalfSighting): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep({ kind: 'readings', place: 'sight', subject: timed(half) }, [halfDraft(station.id, half)])

const unsavedWith = (id: string): Unsaved | undefined => fieldBook.unsaved.value.find(u => hasRecord(u, id))

/** Halves that wait at a station, those that are not written yet included. Newest first. */
export function halvesHere(station: StationRecord): HalfSighting[] {
  const kept = waitingHalves(station)
  const known = new Set(kept.map(h => h.id))
  const more = [...fieldBook.underWay.value, ...fieldBook.unsaved.value]
    .flatMap(u => u.drafts)
    .filter(d => d.kind === 'half-sighting' && d.station === station.id && !d.deleted)
    .map(d => halfOf(d.body))
    .filter(h => h !== null)
  const fresh = new Map(more.filter(h => !known.has(h.id)).map(h => [h.id, h]))
  return [...fresh.values(), ...kept]
}

/** The tombstone of a half that is on the medium. */
const goneHalf = (station: StationRecord, id: string): Draft[] =>
  tombstones(fieldBook, 'half-sighting', station.id, [id])

/** A half that was never written is only forgotten. */
function forgetUnsaved(id: string): void {
  const waiting = unsavedWith(id)
  if (waiting?.drafts.length === 1) fieldBook.discardUnsaved(waiting)
}

/** Deletes a half. */
export async function dropHalf(station: StationRecord, half: HalfSighting): Promise<void> {
  forgetUnsaved(half.id)
  const drafts = goneHalf(station, half.id)
  if (drafts.length > 0) await fieldBook.keep({ kind: 'throw-away', place: 'sight', subject: timed(half) }, drafts)
}

/** Joins readings to a marked time: its record's next revision, and the readings' own record is deleted. */
export const joinHalfPair = (
  station: StationRecord,
  joined: HalfSighting,
  readings: HalfSighting,
): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep({ kind: 'join', place: 'sight', subject: { ...timed(readings), stamped: joined.id } }, [
    halfDraft(station.id, joined),
    ...goneHalf(station, readings.id),
  ])

/** Keeps a sighting and deletes its half, in one transaction. An unsaved half is forgotten only once that is done. */
export async function keepSighting(
  station: StationRecord,
  record: SightingRecord,
  halfId?: string,
): Promise<Kept<StoredRecord[]>> {
  const gone = halfId === undefined ? [] : goneHalf(station, halfId)
  const isNew = station.sightings.every(s => s.id !== record.id)
  const step: UndoStep = isNew
    ? { kind: 'make-sighting', place: 'sight', subject: { ...timed(record), target: record.target } }
    : { kind: 'edit-sighting', place: 'sight', subject: timed(record) }
  const answer = await fieldBook.keep(step, [entry('sighting', station.id, record), ...gone])
  if (answer.kind === 'done' && halfId !== undefined) forgetUnsaved(halfId)
  return answer
}

/** A new revision of a sighting with another use. */
export const setUse = (station: StationRecord, record: SightingRecord, use: Use): Promise<Kept<StoredRecord[]>> =>
  fieldBook.keep({ kind: 'use', place: 'sight', subject: { ...timed(record), use } }, [
    entry('sighting', station.id, { ...record, use }),
  ])

export async function deleteSighting(station: StationRecord, record: SightingRecord): Promise<void> {
  const drafts = tombstones(fieldBook, 'sighting', station.id, [record.id])
  if (drafts.length > 0)
    await fieldBook.keep({ kind: 'delete-sighting', place: 'sight', subject: timed(record) }, drafts)
}

/** The rules that a sighting breaks at its station; the path of a fault is the record's own: 'lower', 'shadow.rightMm'. */
export const faultsOfSighting = (station: StationRecord, record: SightingRecord): Fault[] =>
  checkRecord('sightings', record, station)

/** σ that a method has when none is stated, degrees. */
export function methodSigmaDeg(station: StationRecord, method: Method, feed: string | undefined): number {
  const core = stationFromRecord(station)
  return degFromRad(methodSigma(method, core, feedOf(core, feed)))
}

/** Where the Sun stands in the dish frame, from where the shadow fell (seen from behind). Degrees. */
export function shadowMeaning(
  station: StationRecord,
  shadow: { rightMm: number; upMm: number },
  sigmaDeg?: number,
): { rightDeg: number; upDeg: number; sigmaDeg: number } {
  const { diameterM, focalRatio } = station.dish
  const sun = sunFromShadow(1000 * diameterM * focalRatio, shadow.rightMm, shadow.upMm)
  return {
    rightDeg: degFromRad(sun.right),
    upDeg: degFromRad(sun.up),
    sigmaDeg: sigmaDeg ?? methodSigmaDeg(station, 'shadow', undefined),
  }
}

export interface SightingRow {
  record: SightingRecord
  utcMs: number
  /** Null: not solved yet, or the solution is older than this sighting. */
  solved: SolvedSighting | null
}

/** All sightings, newest first, with what the solution says of each. */
export function sightingRows(station: StationRecord, solution: Solution | null): SightingRow[] {
  const solved = new Map(solution?.sightings.map(s => [s.id, s]))
  return station.sightings
    .map(record => ({ record, utcMs: instantMs(record.utc), solved: solved.get(record.id) ?? null }))
    .sort((a, b) => b.utcMs - a.utcMs)
}
