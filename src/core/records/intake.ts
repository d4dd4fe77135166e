/**
 * A field book comes in: text becomes a checked book, or every broken rule with its path. All or nothing.
 * The value returned is what JSON.parse made, untouched: unknown fields and records are still in it.
 */
import * as v from 'valibot'
import { type Answer, type Fault, no, yes } from './answer.ts'
import { type FaultList, faultList } from './faultlist.ts'
import type { FieldBook } from './fieldbook.ts'
import { LARGEST_FILE, placeInText, tooDeepAt, utf8Bytes, whereJsonBreaks } from './jsontext.ts'
import { faultOfMade } from './made.ts'
import { ENTRY_LISTS } from './parts.ts'
import { checkStationRules, factsOfStation, isLoose, type Loose, RECORD_RULES } from './rules.ts'
import { FileSchema, LIST_NAMES, type ListName, RECORD_LISTS, StationSchema } from './schema.ts'
import { pathOf, shown } from './shown.ts'

export { LARGEST_FILE }
/** Levels of brackets. A book of version 1 has eight; everything after this check may recurse. */
export const DEEPEST = 100

export const tooLarge = (bytes: number): Fault => ({
  path: '',
  rule: `a field book has at most ${LARGEST_FILE / 1e6} MB, this file has ${(bytes / 1e6).toFixed(1)} MB`,
})

/**
 * Depth and finiteness of everything in the book, known or not, without recursion.
 * @returns false when it is too deep to go on
 */
function walk(root: unknown, faults: FaultList): boolean {
  type Frame = { at: Loose | unknown[]; keys: string[] | null; next: number }
  const frameOf = (at: object): Frame =>
    Array.isArray(at) ? { at, keys: null, next: 0 } : { at: at as Loose, keys: Object.keys(at), next: 0 }
  const frames: Frame[] = []
  const path = (): string =>
    pathOf(
      '',
      frames.map(f => (f.keys === null ? f.next - 1 : f.keys[f.next - 1]!)),
    )
  if (typeof root === 'object' && root !== null) frames.push(frameOf(root))
  while (frames.length > 0) {
    const frame = frames[frames.length - 1]!
    const { at, keys } = frame
    if (frame.next >= (keys === null ? (at as unknown[]).length : keys.length)) {
      frames.pop()
      continue
    }
    const value = keys === null ? (at as unknown[])[frame.next] : (at as Loose)[keys[frame.next]!]
    frame.next += 1
    if (typeof value === 'number') {
      if (!Number.isFinite(value)) {
        faults.add(path(), `every number must be finite, got ${value} (a number too large to be kept)`)
        if (faults.isFull()) return true
      }
    } else if (typeof value === 'object' && value !== null) {
      if (frames.length >= DEEPEST) {
        faults.add('', `nested deeper than ${DEEPEST} levels`)
        return false
      }
      frames.push(frameOf(value))
    }
  }
  return true
}

/** One record against its shape. The last key of the path is the subject of the sentence. */
function checkShape(schema: v.GenericSchema, value: unknown, path: string, faults: FaultList): void {
  const result = v.safeParse(schema, value)
  if (result.success) return
  for (const issue of result.issues) {
    const keys = (issue.path ?? []).map(item => item.key as string | number)
    const at = pathOf(path, keys)
    const subject = at.slice(at.lastIndexOf('.') + 1) || 'the file'
    if (issue.received === 'undefined') faults.add(at, `${subject} is missing: it ${issue.message}`)
    else faults.add(at, `${subject} ${issue.message}, got ${shown(issue.input)}`)
    if (faults.isFull()) return
  }
}

function checkList(
  station: Loose,
  list: ListName,
  path: string,
  faults: FaultList,
  each: (record: unknown, at: string) => void,
): void {
  const records = station[list]
  const { schema, needed } = RECORD_LISTS[list]
  if (records === undefined) {
    if (needed) faults.add(`${path}.${list}`, `${list} is missing: it must be a list`)
    return
  }
  if (!Array.isArray(records)) {
    faults.add(`${path}.${list}`, `${list} must be a list, got ${shown(records)}`)
    return
  }
  for (let i = 0; i < records.length && !faults.isFull(); i += 1) {
    const at = `${path}.${list}[${i}]`
    checkShape(schema, records[i], at, faults)
    each(records[i], at)
  }
}

/**
 * Ids of records are unique in the whole file. Short ids that a person gives to things (feeds, adjusters, instruments)
 * are unique within their station: two stations may each have a feed "a".
 */
/** Lists whose entries belong to the station's own record. */
const ENTRIES_WITHIN: ReadonlySet<string> = new Set(ENTRY_LISTS)

const LOCAL_LISTS: ReadonlySet<string> = new Set(['feeds', 'adjusters', 'instruments'])

const HALF = /[\ud800-\udfff]/u

