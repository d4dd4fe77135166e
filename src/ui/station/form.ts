/**
 * A station as texts to type in, and back to a record. Pure. What the form does not show stays in the record as it
 * was, and a field whose text was not touched gives back the very number it came from.
 */
import { bandName } from '../../core/dish/bands.ts'
import { focalRatioFromDepth } from '../../core/dish/paraboloid.ts'
import { AXES } from '../../core/mount/names.ts'
import type { Fault } from '../../core/records/answer.ts'
import type { PriorRecord, StationRecord } from '../../core/records/fieldbook.ts'
import type { Guess } from '../../core/records/guesses.ts'
import { checkFieldBook } from '../../core/records/intake.ts'
import { isLoose, type Loose } from '../../core/records/loose.ts'
import { RANGES } from '../../core/records/ranges.ts'
import { READOUT_TYPES, readoutNumbers } from '../../core/records/readouts.ts'
import { parseNumber } from '../kit/numberfield.ts'
import { priorName, recordValue, specOf, stepOf, writtenText } from './fields.ts'
import { fillGuesses, isGuessable } from './guessed.ts'
import { at, put } from './paths.ts'

export type FormList = 'feeds' | 'horizonMask' | 'priors'

export interface FormRow {
  key: string
  /** Its number in the record that the form was made from; null for a new one. */
  at: number | null
}

export interface StationForm {
  texts: Readonly<Record<string, string>>
  rows: Readonly<Record<FormList, readonly FormRow[]>>
  inch: boolean
  /** Number of the next new row. */
  next: number
}

export const FORM_WORDS = {
  nameless: 'The station needs a name.',
  missing: 'Write a number here.',
  choose: 'Choose one.',
  order: 'The lower limit must be below the upper one.',
  above0: 'This must be more than 0.',
  noFeed: 'There must be at least one feed.',
} as const

const LISTS: readonly FormList[] = ['feeds', 'horizonMask', 'priors']
/** Number fields of the record at fixed paths, besides those of readouts and rows. */
const PLAIN = [
  'site.latDeg',
  'site.lonDeg',
  'site.heightM',
  'site.air.pressureHPa',
  'site.air.temperatureC',
  'site.air.humidityPct',
  'dish.diameterM',
  'dish.focalRatio',
  'dish.surfaceRmsMm',
  'dish.feedDiameterMm',
  'mount.headingDeg',
  'mount.boresightOffsetDeg',
  'mount.lower.stepDeg',
  'mount.lower.minReading',
  'mount.lower.maxReading',
  'mount.upper.stepDeg',
  'mount.upper.minReading',
  'mount.upper.maxReading',
  'tolerance.echoLossDb',
  'tolerance.minElevationDeg',
  'tolerance.floorDeg',
] as const
/** The numbers of a readout that its form asks for; none while no kind is picked. */
export const askedNumbers = (type: string | undefined): readonly string[] => {
  const known = READOUT_TYPES.find(one => one === type)
  return known ? readoutNumbers(known) : []
}
const ROW_NUMBERS: Readonly<Record<FormList, readonly string[]>> = {
  feeds: ['frequencyMHz', 'beamwidthDeg', 'systemTemperatureK'],
  horizonMask: ['azDeg', 'elDeg'],
  priors: ['value', 'sigma'],
}
const OPTIONAL =
  /^site\.air\.|^dish\.(surfaceRmsMm|feedDiameterMm)$|^mount\.boresightOffsetDeg$|^tolerance\.|\.(beamwidthDeg|systemTemperatureK|stepDeg)$/

