/** Words of "Swing an axis" and "Degrees per count": what to do, and what came of it. */
import type { Calibrated, Calibration } from '../../core/calibration/calibrate.ts'
import type { Swing } from '../../core/level/swing.ts'
import type { Axis, MountKind, MountRecord } from '../../core/records/fieldbook.ts'
import { degFromRad, type Rad } from '../../core/units.ts'
import { countOf, decimalsFor, degrees, fixed, measured, NBSP } from '../kit/format.ts'
import { elevationWords } from '../kit/mount/words.ts'
import { axisName, capital } from '../kit/phrases.ts'
import { readingWords } from '../kit/readings.ts'
import type { SwingResult } from './form.ts'

export const SWING = {
  title: 'Sweep an axis',
  lead: 'Fix the phone anywhere on the part that turns, at any slant. Drive the axis to three or more positions, far apart, and take each one when everything is at rest.',
  leadRehearsed:
    'A phone is fixed to each part that turns: “Measure” of the dish at hand shows its two edges. Drive the axis to three or more positions, far apart, and type them at each one.',
  axis: 'Which axis is driven?',
  other: (name: string) => `The ${name} stays put and reads`,
  by: 'How is the phone’s slope taken?',
  byPhone: 'By this phone',
  byHand: 'Typed by hand',
  byHandNote: 'from another phone, or a level box with two edges',
  next: (n: number) => `Position ${n}`,
  reads: (name: string) => `${capital(name)} reads`,
  top: 'Long edge, + when its top end is up',
  right: 'Short edge, + when its right side is up',
  face: 'The screen faces',
  faceUp: 'up',
  faceDown: 'down',
  impossible: 'Two edges of one phone cannot both be that steep. Read both again.',
  add: 'Add this position',
  take: 'Take this position',
  positions: 'Positions so far',
  clamping: (n: number) => `Fixed the ${n === 1 ? 'first' : n === 2 ? 'second' : `${n}th`} time`,
  anew: 'Start again',
  remove: (n: number) => `Remove position ${n}`,
  turnAbout: 'Fix it end for end',
  turnAboutWhy:
    'Turn the phone end for end along the axis, so that its other end leads, and sweep again: that cancels its bias.',
  drawn: {
    axis: 'the axis',
    swing: 'Seen along the axis: the phone stays fixed to the part that turns, and is read in three places far apart.',
    turned: 'First its end A points one way along the axis; then, fixed again, the other way.',
  },
  turnedBegun: 'Fixed again: sweep again, three or more positions.',
  notAtRest: ': not at rest yet.',
  atRest: ': at rest.',
  wait: 'Wait until the phone is at rest.',
  bothEdges: 'The slopes of both edges are needed.',
  starting: 'Starting the phone’s level…',
  finer: 'How good the instrument is',
  noise: 'Scatter of one position',
  bias: 'Bias its sensor may have',
  startSensors: 'Start the phone’s level',
  noPhone: 'This phone gives no angles here. Type it by hand.',
  calibration: 'The readout, from the same sweep',
  apply: 'Put it into the station',
  keep: 'Keep this elevation',
} as const

export const COUNTS = {
  title: 'Degrees per count',
  lead: 'Drive the axis through its travel. At each halt note its reading and the angle that an inclinometer shows.',
  axis: 'Which axis?',
  what: 'What does the inclinometer show?',
  own: 'The angle of the axis itself',
  ownNote: 'zero where the axis is zero, + the way it counts',
  beside: 'An angle that turns with it',
  besideNote: 'clamped at any slant: only differences count, the zero stays open',
  tilted:
    'This works where the axis lies level. On a slanting axis an inclinometer turns by less than the axis: sweep it instead.',
  reads: (n: number, name: string) => `Halt ${n}: ${name} reads`,
  angle: (n: number) => `Halt ${n}: angle`,
  from: 'Arrived from',
  fromNone: 'not noted',
  fromBelow: 'below',
  fromAbove: 'above',
  more: 'Add a halt',
  fewer: 'One halt fewer',
  anew: 'Start again',
  sigma: 'Uncertainty of each angle, ±',
  tape: 'Uncertainty of the tape, ±',
  tapeHint: 'For each of the triangle’s three lengths. Optional: ± 5 mm if left empty.',
  drawing: 'Which length is which, and where to put the tape',
  result: 'Result',
  each: 'Left over at each halt',
  apply: 'Put it into the station',
  not: 'Nothing to put in yet.',
  curve: 'Degrees per count over the stroke',
  caution: {
    act: 'drive',
    gravest: 'Nobody near the dish while a jack runs.',
    more: ['Supply off before hands go near it to read or to tape. Keep out from under the dish.'],
  },
} as const

