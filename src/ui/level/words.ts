/** Words of the place "Level": its screens and its levels. Those of marks and changes are in change.ts. */
import { isLevelFitted, type LevelWhat } from '../../core/level/kinds.ts'
import type { Axis, MountRecord } from '../../core/records/fieldbook.ts'
import { degrees, fixed, NBSP, utcAndLocal, utcDate } from '../kit/format.ts'
import { axisName, readingDecimals, readingUnit } from '../kit/phrases.ts'
import type { NotYet } from './form.ts'

export const LEVEL = {
  discard: 'Discard what I typed',
  noStation: 'There is no station yet. Make one, then measure its mount.',
  makeStation: 'Make a station',
  nothing: 'Nothing measured by gravity yet.',
  nothingWhy:
    'A level or two before the first sighting brings the mount within a degree. A mark read now shows later whether a counter has slipped.',
  measure: 'Measure a level',
  readMark: 'Read a mark',
  noteChange: 'Note a change',
  entries: 'So far, newest first',
  which: 'Which level?',
  gone: 'This record is not in the book any more.',
  back: 'Back to the list',
  undo: (what: string) => `Undo: ${what}`,
  overtaken: 'Another tab has changed this since, so nothing was undone.',
  keepLevel: 'Keep this level',
  keepMark: 'Keep this reading',
  keepChange: 'Note this change',
  edit: 'Change what it says',
  remove: 'Take it out',
  kept: 'Kept in the book',
  note: 'Note',
  mayStayEmpty: 'May stay empty.',
  when: 'When',
  how: 'How do you measure?',
  once: 'One reading',
  turned: 'Two, turned about',
  onceNote: 'the instrument’s own error stays in',
  turnedNote: 'takes the instrument’s own error out',
  mastHow: 'Three or more readings round the mast.',
  reading: 'It shows',
  sigma: 'How sure, ±',
  shows: 'What can the instrument show?',
  quarter: 'Up to 90°',
  quarterNote: 'with a sign or an arrow',
  circle: 'The full circle',
  circleNote: '0 to 360° or ±180°',
  first: 'First reading',
  second: 'Second reading, turned about',
  circleHint: 'As the instrument shows it.',
  sameEnd: 'The sign of the same end of the line, not of the instrument.',
  result: 'Comes to',
  notYet: 'Not yet',
  roughWill: 'Within 10° will do.',
  faceUp: 'face up',
  faceDown: 'face down',
  turnWords:
    'First along the line, its end A to the right, face up. Then turned over end over end: A to the left, face down. One that stands on its edge goes upside down instead, face the same way.',
  markFiner: 'How well the mark can be met',
  finer: 'How fine the instrument is',
  step: 'Smallest step it shows',
  noise: 'Readings scatter by, when it is put down again',
  usual: (deg: string) => `May stay empty: then ${deg}.`,
  sits: 'How does the instrument sit?',
  sitsOnce: 'Put on for this reading',
  sitsNew: 'Clamped for several readings',
  sitsSame: (when: string) => `Still clamped as at ${when}`,
  sitsHint:
    'Readings of one clamping share what the instrument is off by; the solution finds it, and their differences count.',
  instrument: 'Instrument',
  own: 'The instrument’s own error',
  shown: 'As it was shown',
  heading: (n: number) => `Side ${n}: its heading from true north`,
  aroundReading: (n: number) => `Reading ${n}`,
  aroundHint: '+ when the top leans that way.',
  more: 'One more heading',
  fewer: 'One less',
  oldLean: 'The lean as it is in the book',
  markAxis: 'Which axis?',
  mark: 'Which mark?',
  otherMark: 'Another mark',
  markName: 'Name of the mark',
  markNameHint: 'An end stop, or a line scribed across the joint: “inner stop”.',
  visit: 'When in the visit?',
  visitStart: 'At the start',
  visitEnd: 'At the end',
  visitBetween: 'In between',
  markSigma: 'The mark can be met within ±',
  markSigmaHint: 'May stay empty: then ± 0.1°.',
  closeRun: 'Before you leave, drive back to this mark and read it again: that closes the run.',
  runOpen: 'The run is open',
  closeIt: 'Close the run at the mark',
  runClosed: 'The run is closed: what was read in between hangs on a counter that lost nothing.',
  moved: 'What moved?',
  movedHint: 'Several may be picked.',
  carries: 'What carries over',
  changeHow: 'Everything else carries on: nothing measured is lost.',
  later: (sightings: string) =>
    `${sightings} already in the book lie after this time and will count for the new setup.`,
  before: (what: string) => `Before: ${what}.`,
  after: (what: string) => `Expected after it: ${what}.`,
  dropExpected: 'Expect nothing',
  byHowMuch: 'If you know by how much',
  by: 'By',
  give: 'Give or take',
  computingBefore: 'Computing where it stood before…',
  noBefore: 'Where it stood before could not be computed: leave the amount empty, the sightings will find it.',
  expected: 'Expected after it',
  setupSince: 'The setup since',
  markDiffers:
    'The mark ties what came before to what comes after. Note the change at the moment when it slipped, if you know it; else at this reading.',
} as const

