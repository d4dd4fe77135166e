/** Words of what is carried into a tracking program: what it can take, its page, its budget, the check afterwards. */
import type { FoundMistake } from '../../core/carry/carriedcheck.ts'
import type { Aiming, CarryWish, Coefficient, Law } from '../../core/carry/numbers.ts'
import type { CarryPage } from '../../core/carry/page.ts'
import type { Remains } from '../../core/carry/remains.ts'
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import { AXES, AXIS_NAMES, type Axis, type MountKind } from '../../core/mount/names.ts'
import { instantMs } from '../../core/records/instant.ts'
import { decibels, degrees, fixed, MINUS, NBSP, utcDate } from '../kit/format.ts'
import { MISSES, oneWay } from '../kit/loss.ts'
import { capital, placeWords, whenToMinute } from '../kit/phrases.ts'
import { readoutWords } from '../kit/readoutwords.ts'

export const CARRY = {
  title: 'For the program',
  question: 'What can your program take?',
  lead: 'Pick what your tracking program can be told; you get one page with just that. The choice stays with this station on this phone.',
  /** Before either word is used. */
  directions:
    'A command is what the program sends to an axis, to make it go there. A reading is what the axis shows: its counter or scale.',
  noSightingsWhy:
    'Six sightings of Sun and Moon, spread over the sky, show most of it. Then there is something to tell a program.',
  record: 'Record a sighting',
  all: 'A table of readings, or your own program',
  allWhy: 'These two carry the whole solution.',
  table: 'Make the target table: both readings, as often as you like',
  recipe: 'The recipe, for your own program',
  aiming: 'About the mount, it can be told',
  law: 'About each axis, it can be told',
  unit: 'Its numbers are in',
  degrees: 'degrees',
  degreesNote: 'Its interface turns them into counts by the readout in the book.',
  counts: 'counts',
  way: 'It corrects',
  command: 'the command',
  commandNote: 'sent to the axis: from the angle wanted to the reading to drive to',
  reading: 'the reading',
  readingNote: 'back from the axis: from the reading to the angle it stands for',
  step: 'Between rows of the table',
  show: 'Show the page',
  pickAiming: 'Pick what it can be told about the mount.',
  pickLaw: 'Pick what it can be told about each axis.',
  budget: 'Limits, dead band and steps',
  check: 'Check points',
  toPick: 'Pick another kind',
  // The page.
  pageTitle: 'Into the program',
  leaves: 'The page leaves',
  mount: 'The mount',
  nothingOfMount: 'Nothing: it must know the mount as entered.',
  formulasKey: 'A: the angle that the axis must have, in degrees. R: the angle that its readout shows.',
  toCommand: 'From angle to command',
  add: 'That is, add to the angle to get the command',
  fromReading: 'From reading to angle',
  subtract: 'That is, subtract from the reading to get the angle',
  otherBack: 'The other way, from reading to angle',
  otherForth: 'The other way, from angle to command',
  curveBack:
    'In the other direction a curve needs a fit of its own. Pick it under “It corrects” to see what it leaves; do not mix the two.',
  assumes: 'What the program must assume',
  remains: 'What remains',
  remainsTold: (usual: string, worst: string, allowed: string) =>
    `What remains: usually ${usual}, at worst ${worst}; you allow ${allowed}`,
  rows: 'The rows of the table',
  noTable: 'This axis has no table on the page.',
  copyTable: 'Copy the table',
  typedIn: 'It is typed in: check it',
  whole: 'These numbers belong together. Do not mix them with those of another page.',
  // Check points.
  checkTitle: 'Check points',
  noPage: 'Nothing was carried over yet.',
  noPageWhy:
    'Type a page into your program, then press the button at its foot. It is kept as it was, so that this check knows it.',
  toPage: 'To the page',
  told: 'Your program can be pointed at',
  any: 'any direction',
  bodies: 'Sun, Moon and sources only',
  other: 'Other targets',
  readIt: 'Read it now: mark the time',
  noTargets: 'No target in reach now would show a mistake. Come back when the Moon or the Sun is up.',
  ask: 'Check',
  typeOne: 'Type what the program shows for one target at least: both axes, and the time for what moves.',
  checkLead: 'Point the program at these, and type what it puts out for both axes.',
  still: 'The dish need not move: what the program would set is enough.',
  sun: {
    act: 'check-sun',
    gravest: 'If the dish turns to the Sun: hands and face away from the feed.',
    more: ['Sunlight gathers there and burns at once. Transmitter off; jacks move.'],
  },
  digits: 'With all the digits that it shows.',
  edit: 'Back to what was typed',
  targetsAsked: 'Looking for targets that tell…',
  asking: 'Computing…',
  failed: 'The check could not be computed.',
  edited:
    'The place, the mount or a readout of this station was edited since the page was carried over: its numbers no longer hold. Carry a new page over.',
  changed: 'The setup has changed since this page was made: its numbers no longer hold. Carry the page over again.',
} as const