const deg = (rad: Rad, decimals: number): string => degrees(degFromRad(rad), decimals)

/** What the sweep says. `strong` is the answer, `more` what follows from it. */
export function swingWords(
  mount: MountRecord,
  axis: Axis,
  swing: SwingResult,
  bookDeg: number | null,
): { good: boolean; strong: string; more: string[] } {
  const wait = (strong: string, ...more: string[]) => ({ good: false, strong, more })
  switch (swing.kind) {
    case 'spread':
      return wait('How good the instrument is cannot be read. Look at those two fields.')
    case 'outside':
      return wait(
        `${capital(readingWords(mount, axis, swing.reading))} is outside the jack’s triangle: it closes between ${fixed(swing.min, 0)} and ${fixed(swing.max, 0)}${NBSP}counts.`,
      )
    case 'too-few':
      return wait(
        swing.have === 0
          ? 'Three positions are needed.'
          : `${countOf(swing.have, 'position')} so far; three with different readings are needed.`,
      )
    case 'out-of-order':
      return wait(
        `At position ${swing.position + 1} the slope went back while the reading went on.`,
        'Check that its reading and its slope belong together, or remove it.',
      )
    case 'too-small-arc':
      return wait(smallArc(swing))
    case 'swung': {
      const sigmaDeg = degFromRad(swing.sigma)
      const value = bookDeg ?? degFromRad(swing.elevation)
      const what = axis === 'lower' && mount.kind !== 'el-over-az' ? 'lower-axis-elevation' : 'upper-axis-elevation'
      const more: string[] = []
      if (swing.bias > swing.noise)
        more.push(
          `Of this, ±${NBSP}${deg(swing.bias, 1)} is the bias that the phone’s sensor may have along the axis; a sweep one way round does not show it.`,
        )
      else if (swing.clampings.length > 1) more.push('Fixed both ways round: the sensor’s bias is cancelled.')
      more.push(
        swing.misfit === null
          ? 'Three positions always fit: a fourth would show whether they agree.'
          : swing.misfits
            ? `The positions disagree by ${deg(swing.misfit, 2)}, more than the instrument explains; the uncertainty allows for it. Did the phone slip, or the wind shake it?`
            : `The positions agree within ${deg(swing.misfit, 2)}.`,
      )
      if (swing.nearVertical) more.push(...verticalWords(mount.kind, axis))
      return {
        good: !swing.misfits,
        strong: `${capital(axisName(mount, axis))} axis: ${elevationWords(mount, what, value, sigmaDeg)}.`,
        more,
      }
    }
  }
}

function smallArc(swing: Extract<Swing, { kind: 'too-small-arc' }>): string {
  const so = `The axis was turned by ${deg(swing.arc, 0)}. That is too little`
  if (swing.needed === null) return `${so}, and with an instrument this coarse more positions are needed too.`
  const more = Math.max(5, Math.ceil(degFromRad(swing.needed - swing.arc) / 5) * 5)
  return `${so}: turn it ${more}° more, ${deg(swing.needed, 0)} in all, or add positions.`
}

const verticalWords = (kind: MountKind, axis: Axis): string[] => [
  'The axis is nearly plumb: turning it hardly changes the phone’s slope, so the angles between positions, and the readout, stay open.',
  ...(kind === 'el-over-az' && axis === 'lower'
    ? ['To find which way it leans, take an inclinometer round the mast: “Measure a level”, the azimuth axis.']
    : []),
]

/** Why there is no calibration; null where there is one. */
export function noCalibration(mount: MountRecord, axis: Axis, c: Calibration): string | null {
  const name = axisName(mount, axis)
  switch (c.kind) {
    case 'calibrated':
      return null
    case 'too-few':
      return `${countOf(c.have, 'different reading')} so far; ${c.need} are needed.`
    case 'backward':
      return `The angle falls where the ${name} readout says it rises. Check the sign of the angles; if it is right, reverse the readout’s direction in the station.`
    case 'outside':
      return `Halt ${c.pair + 1} is outside the jack’s triangle: it closes between ${fixed(c.min, 0)} and ${fixed(c.max, 0)}${NBSP}counts.`
    case 'no-triangle':
      return 'No triangle fits these: a length or an angle must be far off. Tape again, and check the counts per mm.'
  }
}

