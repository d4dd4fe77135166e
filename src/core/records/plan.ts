/**
 * What importing a book would do as a whole, what it asks, and what is written after the answers, so that the book is valid
 * afterwards. A station is deleted with all that belongs to it or not at all; where merging alone would leave a record without
 * what it names (a sighting without its feed), the records that disagree about it are asked too.
 */
import type { Fault } from './answer.ts'
import type { FieldBook } from './fieldbook.ts'
import { checkFieldBook } from './intake.ts'
import { RECORD_LISTS, recordId } from './kinds.ts'
import { afterEdit, highestNumber } from './made.ts'
import {
  type Arrival,
  type Conflict,
  DELETION,
  type Merge,
  type MergeSide,
  merge,
  settle,
  withArrivals,
} from './merge.ts'
import { stateOf, writtenOut } from './revisions.ts'
import { bookFromRecords, type StoredRecord } from './stored.ts'

export { type Arrival, type Conflict, DELETION, type MergeSide }

export interface Plan extends Merge {
  book: FieldBook
  /** Why merging alone would make the book invalid; the causes are among the conflicts where they can be asked. */
  why: readonly Fault[]
  /**
   * Stations that one side deleted and the other went on editing, each with what belongs to it here: one answer for all of it.
   */
  torn: ReadonlyMap<string, readonly StoredRecord[]>
}

export interface Choices {
  /** By `choiceKey`. */
  sides: Readonly<Record<string, MergeSide>>
  /** For everything that `sides` does not name. */
  rest?: MergeSide
  /** Whether what was deleted here comes back. null: not said, it stays deleted. */
  deleted: 'stay' | 'back' | null
}

export const choiceKey = (id: string, part: string): string => `${id} ${part}`

/** An entry of a torn station follows the answer that its station gets. */
export const follows = (plan: Pick<Plan, 'torn'>, conflict: Conflict): boolean =>
  conflict.mine.kind !== 'station' &&
  plan.torn.has(conflict.mine.station) &&
  conflict.asks.some(ask => ask.part === DELETION)

const sideOf = (
  plan: Pick<Plan, 'torn'>,
  conflict: Conflict,
  part: string,
  choices: Choices,
): MergeSide | undefined => {
  const key = follows(plan, conflict)
    ? choiceKey(recordId('station', conflict.mine.station), DELETION)
    : choiceKey(conflict.id, part)
  return choices.sides[key] ?? choices.rest
}

/** What the person is asked, in order: conflicts but for those that follow their station. */
export const asked = (plan: Plan): Conflict[] => plan.conflicts.filter(conflict => !follows(plan, conflict))

/** How many choices the person still has to make. */
export const openChoices = (plan: Plan, choices: Choices): number =>
  asked(plan).reduce((n, c) => n + c.asks.filter(ask => !sideOf(plan, c, ask.part, choices)).length, 0)

interface PlanOptions {
  /** Keys of records to be asked about wherever both sides differ. */
  forced?: ReadonlySet<string>
  /** @param share  0 to 1 */
  progress?: (share: number) => void
}

/**
 * What a checked book would do.
 *
 * @param current  current revisions, tombstones included
 */
export function planFor(current: readonly StoredRecord[], book: FieldBook, options: PlanOptions = {}): Plan {
  const forced = new Set(options.forced)
  let found = merge(current, book, { forced, ...(options.progress && { progress: options.progress }) })
  const torn = tornStations(current, found)
  if (torn.size > 0) {
    for (const station of torn.keys()) forced.add(recordId('station', station))
    for (const { id, station } of [...found.removed, ...found.deletedHere.map(c => c.mine)])
      if (torn.has(station)) forced.add(id)
    found = merge(current, book, { forced })
  }
  // Conflicts are left as they are here, so that what merging alone breaks is seen.
  const whole = { ...found, book, torn }
  const arrivals = arrivalsFor(whole, { sides: {}, deleted: null })
  const why = arrivals.length === 0 ? [] : faultsAfter(current, arrivals)
  if (why.length === 0) return { ...whole, why: [] }
  for (const id of recordsAtFault(current, whole, why)) forced.add(id)
  return { ...merge(current, book, { forced }), book, torn, why }
}