/** On an hour-angle mount the axis is its pole. */
export const AIMING_WORDS: Readonly<Record<Aiming, { word: string; note: string }>> = {
  geometry: { word: 'where its axis points', note: 'axis or heading, and the dish’s offset' },
  site: { word: 'another site', note: 'latitude, longitude, and a constant to add to the azimuth' },
  pole: { word: 'where the polar axis points', note: 'azimuth and elevation of its upper end' },
  paper: { word: 'nothing', note: 'it knows the mount as entered' },
}

export const LAW_WORDS: Readonly<Record<Law, string>> = {
  jack: 'the jack’s own dimensions',
  table: 'a table of angle and counts',
  cubic: 'a cubic: four numbers',
  quadratic: 'a quadratic: three numbers',
  line: 'a straight line: slope and offset',
  offset: 'an offset alone',
}

/** "Where its axis points; a cubic: four numbers" */
export const wishWords = ({ aiming, law }: CarryWish): string =>
  `${aiming === 'paper' ? 'The mount as entered' : capital(AIMING_WORDS[aiming].word)}; for each axis ${LAW_WORDS[law]}`

/** "Enough: 0.12°, 0.1 dB." */
export function noteOf(remains: Remains, allowedDb: number): string {
  const size = `${degrees(remains.p95Deg, 2, 'decimal')}${isBeamOffTarget(remains.echoLossDb) ? '' : `, ${decibels(remains.echoLossDb, allowedDb)}`}`
  switch (remains.state) {
    case 'within':
      return `Enough: leaves ${size}.`
    case 'open':
      return `Enough once there are more sightings: leaves ${size}.`
    case 'over':
      return `Not enough: leaves ${size}.`
  }
}

const SHARE = `95${NBSP}% of Moon time`
const SURE = `90${NBSP}%`

/** What the page leaves, by itself and with what is not known yet. */
export function stateSentence(remains: Remains, allowedDb: number): string {
  const all = isBeamOffTarget(remains.allLossDb) ? MISSES : `less than ${decibels(remains.allLossDb, allowedDb)}`
  switch (remains.state) {
    case 'within':
      return `Enough for what you allow. With what the sightings leave open counted too: ${all} lost on own echoes for ${SHARE}, with ${SURE} confidence.`
    case 'open':
      return `The page itself would do, but not with what the sightings leave open: ${all}, with ${SURE} confidence. More sightings first, then a new page.`
    case 'over':
      return `Not enough for what you allow. A program that can be told more would do better, or a table of readings.`
  }
}

export const leavesBeside = (remains: Remains, allowedDb: number): string =>
  isBeamOffTarget(remains.echoLossDb)
    ? `${MISSES} for part of the time`
    : `${decibels(remains.echoLossDb, allowedDb)} on own echoes, ${oneWay(remains.echoLossDb)}; for ${SHARE}`

export const worstSentence = ({ worst, worstDeg, worstLossDb }: Remains): string =>
  worst === null
    ? 'The Moon is never reached in the coming month.'
    : `${degrees(worstDeg, 2, 'decimal')} ${placeWords(worst.azDeg, worst.elDeg)}: azimuth ${degrees(worst.azDeg, 0, 'decimal')}, elevation ${degrees(worst.elDeg, 0, 'decimal')}, ${whenToMinute(worst.utc)}${isBeamOffTarget(worstLossDb) ? `; there ${MISSES}` : `; there ${decibels(worstLossDb)}`}`

export const lostSentence = (hours: number): string =>
  `For ${fixed(hours, 1)}${NBSP}h of the Moon’s path in the month the program finds no reading.`

/** "Setup since 8 Nov 2026; made 25 Nov 2026" */
export const pageDates = (page: CarryPage): string =>
  `${page.setupFromUtc === null ? 'Setup: no change noted' : `Setup since ${utcDate(instantMs(page.setupFromUtc))}`}. Page of ${utcDate(instantMs(page.madeUtc))}.`

/** As it stands on the screen, with a true minus. */
export const seenNumber = (text: string): string => text.replaceAll('-', MINUS)