/** What was done, for the undo button. */
export const DONE_WORDS = {
  level: 'keep a level',
  reference: 'keep the reading of a mark',
  change: 'note a change',
} as const
export const TAKEN_WORDS = {
  level: 'take out a level',
  reference: 'take out the reading of a mark',
  change: 'take out a change',
} as const
export const INSTRUMENT_STEPS = {
  keep: 'keep an instrument',
  bias: 'keep an instrument’s own error',
  remove: 'take out an instrument',
} as const
/** Steps of this place that write something else than its own records. */
export const OTHER_STEPS = {
  calibration: 'put a calibration into the station',
  clock: 'keep a clock check',
  clockBack: 'count earlier sightings with a clock check',
  clockTaken: 'take out a clock check',
  heading: 'put a rough heading into the station',
} as const
const OWN_STEPS: ReadonlySet<string> = new Set([
  ...Object.values(DONE_WORDS),
  ...Object.values(TAKEN_WORDS),
  ...Object.values(OTHER_STEPS),
  ...Object.values(INSTRUMENT_STEPS),
])
/** True where the step was made in this place: only those are undone from here. */
export const isLevelStep = (what: string): boolean => OWN_STEPS.has(what)

export const NOT_YET: Readonly<Record<NotYet, string>> = {
  time: 'The time is missing.',
  lower: 'A reading of the mount is missing.',
  upper: 'A reading of the mount is missing.',
  value: 'What the instrument shows is missing.',
  sigma: 'How sure you are cannot be read yet.',
  readings: 'Both readings are needed.',
  reversal: 'These two readings are no reversal yet.',
  around: 'Three headings with readings are needed, spread round the mast.',
  step: 'How fine the instrument is cannot be read yet.',
  mark: 'The mark has no name yet.',
  reading: 'The reading is missing.',
  what: 'Pick what moved.',
  moved: 'The amount is not whole yet.',
  swing: 'The positions do not give an elevation yet.',
  'no-kind': 'This mount has no level of this kind: what it says stands above, and nothing is kept.',
}

/** Cautions stand where the act is. */
export const CAUTIONS = {
  axis: 'Switch the jacks’ supply off before hands go near: a jack can start by itself. Stay on the ground.',
  dish: 'Switch the jacks’ supply off before you reach into the dish, and never stand under it. Wind moves the reading: wait for a lull.',
  mast: 'Measure as high as you reach from the ground. Never climb a mast on a loose foundation, and not alone.',
  mark: 'Drive slowly onto a stop, and keep hands out of the jack’s clevis.',
  unpinned:
    'A dish whose jack is unpinned or whose clamp is loose falls. Prop or tie it first, supply off, not in wind, not alone.',
} as const

