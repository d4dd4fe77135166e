/** Words of drift scan and cross scan: where to park, what to set, what the levels say, and what harms. */
import type { Axis, MountRecord, Side, TargetRecord } from '../../core/records/fieldbook.ts'
import type { TargetNote } from '../../core/scan/whichtarget.ts'
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
  why: 'Park the dish ahead of the Sun and leave it: the Sun drifts through the beam by itself. The time of the peak is far sharper than a peak found by ear, and no axis has to move.',
  none: 'No drift scan yet.',
  list: 'Newest first',
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
  beyond:
    'At this time it is beyond a stop or below the minimum elevation: no readings to park at. Choose another time.',
  passes: (peakMs: number) => `It should peak at ${utcAndLocal(peakMs, 'second')}.`,
  listen: (fromMs: number, toMs: number, widthMs: number) =>
    `Listen from ${utcTime(fromMs, 'minute')} to ${utcTime(toMs, 'minute')}${NBSP}UTC. The half-power width takes ${duration(widthMs)}; readings before and after it are needed too.`,
  late: 'It is passing already. Choose a later time.',
  sooner: (min: number) => `${min}${NBSP}min sooner`,
  later: (min: number) => `${min}${NBSP}min later`,
  anew: 'As soon as possible',
  feed: 'Through which feed',
  how: 'How the readings come',
  hows: {
    typed: { word: 'I type them', note: 'One at a time; pressing marks its time.' },
    tapped: { word: 'I tap', note: 'No figures: the same strength again, or the peak.' },
    pasted: { word: 'From a receiver’s log', note: 'Lines with time and reading, pasted or from a file.' },
  },
  scale: 'The readings are in',
  scales: { dB: 'dB', linear: 'Linear power' },
  scaleNote: 'Watts, or a square-law detector, in any unit. Not volts, not S-units.',
  shows: 'What the dish shows now',
  asPlanned: (value: string) => `As planned: ${value}`,
  start: 'It is parked: start',
  keepLog: 'Keep these readings',
  text: 'The log',
  textHint: 'One line each: time, reading. "10:00:05, 3.2", or seconds from the start; all UTC.',
  file: 'Or choose a file',
  reading: 'The log is being read.',
  moreBad: (n: number) => `And ${countOf(n, 'more line')} like these.`,
  startUtc: 'The log begins at',
  startHint: 'UTC. Needed for seconds, and for the day of times without a date.',
  more: 'Side of arrival, note',
  note: 'Note',
  level: (dB: boolean) => (dB ? 'Signal, dB' : 'Signal reading'),
  stamp: 'Keep this reading',
  stampNot: 'Type the reading first; pressing marks its time.',
  last: (level: string, time: string) => `${level} at ${time}${NBSP}UTC.`,
  nothing: 'No reading yet.',
  expects: 'Peak expected',
  done: 'See what it says',
  goOn: 'Go on listening',
  in: (ms: number) => (ms >= 0 ? `in ${duration(ms)}` : `${duration(ms)} ago`),
  keepOn:
    'The screen may go dark by itself on this phone: touch it now and then, or set it to stay on. Times are kept either way.',
  wake: 'The screen stays on while this runs. Switch on “do not disturb”; a power bank helps.',
  gap: (fromMs: number, toMs: number) =>
    `The page was away from ${utcTime(fromMs)} to ${utcTime(toMs)}${NBSP}UTC, ${duration(toMs - fromMs)}. Nothing was recorded: it is marked as a gap, and the fit does without it. Go on.`,
  gapWord: 'Back again',
  makeSighting: 'Make a sighting of it',
  renewSighting: 'Update its sighting',
  seeSighting: 'See its sighting',
  remove: 'Delete this scan',
  removeNote: 'A sighting made from it stays.',
  gone: 'This scan is no longer in the book.',
  levels: 'Signal readings',
  leaveOut: 'Leave out',
  takeIn: 'Count it again',
  width: 'Width of the peak',
  widths: { free: 'As the readings show', known: 'As this beam should be' },
  centre: 'Strength in the centre of the beam',
  centreWhy:
    'If you know how strong the target is above cold sky with the beam right on it, say from a noise record of the same day, the height of this peak shows how far off centre it passed.',
  rise: 'Above cold sky by',
  riseHint: 'dB, with the beam right on it.',
  sigma: 'Uncertainty, ±',
  sigmaHint: 'Optional: 0.1 dB if left empty.',
  useCentre: 'Use it',
  dropCentre: 'Do not use it',
  plot: 'Signal against time',
} as const