/** An empty form, or a station's. A new station has one feed to be described. */
export function formFrom(station: StationRecord | null, inch: boolean): StationForm {
  const texts: Record<string, string> = { 'dish.by': 'ratio', 'dish.fed': station?.dish.fed ?? 'prime-focus' }
  const rows: Record<FormList, FormRow[]> = { feeds: [], horizonMask: [], priors: [] }
  if (station === null) {
    rows.feeds = [{ key: 'k0', at: null }]
    texts['feeds.k0.id'] = 'a'
    return { texts, rows, inch, next: 1 }
  }
  const shape = { texts, inch }
  texts.name = station.name
  texts.notes = station.notes ?? ''
  texts['mount.kind'] = station.mount.kind
  let next = 0
  const isGuess = (path: string): boolean => station.guesses?.[path as Guess] === true
  for (const axis of AXES) {
    const { readout } = station.mount[axis]
    if (!isGuess(`mount.${axis}.readout`)) texts[`mount.${axis}.readout.type`] = readout.type
    if (readout.type === 'jack') texts[`mount.${axis}.readout.direction`] = String(readout.direction)
  }
  for (const list of LISTS)
    for (const [index, item] of (station[list] ?? []).entries()) {
      const key = `k${next++}`
      rows[list].push({ key, at: index })
      if (list === 'feeds') {
        const feed = item as StationRecord['feeds'][number]
        texts[`feeds.${key}.id`] = feed.id
        texts[`feeds.${key}.name`] = feed.name
        texts[`feeds.${key}.hearsMoonEchoes`] = feed.hearsMoonEchoes ? 'yes' : 'no'
      }
      if (list === 'priors') {
        texts[`priors.${key}.id`] = priorName(item as PriorRecord)
        texts[`priors.${key}.measured`] = (item as PriorRecord).measured ? 'yes' : 'no'
      }
    }
  const form = { texts, rows, inch, next }
  for (const { path, source } of numberPaths(form)) {
    const value = sourceValue(station, source)
    // A guess is not put into its field: the field is for a measured value.
    if (typeof value === 'number' && !isGuess(path)) texts[path] = writtenText(shape, specOf(shape, path), value)
  }
  return form
}

/** Every number field that counts for this form, and where the record that it was made from holds it. */
function numberPaths(form: StationForm): { path: string; source: string }[] {
  const same = (path: string) => ({ path, source: path })
  const { texts, rows } = form
  const kind = texts['mount.kind']
  const has = (path: string) =>
    path === 'dish.focalRatio'
      ? texts['dish.by'] !== 'depth'
      : path === 'mount.headingDeg'
        ? kind === 'az-over-el' || kind === 'x-y'
        : path === 'mount.boresightOffsetDeg'
          ? kind === 'az-over-el'
          : path.endsWith('.stepDeg')
            ? texts[path.replace('stepDeg', 'readout.type')] === 'degrees'
            : true
  return [
    ...PLAIN.filter(has).map(same),
    ...AXES.flatMap(axis =>
      askedNumbers(texts[`mount.${axis}.readout.type`]).map(name => same(`mount.${axis}.readout.${name}`)),
    ),
    ...LISTS.flatMap(list =>
      rows[list].flatMap(row =>
        ROW_NUMBERS[list].map(name => ({
          path: `${list}.${row.key}.${name}`,
          source: row.at === null ? '' : `${list}.${row.at}.${name}`,
        })),
      ),
    ),
  ]
}

// Rows by their number: `at` knows no lists.
function sourceValue(before: StationRecord | null, source: string): unknown {
  if (before === null || source === '') return undefined
  const row = /^(feeds|horizonMask|priors)\.(\d+)\.(.+)$/.exec(source)
  return row ? at(before[row[1] as FormList]?.[Number(row[2])], row[3]!) : at(before, source)
}

export interface Read {
  /** The station as far as it is written; valid only if there are no faults. */
  candidate: StationRecord
  /** What is wrong at a field, by the field's path, in a sentence. */
  atField: Readonly<Record<string, string>>
  /** What is wrong elsewhere in the station, say with a sighting that needs a deleted feed. */
  elsewhere: readonly Fault[]
}

/**
 * The record that a form says.
 *
 * @param before  the station as it is in the book, with its lists; null for a new one
 * @param id      of the station
 */
