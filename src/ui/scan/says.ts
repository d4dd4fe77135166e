/** What scans say, sentence by sentence: what was read of a log, what the levels say so far, and what is wrong with a fit. */
import type { BadLine, Pasted, TimeKind } from '../../core/import/levels.ts'
import { AXES } from '../../core/mount/names.ts'
import type { Axis, MountRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type {
  CrossAnswerJson,
  CrossFitJson,
  DriftAnswerJson,
  DriftFitJson,
  EqualJson,
  TapsJson,
} from '../../state/scanasks.ts'
import { countOf, degrees, duration, fixed, measured, NBSP, safeText, utcTime } from '../kit/format.ts'
import { missOf, sidesWords } from '../kit/miss.ts'
import type { TableRow } from '../kit/numbers.tsx'
import { axisName, readingUnit } from '../kit/phrases.ts'
import { axisWord, readingText } from '../kit/readings.ts'

const BAD: Readonly<Record<BadLine['why'], string>> = {
  'one-value': 'there is no reading beside the time',
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
    return 'No line could be read. A line is a time and a reading: "10:00:05, 3.2".'
  return `${countOf(p.samples.length, 'reading')} found, from ${utcTime(first.utcMs)} to ${utcTime(last.utcMs)}${NBSP}UTC; the times taken as ${TIMES[p.times]}.`
}

export interface ScanSaid {
  state: 'good' | 'look-out'
  strong: string
  more: string[]
}

const seconds = (s: number): string => (s < 9.95 ? `${fixed(s, 1)}${NBSP}s` : duration(1000 * s))
/** To the second: finer is below what a phone's clock knows. */
const peakWords = (f: { peakUtc: string; sigmaS: number }): string =>
  `${utcTime(1000 * Math.round(instantMs(f.peakUtc) / 1000))} ± ${seconds(f.sigmaS)}`
const late = (f: { missAlongDeg: number; rateDegPerMin: number; sigmaS: number }): string => {
  const s = (60 * f.missAlongDeg) / f.rateDegPerMin
  const by = `${seconds(Math.abs(s))} ${s < 0 ? 'sooner' : 'later'} than expected, ${degrees(Math.abs(f.missAlongDeg), 2)} on the sky`
  return Math.abs(s) < 2 * f.sigmaS ? 'It came when expected.' : `It came ${by}.`
}

/** What a drift scan says so far. @param levels  how many are counted */
export function driftSays(a: DriftAnswerJson): ScanSaid {
  const out = (strong: string, more: string[] = []): ScanSaid => ({ state: 'look-out', strong, more })
  switch (a.kind) {
    case 'too-few':
      return out(
        `${countOf(a.samples, 'reading')} so far; a fit needs ${a.needed}.`,
        a.samples === 0 ? [] : ['Some before the peak, some on it, some after.'],
      )
    case 'no-peak':
      return out('No peak yet: nothing stands out from the scatter.')
    case 'outside':
      return out(
        a.toward === 'last'
          ? 'Still rising: the peak comes after the last reading.'
          : 'Only falling: the peak was before the first reading.',
        a.toward === 'last' ? ['Go on listening.'] : ['Park farther ahead next time.'],
      )
    case 'no-drift':
      return out('This target does not move, so nothing drifts.')
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
    faults.push('The peak is weak: noise alone could look like it. Average longer at each reading, or do it again.')
  if (f.isClipped)
    faults.push(
      'The top is cut off: the receiver was overloaded. Those readings are left out; turn the gain down next time.',
    )
  if (f.isAtEdge)
    faults.push('The peak lies at the end of the scan: one flank is missing, and the time is less certain.')
  if (f.isWidthOdd) faults.push(oddWidth(f.widthDeg, f.expectedWidthDeg))
  if (f.isShaped)
    faults.push(
      'The skirts are not those of one beam (side lobes, or the ground): the time comes from the readings near the peak.',
    )
  if (f.spikes.length > 0)
    faults.push(
      `${countOf(f.spikes.length, 'reading')} ${f.spikes.length === 1 ? 'stands' : 'stand'} far off the curve and ${f.spikes.length === 1 ? 'is' : 'are'} not counted.`,
    )
  return faults
}

const oddWidth = (is: number, should: number): string =>
  `The peak is ${fixed(is / should, 2)} times as wide as this beam should make it. Check whether the readings are dB or linear, whether the gain was fixed, and the feed’s focus.`

const ACROSS: Readonly<Record<DriftFitJson['acrossFrom'], string>> = {
  unknown:
    'A drift gives the time, not how far off centre it passed. Another drift with the Sun elsewhere, or a cross scan, gives the rest.',
  height: 'From its strength; the side is the one expected.',
  'height-sign-unknown':
    'Its strength shows how far off centre it passed at most, not on which side: both stay possible.',
}

export function driftRows(f: DriftFitJson): TableRow[] {
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
    ...(f.riseDb === null ? [] : [{ label: 'Peak above cold sky', value: `${fixed(f.riseDb, 2)}${NBSP}dB` }]),
    {
      label: 'Uncertainty along the drift',
      value: `± ${degrees(f.sigmaAlongDeg, 3)}`,
      note: `The target drifts ${way.filter(Boolean).join(' and ')}, seen from behind the dish, the UP mark on top.`,
    },
    {
      label: 'Uncertainty across it',
      value: `± ${degrees(f.sigmaAcrossDeg, 1)}`,
      note: ACROSS[f.acrossFrom],
    },
  ]
}

/** What a cross scan says so far. */
export function crossSays(mount: MountRecord, a: CrossAnswerJson): ScanSaid {
  const out = (strong: string, more: string[] = []): ScanSaid => ({ state: 'look-out', strong, more })
  switch (a.kind) {
    case 'too-few':
      return out(`${countOf(a.samples, 'reading')} on ${axisName(mount, a.axis)} so far; a fit needs ${a.needed}.`)
    case 'no-peak':
      return out('No peak yet: nothing stands out from the scatter.')
    case 'no-pose':
      return out('At one of these readings a jack’s triangle does not close. Check the readings below.')
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

const peakReading = (mount: MountRecord, axis: Axis, a: { lower: number; upper: number }): string =>
  readingUnit(mount, axis) === 'degrees' ? degrees(a[axis], 2) : readingText(mount, axis, a[axis])

/** "The target stood 0.31° left, 0.12° high of where it was expected, ± 0.05°." */
function missSays(a: Pick<CrossFitJson, 'axes' | 'miss' | 'sigmaRightDeg' | 'sigmaUpDeg'>): string {
  const isWhole = a.axes.length === 2
  if (!isWhole) return 'One axis alone: across it the peak is known to a beamwidth only.'
  const sigmaDeg = Math.max(a.sigmaRightDeg, a.sigmaUpDeg)
  // Like a solution, a scan has the model minus what was measured.
  const off = sidesWords(missOf(a.miss), 2)
  const sure = `±${NBSP}${degrees(sigmaDeg, 2)}`
  return off === ''
    ? `The target stood where it was expected, to ${sure}.`
    : `The target stood ${off} of where it was expected, ${sure}.`
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
    faults.push('The peak is weak: noise alone could look like it. Average longer at each reading, or do it again.')
  if (a.rejected.length > 0)
    faults.push(
      `${countOf(a.rejected.length, 'reading')} ${a.rejected.length === 1 ? 'stands' : 'stand'} far off the curve and ${a.rejected.length === 1 ? 'is' : 'are'} not counted.`,
    )
  if (a.sigmaWidthDeg > 0 && Math.abs(a.widthDeg - a.expectedWidthDeg) > 3 * a.sigmaWidthDeg)
    faults.push(oddWidth(a.widthDeg, a.expectedWidthDeg))
  return faults
}

export function crossRows(mount: MountRecord, a: CrossFitJson): TableRow[] {
  return [
    { label: axisWord(mount, 'lower'), value: peakReading(mount, 'lower', a) },
    { label: axisWord(mount, 'upper'), value: peakReading(mount, 'upper', a) },
    { label: 'Uncertainty sideways', value: `± ${degrees(a.sigmaRightDeg, 3)}` },
    { label: 'Uncertainty up and down', value: `± ${degrees(a.sigmaUpDeg, 3)}` },
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

/** What taps say so far. */
export function tapsSay(a: TapsJson): ScanSaid {
  const out = (strong: string): ScanSaid => ({ state: 'look-out', strong, more: [] })
  switch (a.kind) {
    case 'too-few':
      return out('Mark one point rising and falling, or the peak, to get a time.')
    case 'no-drift':
      return out('This target does not move, so nothing drifts.')
    case 'no-pose':
      return out('At these readings a jack’s triangle does not close. Look at the readings of this scan.')
    case 'peak':
      return {
        state: 'good',
        strong: `Peak at ${peakWords(a)}.`,
        more: [
          late(a),
          a.from === 'pairs'
            ? `From ${countOf(a.count, 'pair')} of equal readings; ±${NBSP}${degrees(a.sigmaAlongDeg, 2)} along the drift.`
            : `From the peak alone; ±${NBSP}${degrees(a.sigmaAlongDeg, 2)} along the drift. One pair of equal readings would be much sharper.`,
        ],
      }
  }
}

/** What equal levels say so far. */
export function equalSays(mount: MountRecord, a: EqualJson): ScanSaid {
  const out = (strong: string): ScanSaid => ({ state: 'look-out', strong, more: [] })
  switch (a.kind) {
    case 'lacks':
      return out(`${axisWord(mount, a.axis)} has no pair yet: one setting on either side of the peak.`)
    case 'no-pose':
      return out('At one of these readings a jack’s triangle does not close. Undo it, or begin again.')
    case 'useless':
      return out(
        'Here both axes move the beam the same way, so they cannot give both coordinates. Wait until the target has moved.',
      )
    case 'middle':
      return {
        state: 'good',
        strong: `Peak at ${axisName(mount, 'lower')} ${peakReading(mount, 'lower', a)}, ${axisName(mount, 'upper')} ${peakReading(mount, 'upper', a)}.`,
        more: [missSays({ ...a, axes: [...AXES] })],
      }
  }
}