function checkId(ids: Map<string, string>, record: unknown, at: string, where: string, faults: FaultList): void {
  if (!isLoose(record) || typeof record.id !== 'string') return
  // Half a character leaves as another one in some ways out of the phone: the record would come back as a stranger.
  if (HALF.test(record.id))
    faults.add(`${at}.id`, `id must be whole characters, got half of one in ${shown(record.id)}`)
  const before = ids.get(record.id)
  if (before === undefined) ids.set(record.id, at)
  else faults.add(`${at}.id`, `id must be unique ${where}, but ${shown(record.id)} is also the id of ${before}`)
}

/** What a record was made from, where the file says so. */
function checkMade(record: unknown, at: string, faults: FaultList): void {
  if (!isLoose(record) || record.made === undefined || faults.isFull()) return
  const fault = faultOfMade(record.made)
  if (fault === null) return
  const path = pathOf(at, ['made', ...fault.keys])
  faults.add(path, `${fault.keys.at(-1) ?? 'made'} ${fault.rule}`)
}

function checkStation(
  station: unknown,
  path: string,
  ids: Map<string, string>,
  faults: FaultList,
  progress?: (records: number) => void,
): void {
  checkShape(StationSchema, station, path, faults)
  if (!isLoose(station)) return
  const facts = factsOfStation(station)
  checkStationRules(station, facts, path, faults)
  checkId(ids, station, path, 'in the file', faults)
  checkMade(station, path, faults)
  for (const list of LIST_NAMES) {
    const local = LOCAL_LISTS.has(list)
    const known = local ? new Map<string, string>() : ids
    const rule = RECORD_RULES[list]
    checkList(station, list, path, faults, (record, at) => {
      if (!isLoose(record)) return
      if (!ENTRIES_WITHIN.has(list)) checkMade(record, at, faults)
      // A prior's id names a parameter and may be given twice.
      if (list !== 'priors') checkId(known, record, at, local ? 'at its station' : 'in the file', faults)
      rule?.(record, facts, at, faults)
      if (ids.size % 1000 === 0) progress?.(ids.size)
    })
    if (faults.isFull()) return
  }
}

/**
 * Every broken rule of an already parsed book, in the file's order; empty when it is legal. Depth is checked first.
 *
 * @param progress  called now and then with how many records were checked
 */
export function checkFieldBook(value: unknown, progress?: (records: number) => void): Fault[] {
  const faults = faultList()
  if (!isLoose(value))
    return [{ path: '', rule: `not a moonplumb field book: it holds ${value === null ? 'null' : shown(value)}` }]
  if (value.format !== 'moonplumb-fieldbook') {
    const got = value.format === undefined ? 'format is missing' : `format is ${shown(value.format)}`
    return [{ path: 'format', rule: `not a moonplumb field book: ${got}` }]
  }
  if (value.version !== 1) {
    const newer = typeof value.version === 'number' && value.version > 1
    return [
      {
        path: 'version',
        rule: newer
          ? `this field book is version ${value.version}; this program reads version 1: update the program`
          : `version must be 1, got ${value.version === undefined ? 'nothing' : shown(value.version)}`,
      },
    ]
  }
  if (!walk(value, faults)) return faults.all()
  checkShape(FileSchema, value, '', faults)
  checkMade(value, '', faults)
  if (Array.isArray(value.deletions))
    for (const [i, deletion] of value.deletions.entries()) checkMade(deletion, `deletions[${i}]`, faults)
  const ids = new Map<string, string>()
  if (Array.isArray(value.stations)) {
    for (let i = 0; i < value.stations.length && !faults.isFull(); i += 1) {
      checkStation(value.stations[i], `stations[${i}]`, ids, faults, progress)
    }
  }
  return faults.all()
}

/**
 * A field book from its file's text; a byte order mark is tolerated. Never throws on a bad file: broken, cut off, huge,
 * deep, hostile and newer files are answers.
 */
export function readFieldBook(text: string, progress?: (records: number) => void): Answer<FieldBook> {
  // A text of n units has at least n and at most 3n bytes: counting is rarely needed.
  if (text.length * 3 > LARGEST_FILE) {
    const bytes = text.length > LARGEST_FILE ? text.length : utf8Bytes(text)
    if (bytes > LARGEST_FILE) return { ok: false, faults: [tooLarge(bytes)] }
  }
  const json = text.startsWith('\ufeff') ? text.slice(1) : text
  if (!/\S/.test(json)) return no('', 'the file is empty')
  const deep = tooDeepAt(json, DEEPEST)
  if (deep >= 0) return no('', `nested deeper than ${DEEPEST} levels, at ${placeInText(json, deep)}`)
  let value: unknown
  try {
    value = JSON.parse(json)
  } catch {
    return no('', whereJsonBreaks(json))
  }
  const faults = checkFieldBook(value, progress)
  return faults.length === 0 ? yes(value as FieldBook) : { ok: false, faults }
}
