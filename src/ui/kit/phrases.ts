/** Words that every screen shares. A sentence says what is so, and what to do about it. */
import { AXIS_NAMES } from '../../core/mount/names.ts'
import type { Axis, MountRecord, StationRecord, TargetRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { shownStep } from '../../core/records/shownstep.ts'
import { angleStyle, countOf, decimalsOf, degrees, fixed, NBSP, safeText, utcAndLocal, utcDate } from './format.ts'

export const APP = 'Moonplumb'

/** What an axis of this mount is called: "tilt", "swing". */
export const axisName = (mount: MountRecord, axis: Axis): string => AXIS_NAMES[mount.kind][axis]

/** "degrees" or "counts". */
export const readingUnit = (mount: MountRecord, axis: Axis): 'degrees' | 'counts' =>
  // Every kind but one counts; `READOUTS` of the core would bring the jack's triangle onto the first screen.
  mount[axis].readout.type === 'degrees' ? 'degrees' : 'counts'

/** Decimals of a reading of this axis, wherever it stands: those of the smallest step that it shows. 0.25° needs two, as 0.01° does. */
export const readingDecimals = (mount: MountRecord, axis: Axis): number => decimalsOf(shownStep(mount[axis]))

/** The decimals of a reading that was entered: those of the axis, or its own where it was entered finer. */
const keptDecimals = (mount: MountRecord, axis: Axis, value: number): number =>
  Math.max(readingDecimals(mount, axis), decimalsOf(value))

/** A reading to drive to, as a large number: "71.3°", or "412" with its unit. */
export const dialled = (mount: MountRecord, axis: Axis, value: number): { value: string; unit: string } =>
  readingUnit(mount, axis) === 'degrees'
    ? { value: degrees(value, readingDecimals(mount, axis)), unit: '' }
    : { value: fixed(value, readingDecimals(mount, axis)), unit: 'counts' }

/** A reading as it is kept: "118.0°", "34.57°", "412 counts". A number does not know that it was typed as 118.0: the axis does. */
export function keptReading(mount: MountRecord, axis: Axis, value: number): string {
  const digits = keptDecimals(mount, axis, value)
  if (readingUnit(mount, axis) === 'counts') return `${fixed(value, digits)}${NBSP}counts`
  // One decimal more leaves the minutes exact: 0.01° is 0.6′.
  return degrees(value, angleStyle() === 'decimal' ? digits : digits + 1)
}

export const MOUNT_WORDS = {
  'el-over-az': 'Azimuth and elevation',
  'ha-dec': 'Polar: hour angle and declination',
  'az-over-el': 'Tilt, then swing',
  'x-y': 'X and Y',
} as const

/** An angle with the digits that it has. */
const withDegrees = (deg: number): string =>
  angleStyle() === 'decimal' ? `${deg}°` : degrees(deg, Number.isInteger(deg) ? 0 : 3)

export function targetWords(target: TargetRecord): string {
  switch (target.type) {
    case 'moon':
      return 'Moon'
    case 'sun':
      return 'Sun'
    case 'source':
      return safeText(target.name)
    case 'geostationary':
      return `satellite at ${withDegrees(Math.abs(target.lonDeg))}${NBSP}${target.lonDeg < 0 ? 'W' : 'E'}`
    case 'landmark':
      return `landmark at ${withDegrees(target.azDeg)}`
  }
}

export const DEMO_MARK = 'Demo: invented, nothing here was measured.'

/** Shown before the clock, where the hour is not the phone's. */
export const DEMO_TIME = 'demo time'
export const REHEARSAL_TIME = 'rehearsal'

/** A demo station says so wherever it is shown. */
export const isDemo = (station: Pick<StationRecord, 'demo'> | null): boolean => station?.demo === true

/** A station whose records were not measured on a real dish: no backup, nothing for other phones, discarded with one tap. */
export const isInvented = (station: Pick<StationRecord, 'demo' | 'rehearsal'> | null): boolean =>
  station?.demo === true || station?.rehearsal === true

export const UPDATE = {
  there: 'A new version is ready',
  why: 'It is on the phone already, whole. The book stays as it is.',
  act: 'Change to the new version',
  later: 'A measurement is running: the new version waits until it is done.',
}

/** Shown where an update is offered, too. */
export const FELL_BACK = {
  what: 'The new version did not start; this is the last one that did. The book stays as it is.',
  act: 'Try the new version again',
  busy: 'Looking at its parts…',
}

export const LOADING = {
  book: 'Opening the book…',
  place: 'Opening…',
  lost: 'This part of the app did not load. The book is safe. Load the page again; if that does not help, do it where there is a network.',
  again: 'Load the page again',
  /** For when the longer text did not load either. */
  notKept: 'The database does not open. What you enter may be gone when this page closes: export a backup before that.',
}

/** A screen that cannot be shown: a mistake of the program, or a record that it does not understand. */
export const BROKEN = {
  what: 'This screen cannot be shown. The book is safe: go to another place, undo the last step, or save the book as a file.',
  save: 'Save the book as a file',
  saved: 'The file was handed to the browser: look among the downloads.',
  notSaved: 'The file could not be made. Nothing in the book was changed.',
  again: 'Show it again',
  details: (message: string) => `For anyone who helps you: ${safeText(message)}`,
} as const

/** The browser lost its database, and the second copy had everything. */
export const PUT_BACK = {
  word: 'The book was put back',
  what: 'The browser had lost its copy of the book, as can happen when it is stopped in the middle of writing. Everything was put back from the second copy on this phone.',
  toDo: 'Check that your last entry is there, then export a backup.',
  read: 'Show me the book',
}

export const EXPORT_BACKUP = 'Export a backup'

/** "7 records newer than your last backup of 27 Apr 2026" */
export const backupLine = (records: number, lastMs: number | null): string =>
  lastMs === null
    ? `No backup yet: ${countOf(records, 'record')} ${records === 1 ? 'is' : 'are'} only on this phone`
    : `${countOf(records, 'record')} newer than your last backup of ${utcDate(lastMs)}`

/** Why an undo did not happen; null where it did. */
export const notUndone = (undone: { kind: string; message?: string }, overtaken: string): string | null =>
  undone.kind === 'done' || undone.kind === 'nothing'
    ? null
    : undone.kind === 'overtaken'
      ? overtaken
      : undone.kind === 'refused'
        ? `This cannot be undone, because the field book would be invalid: ${undone.message ?? ''}.`
        : failureWords(undone)

/** Failures of the store, in a sentence each. */
export function failureWords(failure: { kind: string; message?: string }): string {
  switch (failure.kind) {
    case 'full':
      return 'The phone has no room left. What you wrote is still on this screen: make room, then press "Try again".'
    case 'blocked':
      return 'Another tab still holds an older version of the book. Close the other tabs of Moonplumb, then press "Try again".'
    case 'dropped':
      return 'The phone cut the connection to the book. What you wrote is still on this screen: press "Try again".'
    case 'newer-tab':
      return 'Moonplumb was updated in another tab, and this page can no longer write to the book. What you wrote is kept: press "Load this page again".'
    case 'overtaken':
      return 'This was changed in another tab since the form was opened. Nothing was written, and what you typed is still here.'
    case 'refused':
      return `Not written, because the field book would be invalid: ${failure.message ?? ''}.`
    default:
      return 'The browser does not let this page keep a book (a private window, or storage switched off). Press "Export a backup", then open Moonplumb in an ordinary window and import it there.'
  }
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

export const listed = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`

export const WINDS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'] as const

/** "south-west" */
export const windOf = (azDeg: number): string => WINDS[(((Math.round(azDeg / 45) % 8) + 8) % 8) as 0]!

/** "24 Oct 2026, 10:30 UTC" */
export const whenToMinute = (utc: string): string => {
  const ms = instantMs(utc)
  return `${utcDate(ms)}, ${utcAndLocal(ms)}`
}

/** "27 Apr 2026, 20:14:05 UTC (22:14 here)" */
export const whenToSecond = (utcMs: number): string => `${utcDate(utcMs)}, ${utcAndLocal(utcMs, 'second')}`

/** "the Moon", "Cygnus A", "the satellite at 13° E" */
export const theTarget = (target: TargetRecord): string =>
  target.type === 'source' ? targetWords(target) : `the ${targetWords(target)}`

export const UNDO = {
  letGo: 'Discard it',
  undo: (what: string) => `Undo: ${what}`,
  redo: (what: string) => `Redo: ${what}`,
  overtaken: 'Another tab has changed this since, so nothing was done.',
  done: { undo: 'Undone.', redo: 'Done again.' },
  discard: 'Discard what could not be kept',
} as const

/** "low in the west" */
export function placeWords(azDeg: number, elDeg: number): string {
  const height = elDeg < 25 ? 'low' : elDeg < 50 ? 'half-way up' : 'high'
  const sides = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'] as const
  return `${height} in the ${sides[Math.round(azDeg / 45) % 8]}`
}

export const SKY = {
  notReached:
    'The Moon does not come within the limits of this mount, as far as is known. Check limits and heading under Book.',
} as const
