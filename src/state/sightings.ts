/**
 * Sightings as the screens need them: the stamp that is kept at once, halves that wait, what a record would break before it
 * is stored, what a shadow means, and the list with what the solution says of each. Degrees and millimetres, as in the file.
 */

import { signal } from '@preact/signals'
import { sunFromShadow } from '../core/dish/shadow.ts'
import { defaultSigma } from '../core/fit/methods.ts'
import type { Fault } from '../core/records/answer.ts'
import type { Method, SightingRecord, StationRecord, TargetRecord, Use } from '../core/records/fieldbook.ts'
import { type HalfSighting, halfOf, waitingHalves } from '../core/records/halfsightings.ts'
import { instantMs } from '../core/records/instant.ts'
import { checkFieldBook } from '../core/records/intake.ts'
import type { Draft, StoredRecord } from '../core/records/revisions.ts'
import type { Solution, SolvedSighting } from '../core/records/solution.ts'
import { feedOf } from '../core/records/station.ts'
import { stationFromRecord } from '../core/records/stationintake.ts'
import { degFromRad } from '../core/units.ts'
import type { Kept } from '../store/database.ts'
import { entry, fieldBook, newId, recordOf, tombstone, type Unsaved } from './book.ts'
import { clockStep } from './now.ts'

export type Sighting = SightingRecord

/** The method used last for such a target at this station; else what most stations use. Null: the person must say. */
export function guessMethod(station: StationRecord, target: TargetRecord): Method | null {
  const last = station.sightings.findLast(s => s.target.type === target.type)
  if (last && (last.method === 'signal-peak' || last.method === 'shadow' || last.method === 'optical'))
    return last.method
  if (target.type === 'source' || target.type === 'geostationary') return 'signal-peak'
  return target.type === 'landmark' ? 'optical' : null
}

/** A half sighting from a stamp. Pure but for the id. */
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

const own = new Set<string>()
/** Whether a step that can be undone was made here: the screens of a sighting do not offer to undo an import. */
export const isOwnStep = (what: string): boolean => own.has(what)

function save(what: string, drafts: readonly Draft[]): Promise<Kept<StoredRecord[]>> {
  own.add(what)
  return fieldBook.save(what, drafts)
}

const halfDraft = (station: string, half: HalfSighting): Draft => entry('half-sighting', station, half)

/** Stamps on their way to the medium: the next screen is there before the store has answered. */
const underway = signal<readonly { station: string; half: HalfSighting }[]>([])
export const isUnderway = (id: string): boolean => underway.value.some(u => u.half.id === id)

/** Keeps a stamp at once. Where it cannot be written it waits among the unsaved, and is found there by its id. */
export function keepStamp(
  station: StationRecord,
  stamp: { utcMs: number; monotonicMs: number },
  target: TargetRecord,
  dialled: { lower: number | null; upper: number | null } | null,
  what: string,
): { half: HalfSighting; kept: Promise<Kept<StoredRecord[]>> } {
  const half = halfFromStamp(station, stamp, target, dialled, clockStep.peek()?.stepMs ?? null)
  const mine = { station: station.id, half }
  underway.value = [...underway.value, mine]
  const kept = save(what, [halfDraft(station.id, half)]).finally(() => {
    underway.value = underway.value.filter(u => u !== mine)
  })
  return { half, kept }
}

export const keepHalf = (station: StationRecord, half: HalfSighting, what: string): Promise<Kept<StoredRecord[]>> =>
  save(what, [halfDraft(station.id, half)])

const unsavedWith = (id: string): Unsaved | undefined =>
  fieldBook.unsaved.value.find(u => u.drafts.some(d => !d.deleted && (d.body as { id?: unknown } | null)?.id === id))

/** Halves that wait at a station, those that could not be written yet included. Newest first. */
export function halvesHere(station: StationRecord): HalfSighting[] {
  const kept = waitingHalves(station)
  const known = new Set(kept.map(h => h.id))
  const flying = underway.value.filter(u => u.station === station.id).map(u => u.half)
  const more = fieldBook.unsaved.value
    .flatMap(u => u.drafts)
    .filter(d => d.kind === 'half-sighting' && d.station === station.id && !d.deleted)
    .map(d => halfOf(d.body))
    .filter(h => h !== null)
  const fresh = new Map([...flying, ...more].filter(h => !known.has(h.id)).map(h => [h.id, h]))
  return [...fresh.values(), ...kept]
}