export const CROSS = {
  title: 'Cross scan',
  why: 'Set one axis in steps of half a beamwidth across the target, then the other, and note the signal reading at each. That gives both coordinates of the peak at once, far sharper than a peak found by ear.',
  none: 'No cross scan yet.',
  list: 'Newest first',
  begin: 'Begin a cross scan',
  back: 'All cross scans',
  axes: 'Which axes',
  bothAxes: 'Both',
  points: 'Readings on each axis',
  from: 'Arrive at each reading',
  fromNote: 'Always from one side, so that play in screws and pins does no harm.',
  sides: { '+': 'with the reading going up', '-': 'with the reading going down' } as Record<Side, string>,
  both: 'Then from the other side too',
  boths: { once: 'No', both: 'Yes: shows lost motion' },
  start: 'Begin',
  useless: (axis: string) =>
    `Turning ${axis} hardly moves the beam here: the dish points along that axis. Scan the other axis, or wait until the target has moved.`,
  noAxis: 'Neither axis moves the beam here. Wait until the target has moved.',
  noPlan: (target: TargetRecord) => `${capital(theTarget(target))} is out of reach of this mount now.`,
  someBeyond: 'Some of these readings lie beyond a stop or below the horizon: leave those out when you come to them.',
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
  otherHint: (reading: string) => `Optional: ${reading}, as set, if left empty.`,
  stamp: 'Keep this reading',
  done: 'See what it says',
  all: 'All readings are in.',
  goOn: 'Go on',
  plot: (axis: string) => `Signal along ${axis}`,
} as const

export const TAP = {
  how: 'While it rises, press whenever the needle passes a point you will know again. When it falls, press at the same points; the last one up is the first one down.',
  rising: 'Rising: mark this point',
  same: 'The same point again',
  peak: 'Peak now',
  missed: 'I missed that one',
  next: (time: string) => `Next: the point of ${time}${NBSP}UTC, falling.`,
  waiting: (n: number) => `${countOf(n, 'point')} marked while rising.`,
  none: 'Nothing marked yet.',
  pairs: (n: number) => `${countOf(n, 'pair')} of equal readings.`,
  marks: { rising: 'rising', same: 'same point, falling', missed: 'missed', peak: 'peak' },
} as const

export const EQUAL = {
  how: 'How',
  hows: {
    steps: { word: 'Step by step', note: 'A signal reading at every step; the sharpest, and it shows the width.' },
    equal: { word: 'Two equal signals', note: 'The quick way: the middle between two settings with the same signal.' },
  },
  first: (axis: string) =>
    `Drive ${axis} off the peak until the signal has fallen 1 to 3${NBSP}dB. Remember that reading.`,
  second: (axis: string) => `Drive ${axis} over the peak, down to the same signal reading on the other side.`,
  arrive: 'Come to it from the same side as before: go past, and come back.',
  shows: (axis: string) => `${axis} shows`,
  stands: (axis: string) => `${axis} stands at`,
  standsHint: 'It stays there for both sides.',
  stamp: (isSecond: boolean) => (isSecond ? 'The other side: take it' : 'One side: take it'),
  notNow: 'Enter both readings; pressing marks the time.',
  pairs: (axis: string, n: number) => `${axis}: ${countOf(n, 'pair')}.`,
  axis: 'Which axis now',
} as const

/** Cautions where the act is: sunlight with the figure for this dish, eyes, jacks. */
export const SCAN_CAUTION = {
  sun: (sun: { powerW: number; imageMm: number } | null, unit: LengthUnit) =>
    `${
      sun === null
        ? 'Sunlight gathers at the feed:'
        : `This dish gathers up to ${fixed(sun.powerW / 1000, 1)}${NBSP}kW of sunlight on a spot ${measuredLength(sun.imageMm, null, unit).text} wide at the feed:`
    } hands and face out of it, and turn the dish off the Sun when you are done.`,
  gravest: 'Never look along the beam at the Sun.',
  jacks: 'Transmitter off. Jacks move: hands clear.',
} as const

const aboveCold = (db: number | null): string =>
  db === null ? 'not known' : `${fixed(db, db < 0.95 ? 2 : 1)}${NBSP}dB above cold sky`

/** Why this target, or what speaks against it. */
export function targetNoteWords(note: TargetNote): string {
  if (note.kind === 'neither')
    return `No scan of Sun or Moon will work with this feed: neither the Sun (expect ${aboveCold(note.sunDb)}) nor the Moon (expect ${aboveCold(note.moonDb)}) is strong enough.`
  const [weak, other] = note.of === 'moon' ? ['the Moon’s noise', 'the Sun'] : ['the Sun’s noise', 'the Moon']
  return note.kind === 'instead'
    ? `${capital(other)}, since ${weak} is too weak for a scan with this feed: expect ${aboveCold(note.db)}.`
    : `${capital(weak)} is too weak for a scan with this feed: expect ${aboveCold(note.db)}. Choose ${other}.`
}

const SCAN_NOT_YET: Readonly<Record<Exclude<ScanNotYet, Axis>, string>> = {
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