export function readStationForm(form: StationForm, before: StationRecord | null, id: string): Read {
  const { texts, rows } = form
  const atField: Record<string, string> = {}
  const record = (
    before ? structuredClone(before) : { id, name: '', site: {}, dish: {}, feeds: [], mount: {} }
  ) as Loose
  const text = (path: string) => texts[path] ?? ''

  record.name = text('name')
  if (text('name').trim() === '') atField.name = FORM_WORDS.nameless
  if (text('notes') !== '') record.notes = text('notes')
  else delete record.notes

  if (text('mount.kind') === '') atField['mount.kind'] = FORM_WORDS.choose
  if (before !== null && before.mount.kind !== text('mount.kind'))
    for (const path of ['mount.lower.drive', 'mount.upper.drive', 'stow']) put(record, path, undefined)
  put(record, 'mount.kind', text('mount.kind'))
  // Older books lack the key: it is written only where it was before, or where the feed is offset.
  if (text('dish.fed') === 'offset' || before?.dish.fed !== undefined) put(record, 'dish.fed', text('dish.fed'))
  for (const axis of AXES) {
    const path = `mount.${axis}.readout`
    const type = text(`${path}.type`) || 'degrees'
    // Speeds and the stow position are in readings: with another kind of readout they mean nothing.
    if (at(record, `${path}.type`) !== type) {
      put(record, path, { type })
      put(record, `mount.${axis}.drive`, undefined)
      put(record, `mount.${axis}.stepDeg`, undefined)
      put(record, 'stow', undefined)
    }
    if (type !== 'jack') continue
    if (text(`${path}.direction`) === '') atField[`${path}.direction`] = FORM_WORDS.choose
    else put(record, `${path}.direction`, text(`${path}.direction`) === '-1' ? -1 : 1)
  }

  const toRow = new Map<string, string>()
  for (const list of LISTS) {
    if (rows[list].length === 0 && before?.[list] === undefined && list !== 'feeds') continue
    record[list] = rows[list].map((row, index) => {
      toRow.set(`${list}[${index}]`, `${list}.${row.key}`)
      const old = row.at === null ? undefined : before?.[list]?.[row.at]
      return rowFrom(form, list, row, (old ? structuredClone(old) : {}) as Loose)
    })
  }
  if (rows.feeds.length === 0) atField.feeds = FORM_WORDS.noFeed

  const index = new Map(LISTS.flatMap(list => rows[list].map((row, i) => [row.key, i] as const)))
  for (const { path, source } of numberPaths(form)) {
    const value = numberAt(form, path, sourceValue(before, source), atField)
    const row = /^(feeds|horizonMask|priors)\.([^.]+)\.(.+)$/.exec(path)
    if (row) put((record[row[1]!] as Loose[])[index.get(row[2]!)!]!, row[3]!, value)
    else put(record, path, value)
  }
  for (const part of ['tolerance', 'site.air'])
    if (isLoose(at(record, part)) && Object.keys(at(record, part) as Loose).length === 0) put(record, part, undefined)
  ratioFromDepth(form, record, atField)
  fillGuesses(
    form,
    record,
    before === null ? null : { station: before, texts: formFrom(before, form.inch).texts },
    atField,
  )
  record.sightings ??= []
  for (const axis of AXES) {
    const [min, max] = [at(record, `mount.${axis}.minReading`), at(record, `mount.${axis}.maxReading`)]
    if (typeof min === 'number' && typeof max === 'number' && min >= max)
      atField[`mount.${axis}.maxReading`] = FORM_WORDS.order
  }

  const elsewhere: Fault[] = []
  if (Object.keys(atField).length === 0) {
    const book = { format: 'moonplumb-fieldbook', version: 1, exportedUtc: '1970-01-01T00:00:00Z', stations: [record] }
    for (const fault of checkFieldBook(book)) {
      const path = fieldOf(fault.path, toRow)
      if (stepOf(path) === null) elsewhere.push(fault)
      else atField[path] ??= fault.rule
    }
  }
  return { candidate: record as unknown as StationRecord, atField, elsewhere }
}

/** The form's field from a fault's path: `stations[0].feeds[1].name` is "feeds.k3.name". */
function fieldOf(path: string, toRow: ReadonlyMap<string, string>): string {
  const own = path.replace(/^stations\[0\]\.?/, '')
  const row = /^(\w+\[\d+\])(.*)$/.exec(own)
  const named = row && toRow.get(row[1]!)
  return named ? named + row[2]! : own
}