const MOUNT_LABELS: Readonly<Record<string, string>> = {
  latDeg: 'Latitude, north +',
  lonDeg: 'Longitude, east +',
  turnDeg: 'Add to the azimuth there',
  axisAzDeg: 'Polar axis, upper end: azimuth',
  leanDeg: 'Azimuth axis: from the vertical',
  leanAzDeg: 'It leans toward azimuth',
  headingDeg: 'Heading of the mount',
}
const AXIS_EL: Readonly<Record<MountKind, string>> = {
  'ha-dec': 'Polar axis, upper end: elevation',
  'az-over-el': 'Tilt axis, right-hand end: elevation',
  'x-y': 'X axis, forward end: elevation',
  'el-over-az': 'Azimuth axis: elevation',
}
const OFFSET: Readonly<Record<MountKind, string>> = {
  'el-over-az': 'Dish, right of square',
  'ha-dec': 'Dish, west of square at the meridian',
  'az-over-el': 'Dish offset above the swing plane',
  'x-y': 'Dish, right of square',
}
const JACK_LABELS: Readonly<Record<string, string>> = {
  baseArmMm: 'Arm to the jack’s fixed end',
  rodArmMm: 'Arm to the rod’s end',
  lengthAtReadingZeroMm: 'Length at reading zero',
  countsPerMm: 'Counts per millimetre',
  phiAtAngleZeroDeg: 'Angle at the pivot, axis at zero',
  direction: 'Sense: 1 opens as the angle grows, −1 closes',
}
const POWERS = ['constant', 'times the first power', 'times the square', 'times the cube'] as const

/** What a number is called, without its axis. */
export function numberLabel(page: Pick<CarryPage, 'paper' | 'axes'>, c: Pick<Coefficient, 'id' | 'axis'>): string {
  const { kind } = page.paper
  if (c.axis === null)
    return c.id === 'axisElDeg' ? AXIS_EL[kind] : c.id === 'dishOffsetDeg' ? OFFSET[kind] : (MOUNT_LABELS[c.id] ?? c.id)
  const what = c.id.slice(c.id.indexOf('.') + 1)
  const { form } = page.axes[c.axis]
  if (form.form === 'offset') return 'Offset'
  if (form.form === 'poly')
    return form.degree === 1 ? (what === '0' ? 'Offset' : 'Slope') : capital(POWERS[Number(what)] ?? what)
  return JACK_LABELS[what] ?? what
}

export const numberUnit = (page: Pick<CarryPage, 'axes'>, c: Coefficient): string => {
  switch (c.unit) {
    case 'deg':
      return '°'
    case 'mm':
      return 'mm'
    case 'counts':
      return 'counts'
    case 'coefficient': {
      // A constant has the unit of the output.
      if (c.axis === null || !c.id.endsWith('.0')) return ''
      const { form, unit } = page.axes[c.axis]
      return form.form === 'poly' && form.way === 'command' && unit === 'counts' ? 'counts' : '°'
    }
    default:
      return ''
  }
}

/** "30.0° as entered" and so on: what must be so in the program for the numbers to hold. */
export function assumptions(page: CarryPage): string[] {
  const { paper, wish, axes } = page
  const list = [
    wish.aiming === 'site'
      ? 'Only the site is another: height, air and time are your own.'
      : `The site: latitude ${degrees(paper.latDeg, 4, 'decimal')}, longitude ${degrees(paper.lonDeg, 4, 'decimal')}, ${fixed(paper.heightM, 0)}${NBSP}m.`,
    'The Moon seen from there and not from the Earth’s centre; refraction on.',
    'Azimuth from true north through east.',
  ]
  if (wish.aiming !== 'geometry' && paper.headingDeg !== null)
    list.push(`The heading of the mount as entered: ${degrees(paper.headingDeg, 2, 'decimal')}.`)
  if (wish.aiming !== 'geometry' && paper.dishOffsetDeg !== null)
    list.push(`The dish’s offset as entered: ${degrees(paper.dishOffsetDeg, 2, 'decimal')}.`)
  list.push(...ZERO_OF[paper.kind])
  for (const axis of AXES) {
    const { entered, unit, form, name, fromDeg, toDeg } = axes[axis]
    const isEntered = entered.type !== 'degrees' && (unit === 'degrees' || form.form === 'offset')
    const range = `from ${degrees(fromDeg, 1, 'decimal')} to ${degrees(toDeg, 1, 'decimal')}`
    list.push(
      isEntered
        ? `${capital(name)}: ${range}; counts by the readout as entered (${enteredWords(entered)}).`
        : `${capital(name)}: ${range}.`,
    )
  }
  return list
}

