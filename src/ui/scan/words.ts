/** Words of drift scan and cross scan: where to park, what to set, what the levels say, and what harms. */
import type { Axis, MountRecord, Side, TargetRecord } from '../../core/records/fieldbook.ts'
import {
  countOf,
  duration,
  fixed,
  type LengthUnit,
  measuredLength,
  NBSP,
  safeText,
  utcAndLocal,
  utcTime,
} from '../kit/format.ts'
import { axisName, capital, keptReading, theTarget } from '../kit/phrases.ts'
import type { ScanNotYet } from './form.ts'

export const DRIFT = {
  title: 'Drift scan',
  why: 'Park the dish ahead of the Sun and leave it: the Sun drifts through the beam by itself. The moment of the peak is ten times sharper than a peak found by ear, and no axis needs to move.',
  none: 'No drift scan yet.',
  list: 'So far, newest first',
  begin: 'Begin a drift scan',
  back: 'All drift scans',
  toSight: 'Back to the sightings',
  park: 'Park the dish here',
  asking: 'Working out where to park…',
  noPlan: (target: TargetRecord) =>
    target.type === 'geostationary' || target.type === 'landmark'
      ? 'This target does not move, so nothing drifts. Step across it instead.'
      : `${capital(theTarget(target))} does not come within reach of this mount at that time.`,
  failed: (why: string) => `This could not be worked out: ${safeText(why)}`,
  beyond: 'This lies beyond a stop or below the horizon kept free. Choose another time.',
  passes: (peakMs: number) => `It should peak at ${utcAndLocal(peakMs, 'second')}.`,
  listen: (fromMs: number, toMs: number, widthMs: number) =>
    `Listen from ${utcTime(fromMs, 'minute')} to ${utcTime(toMs, 'minute')}${NBSP}UTC. At half power it takes ${duration(widthMs)}; levels from before and after belong to it.`,
  late: 'It is passing already. Choose a later time.',
  sooner: (min: number) => `${min}${NBSP}min sooner`,
  later: (min: number) => `${min}${NBSP}min later`,
  anew: 'As soon as possible',
  feed: 'Through which feed',
  how: 'How the levels come',
  hows: {
    typed: { word: 'I type them', note: 'One at a time; each gets its time when you press.' },
    tapped: { word: 'I tap', note: 'No figures: the same level again, or the peak.' },
    pasted: { word: 'From a receiver’s log', note: 'Lines with time and level, pasted or from a file.' },
  },
  scale: 'The levels are',
  scales: { dB: 'dB', linear: 'Linear power' },
  scaleNote: 'Watts, or a square-law detector, in any unit. Not volts, not S-units.',
  shows: 'What the dish shows now',
  asPlanned: (value: string) => `As planned: ${value}`,
  start: 'It is parked: start',
  keepLog: 'Keep these levels',
  text: 'The log',
  textHint: 'A line each: time, level. "10:00:05, 3.2", or seconds from the start; all UTC.',
  file: 'Or choose a file',
  reading: 'The log is being read.',
  moreBad: (n: number) => `And ${countOf(n, 'more line')} like them.`,
  startUtc: 'The log begins at',
  startHint: 'UTC. Needed for seconds, and for the day of times without a date.',
  more: 'Side of arrival, note',
  note: 'Note',
  level: (dB: boolean) => (dB ? 'Level, dB' : 'Level'),
  stamp: 'Stamp this level',
  stampNot: 'Type the level first; its time is taken when you press.',
  last: (level: string, time: string) => `${level} at ${time}${NBSP}UTC.`,
  nothing: 'No level yet.',
  expects: 'Peak expected',
  done: 'See what it says',
  goOn: 'Go on listening',
  in: (ms: number) => (ms >= 0 ? `in ${duration(ms)}` : `${duration(ms)} ago`),
  keepOn:
    'The screen may go dark by itself here: touch it now and then, or set it to stay on. Times are kept either way.',
  wake: 'The screen stays on while this runs. Do not disturb, and a power bank, help.',
  gap: (fromMs: number, toMs: number) =>
    `The page was away from ${utcTime(fromMs)} to ${utcTime(toMs)}${NBSP}UTC, ${duration(toMs - fromMs)}. Nothing was heard then: it is marked as a gap, and the fit does without. Go on.`,
  gapWord: 'Back again',
  makeSighting: 'Make a sighting of it',
  renewSighting: 'Bring its sighting up to date',
  seeSighting: 'See its sighting',
  remove: 'Delete this scan',
  removeNote: 'A sighting made from it stays.',
  gone: 'This scan is not in the book any more.',
  levels: 'The levels',
  leaveOut: 'Leave out',
  takeIn: 'Count it again',
  width: 'Width of the peak',
  widths: { free: 'As the levels have it', known: 'As this beam should be' },
  centre: 'How loud it is in the beam’s centre',
  centreWhy:
    'If you know how far the target rises over the sky when the beam is right on it, say from a noise record of the same day, the height of this peak tells how far beside it passed.',
  rise: 'It rises by',
  riseHint: 'dB over the sky, the beam on it.',
  sigma: 'Give or take',
  sigmaHint: 'Empty: 0.1 dB.',
  useCentre: 'Count with it',
  dropCentre: 'Count without it',
  facts: 'In numbers',
  plot: 'Level against time',
} as const

