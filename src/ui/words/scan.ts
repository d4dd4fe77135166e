/** Words of drift scan and cross scan: where to park, what to set, what the levels say, and what harms. */
import type { BadLine, Pasted, TimeKind } from '../../core/import/levels.ts'
import type { Axis, MountRecord, Side, TargetRecord } from '../../core/records/fieldbook.ts'
import type { CrossAnswerJson, CrossFitJson, DriftAnswerJson, DriftFitJson } from '../../state/scanasks.ts'
import {
  countOf,
  degrees,
  duration,
  fixed,
  type LengthUnit,
  measured,
  measuredLength,
  NBSP,
  RIGHT,
  safeText,
  toward,
  UP,
  utcAndLocal,
  utcTime,
} from '../format.ts'
import type { ScanNotYet } from '../scanform.ts'
import { axisName, keptReading } from './common.ts'
import { axisWord, readingText, theTarget } from './sight.ts'

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1)

export const DRIFT = {
  title: 'Drift scan',
  enter: 'Let it drift through',
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
  undo: (what: string) => `Undo: ${what}`,
  overtaken: 'Something else was written meanwhile; nothing was undone.',
  facts: 'In numbers',
  plot: 'Level against time',
} as const

export const CROSS = {
  title: 'Cross scan',
  enter: 'Step across',
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

/** What a person does, for the undo button. */
export const SCAN_STEPS = {
  begin: (what: 'drift' | 'cross') => `begin a ${what} scan`,
  log: 'keep a receiver’s log',
  level: (level: string) => `level ${level}`,
  gap: 'mark a gap',
  out: (level: string) => `leave out ${level}`,
  in: (level: string) => `count ${level} again`,
  remove: (what: 'drift' | 'cross') => `delete a ${what} scan`,
  sighting: (what: 'drift' | 'cross') => `sighting from a ${what} scan`,
} as const

/** True where what was done was noting a level. */
export const isLevelStep = (what: string): boolean => what.startsWith(SCAN_STEPS.level(''))

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

export const levelText = (scale: 'dB' | 'linear', level: number): string => {
  const digits = Math.min(4, (String(level).split('.')[1] ?? '').length)
  return scale === 'dB' ? `${fixed(level, digits)}${NBSP}dB` : fixed(level, digits)
}

export const SCAN_NOT_YET: Readonly<Record<Exclude<ScanNotYet, Axis>, string>> = {
  plan: 'Wait until it is worked out where to park.',
  text: 'The log is missing.',
  'no-levels': 'No line of the log could be read.',
  start: 'Say when the log begins.',
}
export const notYetWords = (mount: MountRecord, why: ScanNotYet): string =>
  why === 'lower' || why === 'upper' ? `Enter what ${axisName(mount, why)} shows.` : SCAN_NOT_YET[why]

const BAD: Readonly<Record<BadLine['why'], string>> = {
  'one-value': 'there is no level beside the time',
  'no-time': 'it does not begin with a time as the other lines do',
  'no-level': 'what follows the time is not a number',
  'not-later': 'its time is before that of the line above',
}
/** "Line 7 is left out: what follows the time is not a number. It says: 10:00:10,three" */
export const badLineWords = (bad: BadLine): string =>
  `Line ${bad.line} is left out: ${BAD[bad.why]}. It says: ${safeText(bad.text)}`

const TIMES: Readonly<Record<TimeKind, string>> = {
  instant: 'dates and times',
  'time-of-day': 'times of day',
  unix: 'seconds since 1970',
  seconds: 'seconds from the start',
}
export function pastedWords(p: Pasted): string {
  const [first, last] = [p.samples[0], p.samples.at(-1)]
  if (!first || !last || p.times === null)
    return 'No line could be read. A line is a time and a level: "10:00:05, 3.2".'
  return `${countOf(p.samples.length, 'level')} read, from ${utcTime(first.utcMs)} to ${utcTime(last.utcMs)}${NBSP}UTC; the times taken as ${TIMES[p.times]}.`
}

export interface Said {
  state: 'good' | 'look-out'
  strong: string
  more: string[]
}

const seconds = (s: number): string => (s < 9.95 ? `${fixed(s, 1)}${NBSP}s` : duration(1000 * s))
/** To the second: finer is below what a phone's clock knows. */
const peakWords = (f: DriftFitJson): string =>
  `${utcTime(1000 * Math.round(Date.parse(f.peakUtc) / 1000))} ± ${seconds(f.sigmaS)}`
const late = (f: DriftFitJson): string => {
  const s = (60 * f.missAlongDeg) / f.rateDegPerMin
  const by = `${seconds(Math.abs(s))} ${s < 0 ? 'sooner' : 'later'} than the book expects, ${degrees(Math.abs(f.missAlongDeg), 2)} on the sky`
  return Math.abs(s) < 2 * f.sigmaS ? 'It came when the book expects it.' : `It came ${by}.`
}

/** What a drift scan says so far. @param levels  how many are counted */
export function driftSays(a: DriftAnswerJson): Said {
  const out = (strong: string, more: string[] = []): Said => ({ state: 'look-out', strong, more })
  switch (a.kind) {
    case 'too-few':
      return out(
        `${countOf(a.samples, 'level')} so far; ${a.needed} make a fit.`,
        a.samples === 0 ? [] : ['Some before the peak, some on it, some after.'],
      )
    case 'no-peak':
      return out('No peak yet: nothing rises above the rest by more than its own scatter.')
    case 'outside':
      return out(
        a.toward === 'last'
          ? 'It still rises: the peak comes after the last level.'
          : 'It only falls: the peak was before the first level.',
        a.toward === 'last' ? ['Go on listening.'] : ['Park farther ahead next time.'],
      )
    case 'no-drift':
      return out('This target does not move through the dish: nothing drifts.')
    case 'no-pose':
      return out('At these readings a jack’s triangle does not close. Look at the readings of this scan.')
    case 'peak': {
      const faults = driftFaults(a)
      return {
        state: faults.length > 0 ? 'look-out' : 'good',
        strong: `Peak at ${peakWords(a)}.`,
        more: [late(a), ...faults],
      }
    }
  }
}

function driftFaults(f: DriftFitJson): string[] {
  const faults: string[] = []
  if (f.isWeak)
    faults.push('The peak is weak: noise alone could look like it. Take a longer mean at each level, or do it again.')
  if (f.isClipped)
    faults.push(
      'The top is cut off: the receiver was at its end. Those levels are left out; turn the gain down next time.',
    )
  if (f.isAtEdge) faults.push('The peak lies at the end of the scan: one flank is missing, and the time is less sure.')
  if (f.isWidthOdd) faults.push(oddWidth(f.widthDeg, f.expectedWidthDeg))
  if (f.isShaped)
    faults.push(
      'The skirts are not those of one beam (side lobes, or the ground): the time is from the levels near the peak.',
    )
  if (f.spikes.length > 0)
    faults.push(
      `${countOf(f.spikes.length, 'level')} ${f.spikes.length === 1 ? 'stands' : 'stand'} far off the curve and ${f.spikes.length === 1 ? 'is' : 'are'} not counted.`,
    )
  return faults
}

const oddWidth = (is: number, should: number): string =>
  `The peak is ${fixed(is / should, 2)} times as wide as this beam should make it. Look whether the levels are dB or linear, whether the gain was fixed, and how the feed is focused.`

export interface FactRow {
  label: string
  value: string
  note?: string
}

export function driftRows(f: DriftFitJson): FactRow[] {
  const way = [
    Math.abs(f.alongRight) > 0.38 ? (f.alongRight > 0 ? 'right' : 'left') : '',
    Math.abs(f.alongUp) > 0.38 ? (f.alongUp > 0 ? 'up' : 'down') : '',
  ]
  return [
    { label: 'Peak', value: peakWords(f) },
    {
      label: 'Width at half power',
      value: measured(f.widthDeg, f.sigmaWidthDeg, '°', 2).text,
      note: `This beam should make it ${degrees(f.expectedWidthDeg, 2)}.`,
    },
    ...(f.riseDb === null ? [] : [{ label: 'Peak over the sky', value: `${fixed(f.riseDb, 2)}${NBSP}dB` }]),
    {
      label: 'Sure along the drift',
      value: `± ${degrees(f.sigmaAlongDeg, 3)}`,
      note: `It runs ${way.filter(Boolean).join(' and ')} through the dish, seen from behind, the UP mark on top.`,
    },
    {
      label: 'Sure across it',
      value: `± ${degrees(f.sigmaAcrossDeg, 1)}`,
      note: 'A drift says when, not how far beside. Another one with the Sun elsewhere, or a cross scan, gives the rest.',
    },
  ]
}

/** What a cross scan says so far. */
export function crossSays(mount: MountRecord, a: CrossAnswerJson): Said {
  const out = (strong: string, more: string[] = []): Said => ({ state: 'look-out', strong, more })
  switch (a.kind) {
    case 'too-few':
      return out(`${countOf(a.samples, 'level')} on ${axisName(mount, a.axis)} so far; ${a.needed} make a fit.`)
    case 'no-peak':
      return out('No peak yet: nothing rises above the rest by more than its own scatter.')
    case 'no-pose':
      return out('At one of these readings a jack’s triangle does not close. Look through the levels below.')
    case 'peak': {
      const faults = crossFaults(mount, a)
      return {
        state: faults.length > 0 ? 'look-out' : 'good',
        strong: `Peak at ${axisName(mount, 'lower')} ${peakReading(mount, 'lower', a)}, ${axisName(mount, 'upper')} ${peakReading(mount, 'upper', a)}.`,
        more: [missSays(a), ...motionSays(mount, a), ...faults],
      }
    }
  }
}

const peakReading = (mount: MountRecord, axis: Axis, a: CrossFitJson): string =>
  mount[axis].readout.type === 'degrees' ? degrees(a[axis], 2) : readingText(mount, axis, a[axis])

/** "The beam points left 0.31 ± 0.05°, up 0.12 ± 0.04° of where the book believes." */
function missSays(a: CrossFitJson): string {
  const isWhole = a.axes.length === 2
  const side = toward(a.miss.rightDeg, RIGHT, '°', a.sigmaRightDeg, 2)
  const high = toward(a.miss.upDeg, UP, '°', a.sigmaUpDeg, 2)
  const none = !/left|right/.test(side) && !/up|down/.test(high)
  if (!isWhole) return 'One axis alone: across it the peak is known to a beamwidth only.'
  return none
    ? `The beam points where the book believes, to ±${NBSP}${degrees(Math.max(a.sigmaRightDeg, a.sigmaUpDeg), 2)}.`
    : `Against what the book believes the beam points ${side}, ${high}.`
}

const motionSays = (mount: MountRecord, a: CrossFitJson): string[] =>
  a.lostMotion.map(l =>
    l.isSure
      ? `Lost motion of ${axisName(mount, l.axis)}: ${measured(Math.abs(l.playDeg), l.sigmaDeg, '°', 2).text}, about ${readingText(mount, l.axis, Math.abs(l.readings))}, between the two sides of arrival.`
      : `No lost motion seen in ${axisName(mount, l.axis)}, to ±${NBSP}${degrees(l.sigmaDeg, 2)}.`,
  )

function crossFaults(mount: MountRecord, a: CrossFitJson): string[] {
  const faults = a.beyond.map(
    axis => `The peak lies beyond the last reading of ${axisName(mount, axis)}. Step farther that way.`,
  )
  if (a.isWeak)
    faults.push('The peak is weak: noise alone could look like it. Take a longer mean at each level, or do it again.')
  if (a.rejected.length > 0)
    faults.push(
      `${countOf(a.rejected.length, 'level')} ${a.rejected.length === 1 ? 'stands' : 'stand'} far off the curve and ${a.rejected.length === 1 ? 'is' : 'are'} not counted.`,
    )
  if (a.sigmaWidthDeg > 0 && Math.abs(a.widthDeg - a.expectedWidthDeg) > 3 * a.sigmaWidthDeg)
    faults.push(oddWidth(a.widthDeg, a.expectedWidthDeg))
  return faults
}

export function crossRows(mount: MountRecord, a: CrossFitJson): FactRow[] {
  return [
    { label: axisWord(mount, 'lower'), value: peakReading(mount, 'lower', a) },
    { label: axisWord(mount, 'upper'), value: peakReading(mount, 'upper', a) },
    { label: 'Sure sideways', value: `± ${degrees(a.sigmaRightDeg, 3)}` },
    { label: 'Sure up and down', value: `± ${degrees(a.sigmaUpDeg, 3)}` },
    {
      label: 'Width at half power',
      value: a.sigmaWidthDeg > 0 ? measured(a.widthDeg, a.sigmaWidthDeg, '°', 2).text : degrees(a.widthDeg, 2),
      note:
        a.sigmaWidthDeg > 0
          ? `This beam should make it ${degrees(a.expectedWidthDeg, 2)}.`
          : 'Taken as this beam should be.',
    },
  ]
}

/** "12:04:10: 31.5°, 412 counts" */
export const settingWords = (mount: MountRecord, lower: number, upper: number): string =>
  `${keptReading(mount, 'lower', lower)}, ${keptReading(mount, 'upper', upper)}`
