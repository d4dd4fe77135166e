/**
 * Reading a field book: text becomes a checked book, or every broken rule with its path. All or nothing.
 * The value returned is what JSON.parse made, untouched: unknown fields and records are still in it.
 */
import { type Answer, type Fault, no, yes } from './answer.ts'
import { checkEntry, checkId, checkMade, checkShape, type Ids, idsFor } from './checkrecord.ts'
import { type FaultCollector, faultList } from './faultlist.ts'
import type { FieldBook } from './fieldbook.ts'
import { LARGEST_FILE, placeInText, tooDeepAt, utf8Bytes, whereJsonBreaks } from './jsontext.ts'
import { ANY_LISTS, rulesOfList } from './kinds.ts'
import { isLoose } from './loose.ts'
import { checkStationRules, factsOfStation } from './rules.ts'
import { FileSchema, StationSchema } from './schema.ts'
import { shown } from './shown.ts'
import { DEEPEST, walk } from './walk.ts'

export { DEEPEST, LARGEST_FILE }
export const tooLarge = (bytes: number): Fault => ({
  path: '',
  rule: `a field book has at most ${LARGEST_FILE / 1e6} MB, this file has ${(bytes / 1e6).toFixed(1)} MB`,
})

function checkStation(
  station: unknown,
  path: string,
  ids: Ids,
  faults: FaultCollector,
  progress?: (records: number) => void,
): void {
  checkShape(StationSchema, station, path, faults)
  if (!isLoose(station)) return
  const facts = factsOfStation(station)
  checkStationRules(station, facts, path, faults)
  checkId(ids, station, path, 'in the file', faults)
  checkMade(station, path, faults)
  for (const list of ANY_LISTS) {
    const records = station[list]
    if (records === undefined) {
      if (rulesOfList(list).needed) faults.add(`${path}.${list}`, `${list} is missing: it must be a list`)
    } else if (!Array.isArray(records)) {
      faults.add(`${path}.${list}`, `${list} must be a list, got ${shown(records)}`)
    } else {
      const known = idsFor(list, ids)
      for (let i = 0; i < records.length && !faults.isFull(); i += 1) {
        checkEntry(list, records[i], facts, known, `${path}.${list}[${i}]`, faults)
        if (ids.size % 1000 === 0) progress?.(ids.size)
      }
    }
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
          ? `this field book is version ${value.version}; this Moonplumb reads version 1: update it`
          : `version must be 1, got ${value.version === undefined ? 'nothing' : shown(value.version)}`,
      },
    ]
  }
  if (!walk(value, faults)) return faults.all()
  checkShape(FileSchema, value, '', faults)
  checkMade(value, '', faults)
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