export const CROSS = {
  title: 'Cross scan',
  why: 'Set one axis in steps of half a beamwidth across the target, then the other, and note the level at each. Out come both coordinates of the peak at once, far sharper than a peak found by ear.',
  none: 'No cross scan yet.',
  list: 'So far, newest first',
  begin: 'Begin a cross scan',
  back: 'All cross scans',
  axes: 'Which axes',
  bothAxes: 'Both',
  points: 'Readings on each axis',
  from: 'Arrive at each reading',
  fromNote: 'Always from one side, so that play in the gears does no harm.',
  sides: { '+': 'with the reading going up', '-': 'with the reading going down' } as Record<Side, string>,
  both: 'Then from the other side too',
  boths: { once: 'No', both: 'Yes: shows the lost motion' },
  start: 'Begin',
  useless: (axis: string) =>
    `Turning ${axis} hardly moves the beam here: the dish looks along it. Scan the other axis, or wait until the target stands elsewhere.`,
  noAxis: 'Neither axis moves the beam here. Wait until the target stands elsewhere.',
  noPlan: (target: TargetRecord) => `${capital(theTarget(target))} is out of reach of this mount now.`,
  someBeyond: 'Some of these readings lie beyond a stop or below the horizon: those are left out as you come to them.',
  steps: (axis: string, reading: string, sky: string) => `Steps of ${reading} in ${axis}: ${sky} on the sky.`,
  set: (axis: string) => `Set ${axis} to`,
  step: (k: number, n: number, side: Side) =>
    `${k} of ${n}, arriving ${side === '+' ? 'with the reading going up' : 'with the reading going down'}.`,
  approach: (axis: string, reading: string, side: Side) =>
    `First drive ${axis} back to ${reading}, then come ${side === '+' ? 'up' : 'down'} to:`,
  hold: (axis: string, reading: string) => `Leave ${axis} at ${reading}.`,
  also: (axis: string, reading: string) => `Set ${axis} to ${reading} first.`,
  beyond: 'This reading lies beyond the stop. Leave it out.',
  skip: 'Leave this one',
  back1: 'One back',
  other: 'It shows something else',
  otherHint: (reading: string) => `Empty: ${reading}, as set.`,
  stamp: 'Stamp this level',
  done: 'See what it says',
  all: 'All readings are in.',
  goOn: 'Go on',
  plot: (axis: string) => `Level along ${axis}`,
} as const

export const TAP = {
  how: 'While it rises, press whenever the needle passes a place that you will find again. When it falls, press at the same places; what rose last falls first.',
  rising: 'It rises: mark this level',
  same: 'The same level again',
  peak: 'Peak now',
  missed: 'I missed that one',
  next: (time: string) => `Next: the level of ${time}${NBSP}UTC, falling.`,
  waiting: (n: number) => `${countOf(n, 'level')} marked while rising.`,
  none: 'Nothing marked yet.',
  pairs: (n: number) => `${countOf(n, 'pair')} of equal levels.`,
  marks: { rising: 'rising', same: 'same level, falling', missed: 'missed', peak: 'peak' },
} as const

export const EQUAL = {
  how: 'How',
  hows: {
    steps: { word: 'Step by step', note: 'A level at every reading; the sharpest, and it shows the width.' },
    equal: { word: 'Two equal levels', note: 'The quick way: the middle between two readings of one level.' },
  },
  first: (axis: string) =>
    `Drive ${axis} off the peak until the level has fallen 1 to 3${NBSP}dB. Keep that level in mind.`,
  second: (axis: string) => `Drive ${axis} over the peak, down to the very same level on the other side.`,
  arrive: 'Come to it from the same side as before: go past, and come back.',
  shows: (axis: string) => `${axis} shows`,
  stands: (axis: string) => `${axis} stands at`,
  standsHint: 'It stays there for both sides.',
  stamp: (isSecond: boolean) => (isSecond ? 'The other side: take it' : 'One side: take it'),
  notNow: 'Enter both readings; the time is taken when you press.',
  pairs: (axis: string, n: number) => `${axis}: ${countOf(n, 'pair')}.`,
  axis: 'Which axis now',
} as const

/** Where the act is: sunlight with the figure for this dish, eyes, jacks. */
export const SCAN_CAUTION = {
  sun: (sun: { powerW: number; imageMm: number } | null, unit: LengthUnit) =>
    `Never look along the beam at the Sun.${
      sun === null
        ? ' Sunlight gathers at the feed:'
        : ` Bright, this dish gathers ${fixed(sun.powerW / 1000, 1)}${NBSP}kW of sunlight on a spot ${measuredLength(sun.imageMm, null, unit).text} wide at the feed:`
    } hands and face out of it, and turn the dish off the Sun when you are done.`,
  jacks: 'Transmitter off. Jacks move: hands clear.',
} as const

export const SCAN_NOT_YET: Readonly<Record<Exclude<ScanNotYet, Axis>, string>> = {
  plan: 'Wait until it is worked out where to park.',
  text: 'The log is missing.',
  reading: 'The log is being read.',
  'no-levels': 'No line of the log could be read.',
  start: 'Say when the log begins.',
}
export const notYetWords = (mount: MountRecord, why: ScanNotYet): string =>
  why === 'lower' || why === 'upper' ? `Enter what ${axisName(mount, why)} shows.` : SCAN_NOT_YET[why]

/** "12:04:10: 31.5°, 412 counts" */
export const settingWords = (mount: MountRecord, lower: number, upper: number): string =>
  `${keptReading(mount, 'lower', lower)}, ${keptReading(mount, 'upper', upper)}`