const WINDS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'] as const
/** "south-west" */
export const windOf = (azDeg: number): string => WINDS[(((Math.round(azDeg / 45) % 8) + 8) % 8) as 0]!

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
/** "24 Oct 2026, 10:30 UTC" */
export const whenWords = (utc: string): string => {
  const ms = Date.parse(utc)
  return `${utcDate(ms)}, ${utcAndLocal(ms)}`
}
/** "swing 410 counts", "tilt 30.0°" */
export const readingWords = (mount: MountRecord, axis: Axis, reading: number): string => {
  const decimals = Number.isInteger(reading) ? 0 : readingDecimals(mount, axis) || 1
  const isDegrees = readingUnit(mount, axis) === 'degrees'
  return `${axisName(mount, axis)} ${isDegrees ? degrees(reading, decimals) : `${fixed(reading, decimals)}${NBSP}counts`}`
}
export const listed = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`

/** What each level is called on this mount. */
export function levelName(mount: MountRecord, what: LevelWhat): string {
  const [lower, upper] = [axisName(mount, 'lower'), axisName(mount, 'upper')]
  switch (what) {
    case 'lower-axis-elevation':
      return mount.kind === 'az-over-el'
        ? `The ${lower} axis: right-hand end against left-hand`
        : mount.kind === 'x-y'
          ? `The ${lower} axis: forward end against rear end`
          : 'The polar axis: how high its upper end points'
    case 'upper-axis-elevation':
      return mount.kind === 'el-over-az'
        ? `The ${upper} axis at a given azimuth: how far from level`
        : `The ${upper} axis at a given ${lower}`
    case 'mast-lean':
      return mount.kind === 'el-over-az' ? 'The azimuth axis: which way it leans' : 'The mast’s lean'
    case 'dish-elevation':
      return 'The dish’s elevation at known readings'
  }
}

/** One line on what it tells. */
export function levelWhy(mount: MountRecord, what: LevelWhat): string {
  switch (what) {
    case 'lower-axis-elevation':
      return mount.kind === 'ha-dec' ? 'Sets the latitude of the mount.' : 'Tells the level straight away.'
    case 'upper-axis-elevation':
      return `Ties the ${axisName(mount, 'lower')} readout to gravity.`
    case 'mast-lean':
      return isLevelFitted(mount.kind, what)
        ? 'Tells which side to shim.'
        : 'Kept and shown; the solution does not use it.'
    case 'dish-elevation':
      return 'Ties both readouts to gravity before any sighting.'
  }
}

/** How the instrument is laid on, and what + means. */
export function levelHow(mount: MountRecord, what: LevelWhat): { lay: string; plus: string } {
  switch (what) {
    case 'lower-axis-elevation':
      return mount.kind === 'ha-dec'
        ? { lay: 'Lay the instrument along the polar axis.', plus: 'The angle of its upper end above level.' }
        : {
            lay: `Lay the instrument along the ${axisName(mount, 'lower')} axis, seen from behind the dish.`,
            plus: `+ when the ${mount.kind === 'x-y' ? 'forward' : 'right-hand'} end is up, − when it is down.`,
          }
    case 'upper-axis-elevation':
      return {
        lay: `Lay the instrument along the ${axisName(mount, 'upper')} axis and note where the ${axisName(mount, 'lower')} stands.`,
        plus: 'The angle of the end that points up, so never below 0.',
      }
    case 'mast-lean':
      return {
        lay: 'Hold the instrument upright against the mast, each time on another side, always the same way round to you.',
        plus: 'The heading is the side of the mast that you hold it to: north 0, east 90. + when the top leans to that side.',
      }
    case 'dish-elevation':
      return {
        lay: 'Lay the instrument on the dish along its own axis, or across the rim from top to bottom and count from there.',
        plus: '+ when the dish looks above level.',
      }
  }
}
