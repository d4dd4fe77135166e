/**
 * The check of one record: its shape, the rules that it must fit at its station, what it says it was made from, its id. The
 * intake runs it over every record of a file, `checkRecord` over one that is to be kept.
 */
import * as v from 'valibot'
import type { Fault } from './answer.ts'
import { type FaultCollector, faultList } from './faultlist.ts'
import type { StationRecord } from './fieldbook.ts'
import { ANY_LISTS, type AnyList, rulesOfList } from './kinds.ts'
import { isLoose, type Loose } from './loose.ts'
import { factsOfStation, RECORD_RULES, type StationFacts } from './rules.ts'
import { ENTRY_SCHEMAS } from './schema.ts'
import { MadeSchema } from './schemas/made.ts'
import { recordPath, shown } from './shown.ts'
import { DEEPEST, walk } from './walk.ts'

/** A value against a shape. The last key of the path is the subject of the sentence. */
export function checkShape(schema: v.GenericSchema, value: unknown, path: string, faults: FaultCollector): void {
  const result = v.safeParse(schema, value)
  if (result.success) return
  for (const issue of result.issues) {
    const keys = (issue.path ?? []).map(item => item.key as string | number)
    const at = recordPath(path, keys)
    const subject = at.slice(at.lastIndexOf('.') + 1) || 'the file'
    if (issue.received === 'undefined') faults.add(at, `${subject} is missing: it ${issue.message}`)
    else faults.add(at, `${subject} ${issue.message}, got ${shown(issue.input)}`)
    if (faults.isFull()) return
  }
}

/** Where each id of a file was first met. */
export type Ids = Map<string, string>
/**
 * The ids that a list's must differ from. Ids of records are unique in the whole file; short ones that a person gives to things
 * are unique within their station: two stations may each have a feed "a".
 */
export const idsFor = (list: AnyList, ofFile: Ids): Ids => (hasOwnIds(list) ? new Map() : ofFile)
const hasOwnIds = (list: AnyList): boolean => rulesOfList(list).ids === 'own'

const HALF = /[\ud800-\udfff]/u

export function checkId(ids: Ids, record: unknown, at: string, where: string, faults: FaultCollector): void {
  if (!isLoose(record) || typeof record.id !== 'string') return
  // Some ways out of the phone replace half a character by another: the record would come back as a different one.
  if (HALF.test(record.id))
    faults.add(`${at}.id`, `id must be whole characters, got half of one in ${shown(record.id)}`)
  const before = ids.get(record.id)
  if (before === undefined) ids.set(record.id, at)
  else faults.add(`${at}.id`, `id must be unique ${where}, but ${shown(record.id)} is also the id of ${before}`)
}

/** What a record was made from, where the file says so. */
export function checkMade(record: unknown, at: string, faults: FaultCollector): void {
  if (isLoose(record) && record.made !== undefined && !faults.isFull())
    checkShape(MadeSchema, record.made, recordPath(at, ['made']), faults)
}

/**
 * All that a record of a list must keep.
 *
 * @param ids  from `idsFor`; the record's own is put into it
 */
export function checkEntry(
  list: AnyList,
  record: unknown,
  facts: StationFacts,
  ids: Ids,
  at: string,
  faults: FaultCollector,
): void {
  checkShape(ENTRY_SCHEMAS[list], record, at, faults)
  if (!isLoose(record)) return
  const { kind, ids: own } = rulesOfList(list)
  if (kind !== null) checkMade(record, at, faults)
  if (own !== 'none') checkId(ids, record, at, own === 'own' ? 'at its station' : 'in the file', faults)
  RECORD_RULES[list]?.(record, facts, at, faults)
}

/** A book, its stations, a station, its list: the brackets round a record. */
const AROUND = 4

/**
 * Every rule of the field book that a record would break at its station, beside the station's other records; where one of
 * them has its list and id it takes that one's place. What is wrong elsewhere at the station is not reported. The station is read
 * once, for as many records as are asked about.
 *
 * @param station  as it would stand in a file; not checked
 * @returns        paths from the record on: `shadow.rightMm`, '' the record itself; empty when it may be kept
 */
export function recordCheck(station: StationRecord): (list: AnyList, record: unknown) => Fault[] {
  const stands = station as unknown as Loose
  const facts = factsOfStation(stands)
  /** Of the lists whose ids are unique in the file: who has an id. */
  const known = new Map<string, { list: AnyList | null; at: string }[]>([
    [station.id, [{ list: null, at: 'the station' }]],
  ])
  for (const list of ANY_LISTS)
    if (rulesOfList(list).ids === undefined)
      for (const [i, one] of listed(stands[list]).entries()) {
        const id = isLoose(one) ? one.id : undefined
        if (typeof id !== 'string') continue
        const others = known.get(id)
        if (others === undefined) known.set(id, [{ list, at: `${list}[${i}]` }])
        else others.push({ list, at: `${list}[${i}]` })
      }
  return (list, record) => {
    const own = isLoose(record) ? record.id : undefined
    const ids: Ids = new Map()
    if (typeof own === 'string' && !hasOwnIds(list)) {
      const other = known.get(own)?.find(one => one.list !== list)
      if (other !== undefined) ids.set(own, other.at)
    }
    const at = `${list}[${listed(stands[list]).length}]`
    const faults = faultList()
    if (walk(record, faults, at, DEEPEST - AROUND)) checkEntry(list, record, facts, ids, at, faults)
    return faults.all().map(fault => ({ ...fault, path: fromRecord(fault.path, at) }))
  }
}

/** The same for one record. */
export const checkRecord = (list: AnyList, record: unknown, station: StationRecord): Fault[] =>
  recordCheck(station)(list, record)

const listed = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : [])

const fromRecord = (path: string, at: string): string =>
  path.startsWith(at) ? path.slice(at.length).replace(/^\./, '') : path