/** Stations that would be deleted while something that belongs to them would not, or that are in doubt themselves. */
function tornStations(current: readonly StoredRecord[], found: Merge): Map<string, StoredRecord[]> {
  const gone = new Set([
    ...current.filter(r => r.kind === 'station' && r.deleted).map(r => r.station),
    ...found.removed.filter(r => r.kind === 'station').map(r => r.station),
  ])
  for (const { kind, station } of [...found.added, ...found.updated]) if (kind === 'station') gone.delete(station)
  const torn = new Set<string>()
  for (const { mine, asks } of found.conflicts)
    if (mine.kind === 'station' && asks.some(ask => ask.part === DELETION)) torn.add(mine.station)
  if (gone.size > 0) {
    const removed = new Set(found.removed.map(r => r.id))
    const living = [
      ...current.filter(r => !r.deleted && !removed.has(r.id)),
      ...[...found.added, ...found.updated].filter(r => !r.deleted),
      ...found.conflicts.map(c => c.mine),
    ]
    for (const { kind, station } of living) if (kind !== 'station' && gone.has(station)) torn.add(station)
  }
  const here = new Map<string, StoredRecord[]>([...torn].map(station => [station, []]))
  for (const record of current) if (record.kind !== 'station' && !record.deleted) here.get(record.station)?.push(record)
  return here
}

/** What would be written with these choices; what is not chosen yet is left as it is here. */
export function arrivalsFor(plan: Omit<Plan, 'why'>, choices: Choices): Arrival[] {
  const arrivals = [
    ...plan.added,
    ...plan.updated,
    ...plan.together.map(one => one.arrival),
    ...plan.removed,
    ...plan.noted,
    ...plan.conflicts
      .filter(c => c.asks.every(ask => sideOf(plan, c, ask.part, choices)))
      .map(c => settle(c, part => sideOf(plan, c, part, choices)!)),
  ]
  if (choices.deleted === 'back') arrivals.push(...plan.deletedHere.map(c => settle(c, () => 'theirs')))
  return plan.torn.size === 0 ? arrivals : withTheirStation(plan, arrivals)
}

/** What belongs to a station that the person gives up is deleted with it. */
function withTheirStation(plan: Omit<Plan, 'why'>, arrivals: readonly Arrival[]): Arrival[] {
  const gone = new Set(arrivals.filter(a => a.kind === 'station' && a.deleted).map(a => a.station))
  const goes = (record: { kind: string; station: string; deleted?: boolean }) =>
    record.kind !== 'station' && !record.deleted && plan.torn.has(record.station) && gone.has(record.station)
  const tombstone = (record: Arrival | StoredRecord): Arrival => {
    const { kind, body, revision, made } = record
    const after = afterEdit(stateOf({ kind, body, deleted: false, revision, ...(made && { made }) }), body, true)
    const { id, station, place } = record
    const number = highestNumber(after.known.seen)
    const rest = { ...(place !== undefined && { place }), made: writtenOut(after), arrived: true as const }
    return { id, kind, station, body, deleted: true, revision: number, ...rest }
  }
  const come = new Set(arrivals.map(a => a.id))
  const left = [...plan.torn.values()].flat().filter(record => goes(record) && !come.has(record.id))
  return [...arrivals.map(a => (goes(a) ? tombstone(a) : a)), ...left.map(tombstone)]
}

/** Faults of the whole book after the arrivals: a sighting may name a feed that the chosen side does not have. */
export const faultsAfter = (current: readonly StoredRecord[], arrivals: readonly Arrival[]): Fault[] =>
  checkFieldBook(bookAfter(current, arrivals))

const bookAfter = (current: readonly StoredRecord[], arrivals: readonly Arrival[]): FieldBook =>
  bookFromRecords(withArrivals(current, arrivals, 0, ''), '1970-01-01T00:00:00Z')

/** The records that faults speak of, with their stations. */
export function recordsAtFault(
  current: readonly StoredRecord[],
  plan: Omit<Plan, 'why'>,
  faults: readonly Fault[],
  choices: Choices = { sides: {}, deleted: null },
): Set<string> {
  const book = bookAfter(current, arrivalsFor(plan, choices))
  const ids = new Set<string>()
  for (const { path } of faults) {
    const [, at, list, index] = /^stations\[(\d+)\](?:\.(\w+)\[(\d+)\])?/.exec(path) ?? []
    const station = at === undefined ? undefined : book.stations[Number(at)]
    if (!station) continue
    ids.add(recordId('station', station.id))
    if (list === undefined || !Object.hasOwn(RECORD_LISTS, list)) continue
    const kind = RECORD_LISTS[list as keyof typeof RECORD_LISTS]
    const entry = (station as unknown as Record<string, unknown[]>)[list]?.[Number(index)]
    const own = (entry as { id?: unknown } | undefined)?.id
    if (typeof own === 'string') ids.add(recordId(kind, station.id, own))
  }
  return ids
}