/** Null for a text that is no number yet; the reason is then in `atField`. */
function numberAt(
  form: StationForm,
  path: string,
  before: unknown,
  atField: Record<string, string>,
): number | undefined {
  const spec = specOf(form, path)
  const text = form.texts[path] ?? ''
  // Not touched: the same number to its last bit, whatever the text shows of it.
  if (typeof before === 'number' && writtenText(form, spec, before) === text) return before
  const parsed = parseNumber(text, spec.kind)
  if (parsed.kind === 'value') return recordValue(form, spec, parsed.value)
  if (parsed.kind !== 'empty') atField[path] = parsed.why
  else if (!OPTIONAL.test(path) && !isGuessable(path)) atField[path] = FORM_WORDS.missing
  return undefined
}

function rowFrom(form: StationForm, list: FormList, row: FormRow, body: Loose): Loose {
  const text = (name: string) => form.texts[`${list}.${row.key}.${name}`] ?? ''
  if (list === 'feeds') {
    body.id ??= text('id')
    body.name = text('name').trim() === '' ? feedName(form, row.key) : text('name')
    if (text('hearsMoonEchoes') === 'yes') body.hearsMoonEchoes = true
    else if (body.hearsMoonEchoes !== undefined) body.hearsMoonEchoes = false
  }
  if (list === 'priors') {
    if (body.id === undefined) body.id = text('id')
    if (text('measured') === 'yes') body.measured = true
    else if (body.measured !== undefined) body.measured = false
  }
  return body
}

/** "23 cm feed": the name of a feed that was given none. */
function feedName(form: StationForm, key: string): string {
  const path = `feeds.${key}.frequencyMHz`
  const parsed = parseNumber(form.texts[path] ?? '', specOf(form, path).kind)
  if (parsed.kind !== 'value') return 'Feed'
  return `${bandName(parsed.value) ?? `${parsed.value} MHz`} feed`
}

/** Four digits: a depth is taped to a millimetre or two. */
function ratioFromDepth(form: StationForm, record: Loose, atField: Record<string, string>): void {
  if (form.texts['dish.by'] !== 'depth') return
  const depth = numberAt(form, 'dish.depth', undefined, atField)
  const diameter = at(record, 'dish.diameterM')
  if (depth === undefined || typeof diameter !== 'number') return
  if (!(depth > 0)) {
    atField['dish.depth'] = FORM_WORDS.above0
    return
  }
  const ratio = Number(focalRatioFromDepth(1000 * diameter, depth).toFixed(4))
  put(record, 'dish.focalRatio', ratio)
  const [least, most] = RANGES.focalRatio
  if (ratio < least || ratio > most)
    atField['dish.depth'] = `Diameter and depth make a focal ratio of ${ratio}; it should be from ${least} to ${most}.`
}

/** With one field written. */
export const withText = (form: StationForm, path: string, text: string): StationForm => ({
  ...form,
  texts: { ...form.texts, [path]: text },
})

/** With one more row, filled as given. */
export function withRow(form: StationForm, list: FormList, texts: Readonly<Record<string, string>>): StationForm {
  const key = `k${form.next}`
  const own = Object.fromEntries(Object.entries(texts).map(([name, text]) => [`${list}.${key}.${name}`, text]))
  return {
    ...form,
    texts: { ...form.texts, ...own },
    rows: { ...form.rows, [list]: [...form.rows[list], { key, at: null }] },
    next: form.next + 1,
  }
}

export const withoutRow = (form: StationForm, list: FormList, key: string): StationForm => ({
  ...form,
  rows: { ...form.rows, [list]: form.rows[list].filter(row => row.key !== key) },
})

/** The first short id that no feed has or had in this form: a, b, c, … Sightings of a deleted feed stay its own. */
export function freeFeedId(form: StationForm): string {
  const taken = new Set(
    Object.keys(form.texts).flatMap(path => (/^feeds\..*\.id$/.test(path) ? [form.texts[path]] : [])),
  )
  for (let n = 0; ; n++) {
    const id = n < 26 ? String.fromCharCode(97 + n) : `feed-${n + 1}`
    if (!taken.has(id)) return id
  }
}