const mm = (before: number, e: { value: number; sigma: number }): string =>
  `${measured(before + e.value, e.sigma, 'mm', 0).text}, ${fixed(before, 0)}${NBSP}mm before`

/** The answer, in rows. */
export function calibrationRows(mount: MountRecord, axis: Axis, c: Calibrated): { label: string; value: string }[] {
  const readout = mount[axis].readout
  const rows: { label: string; value: string }[] = []
  if (c.scale && c.readout.type === 'linear-counts' && readout.type === 'linear-counts') {
    const perDeg = 1 / degFromRad(1 / c.readout.countsPerRad)
    const sigma = Math.abs((perDeg * c.scale.sigma) / (1 + c.scale.value))
    rows.push({
      label: 'Counts per degree',
      value: `${measured(perDeg, sigma, '', 3).text}, ${fixed(readout.countsPerDeg, decimalsFor(sigma, 3))} before`,
    })
    if (c.zero) {
      const zeroSigma = Math.abs(c.readout.countsPerRad * c.zero.sigma)
      rows.push({
        label: 'Reads at zero',
        value: `${measured(c.readout.zeroCounts, zeroSigma, 'counts', 1).text}, ${fixed(readout.zeroCounts, decimalsFor(zeroSigma, 1))} before`,
      })
    }
  }
  if (c.scale && readout.type === 'degrees') {
    rows.push({ label: 'One degree shown is', value: measured(1 + c.scale.value, c.scale.sigma, '°', 3).text })
    if (c.zero)
      rows.push({
        label: 'Zero shown is',
        value: measured(degFromRad(c.zero.value), degFromRad(c.zero.sigma), '°', 2).text,
      })
  }
  if (c.lengths && readout.type === 'jack') {
    rows.push({ label: 'Fixed arm', value: mm(readout.baseArmMm, c.lengths.base) })
    rows.push({ label: 'Rod arm', value: mm(readout.rodArmMm, c.lengths.rod) })
    rows.push({ label: 'Jack at reading zero', value: mm(readout.lengthAtReadingZeroMm, c.lengths.atReadingZero) })
    if (c.zero)
      rows.push({
        label: 'Zero turned by',
        value: measured(degFromRad(c.zero.value), degFromRad(c.zero.sigma), '°', 2).text,
      })
  }
  return rows
}

/** Resolution and lost motion, each in degrees and in beamwidths. @param beam  full width at half power */
export function finenessRows(
  countRad: Rad | null,
  play: Calibrated['play'],
  beam: Rad,
): { label: string; value: string }[] {
  const share = (rad: Rad): string => `${fixed(rad / beam, 2)}${NBSP}of the beamwidth`
  const rows: { label: string; value: string }[] = []
  if (countRad !== null)
    rows.push({ label: 'One count, at its coarsest', value: `${deg(countRad, 3)}, ${share(countRad)}` })
  if (play)
    rows.push({
      label: 'Lost motion between the two sides',
      value: `${measured(degFromRad(play.value), degFromRad(play.sigma), '°', 2).text}, ${share(Math.abs(play.value))}`,
    })
  return rows
}

export const fitWords = (c: Calibrated): string =>
  c.misfits
    ? `The halts disagree: ${deg(c.rms, 2)} rms is left over, more than their uncertainty explains. Look at the largest below.`
    : `The halts agree: ${deg(c.rms, 2)} rms is left over.`

/** A sentence where the lost motion came out below 0, which cannot be; else null. */
export const playOdd = (play: Calibrated['play']): string | null =>
  play !== null && play.value < -2 * play.sigma
    ? 'The axis reads as if it ran ahead of its own motion: are the two sides swapped? Nothing is put in for lost motion.'
    : null

export const zeroOpen = (c: Calibrated, name: string): string | null =>
  c.zero === null ? `The ${name} zero stays open: only differences were measured.` : null

/** What is left at one stop. */
export const leftAtStopWords = (left: Rad): string => (Math.abs(degFromRad(left)) < 0.005 ? '0.00°' : `${deg(left, 2)}`)

export const stopWords = (mount: MountRecord, axis: Axis, reading: number, n: number): string =>
  `${n}: ${readingWords(mount, axis, reading)}`