/** The tombstone of a half that is on the medium. */
function goneHalf(station: StationRecord, id: string): Draft[] {
  const record = recordOf(fieldBook, 'half-sighting', station.id, id)
  return record && !record.deleted ? [tombstone(record)] : []
}

/** A half that was never written is only forgotten. */
function forgetUnsaved(id: string): void {
  const waiting = unsavedWith(id)
  if (waiting?.drafts.length === 1) fieldBook.discardUnsaved(waiting)
}

/** Throws halves away, in one step. */
export async function dropHalves(station: StationRecord, ids: readonly string[], what: string): Promise<void> {
  for (const id of ids) forgetUnsaved(id)
  const drafts = ids.flatMap(id => goneHalf(station, id))
  if (drafts.length > 0) await save(what, drafts)
}

/** Joins readings to a stamp: the stamp's next revision, and the readings' own record goes. */
export async function joinHalfPair(
  station: StationRecord,
  joined: HalfSighting,
  readingsId: string,
  what: string,
): Promise<Kept<StoredRecord[]>> {
  return save(what, [halfDraft(station.id, joined), ...goneHalf(station, readingsId)])
}

/** Keeps a sighting, and takes its half away, in one transaction. A half that is unsaved itself waits until that is done. */
export async function keepSighting(
  station: StationRecord,
  record: Sighting,
  what: string,
  halfId?: string,
): Promise<Kept<StoredRecord[]>> {
  const gone = halfId === undefined ? [] : goneHalf(station, halfId)
  const answer = await save(what, [entry('sighting', station.id, record), ...gone])
  if (answer.kind === 'done' && halfId !== undefined) forgetUnsaved(halfId)
  return answer
}

/** Keeps several sightings, and what belongs to them, in one step. */
export const keepTogether = (
  station: StationRecord,
  records: readonly Sighting[],
  also: readonly Draft[],
  what: string,
): Promise<Kept<StoredRecord[]>> => save(what, [...records.map(r => entry('sighting', station.id, r)), ...also])

/** A new revision of a sighting with another use. */
export function setUse(station: StationRecord, record: SightingRecord, use: Use, what: string) {
  const changed: SightingRecord = { ...record, use }
  return save(what, [entry('sighting', station.id, changed)])
}

export async function deleteSighting(station: StationRecord, id: string, what: string): Promise<void> {
  const record = recordOf(fieldBook, 'sighting', station.id, id)
  if (record && !record.deleted) await save(what, [tombstone(record)])
}

/** What a sighting breaks at its station; the path of a fault is the record's own: 'lower', 'shadow.rightMm'. */
export function faultsOfSighting(station: StationRecord, record: SightingRecord): Fault[] {
  const alone = {
    ...station,
    sightings: [record],
    changes: [],
    references: [],
    levels: [],
    halfSightings: [],
    scans: [],
    checks: [],
    noise: [],
    clockChecks: [],
  }
  const book = { format: 'moonplumb-fieldbook', version: 1, exportedUtc: '1970-01-01T00:00:00Z', stations: [alone] }
  const at = 'stations[0].sightings[0].'
  return checkFieldBook(book)
    .filter(f => f.path.startsWith(at))
    .map(f => ({ path: f.path.slice(at.length), rule: f.rule }))
}

/** σ that a method has when none is stated, degrees. */
export function defaultSigmaDeg(station: StationRecord, method: Method, feed: string | undefined): number {
  const core = stationFromRecord(station)
  return degFromRad(defaultSigma(method, core, feedOf(core, feed)))
}

/** Where the Sun stands as the dish counts, from where the shadow fell (seen from behind). Degrees. */
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
    sigmaDeg: sigmaDeg ?? defaultSigmaDeg(station, 'shadow', undefined),
  }
}

export interface SightingRow {
  record: Sighting
  utcMs: number
  /** Null: not solved yet, or the solution is of before this sighting. */
  solved: SolvedSighting | null
}

/** All sightings, newest first, with what the solution says of each. */
export function sightingRows(station: StationRecord, solution: Solution | null): SightingRow[] {
  const solved = new Map(solution?.sightings.map(s => [s.id, s]))
  return station.sightings
    .map(record => ({ record, utcMs: instantMs(record.utc), solved: solved.get(record.id) ?? null }))
    .sort((a, b) => b.utcMs - a.utcMs)
}