const ZERO_OF: Readonly<Record<MountKind, readonly string[]>> = {
  'el-over-az': ['Azimuth is counted about the azimuth axis, zero where the dish sweeps through north.'],
  'ha-dec': ['Hour angle to the west is plus, zero in the vertical plane through the axis; north declination is plus.'],
  'az-over-el': ['Tilt is zero where the swing’s middle is level; swing to the right is plus.'],
  'x-y': ['X and Y are zero in the vertical plane through the X axis; X tips to the right, Y forward.'],
}

function enteredWords(r: CarryPage['axes']['lower']['entered']): string {
  switch (r.type) {
    case 'degrees':
      return 'degrees'
    case 'linear-counts':
      return `${r.zeroCounts} counts at zero, ${r.countsPerDeg} counts in a degree`
    case 'jack':
      return `arms ${r.baseArmMm} and ${r.rodArmMm}${NBSP}mm, ${r.lengthAtReadingZeroMm}${NBSP}mm at reading zero, ${r.countsPerMm} counts in a${NBSP}mm, ${r.phiAtAngleZeroDeg}° at angle zero, sense ${r.direction}`
    default:
      return readoutWords(r)
  }
}

/** What the program puts out for an axis, for a field: "Swing, counts". */
export const outputLabel = (page: CarryPage, axis: Axis): string =>
  `${capital(AXIS_NAMES[page.paper.kind][axis])}, ${page.axes[axis].unit}`

// ---- what was found ----------------------------------------------------------------------------------------------

/** A number by its axis and name: "Swing: slope". */
const named = (page: CarryPage, f: Pick<FoundMistake, 'id' | 'axis'>): string => {
  const label = f.id === null ? '' : numberLabel(page, { id: f.id, axis: f.axis })
  const low = label.charAt(0).toLowerCase() + label.slice(1)
  return f.axis === null ? low : `${low} of ${page.axes[f.axis].name}`
}

/** "the slope of swing: its sign is turned" */
export function slipWords(
  page: CarryPage,
  f: Pick<FoundMistake, 'cause' | 'id' | 'axis' | 'text' | 'printed'>,
): string {
  const axis = f.axis === null ? 'both axes' : page.axes[f.axis].name
  const has = f.text === null ? '' : `: ${seenNumber(f.text)} in place of ${seenNumber(f.printed ?? '')}`
  switch (f.cause) {
    case 'sign':
      return `the ${named(page, f)} has the wrong sign${has}`
    case 'missing':
      return `the ${named(page, f)} is left out`
    case 'decimal':
      return `the ${named(page, f)} has its decimal point wrong${has}`
    case 'digit':
      return `the ${named(page, f)} has a wrong digit${has}`
    case 'value':
      return `the ${named(page, f)} is another number: about ${seenNumber(f.text ?? '')} in place of ${seenNumber(f.printed ?? '')}`
    case 'convention':
      return `the correction of ${axis} is subtracted where it must be added, or the other way about`
    case 'other-way':
      return 'the numbers are those of the other convention: command and reading swapped'
    case 'axes':
      return 'the numbers of the two axes are swapped'
    case 'nothing':
      return 'nothing of the page has arrived: the program goes by the mount as entered'
    case 'no-aiming':
      return 'the numbers of the mount have not arrived, those of the axes have'
    case 'no-law':
      return `the numbers of ${axis} have not arrived`
    case 'other-page':
      return 'the numbers of the axes are those of another kind of page'
    case 'row':
      return `the table of ${axis} is one row off`
  }
}

/** What would not have shown, shortly: "a wrong digit in the offset of tilt". */
export function unseenWords(page: CarryPage, f: Pick<FoundMistake, 'cause' | 'id' | 'axis'>): string {
  switch (f.cause) {
    case 'sign':
      return `a wrong sign in the ${named(page, f)}`
    case 'missing':
      return `a missing ${named(page, f)}`
    case 'decimal':
      return `a wrong decimal point in the ${named(page, f)}`
    case 'digit':
      return `a wrong digit in the ${named(page, f)}`
    default:
      return slipWords(page, { ...f, text: null, printed: null })
  }
}

/** Tab-separated: it pastes into a spreadsheet as columns. */
export const tableText = (rows: readonly (readonly [number, number])[], unit: string): string =>
  [`angle_deg\t${unit}`, ...rows.map(([angle, output]) => `${angle}\t${output}`), ''].join('\n')
