/** Words of the phone as a level: what it hears, how it lies, what to do. Pure. */
import type { BiasUse } from '../../core/level/instrumentbias.ts'
import type { Reversal } from '../../core/level/reversal.ts'
import type { Edge, PhoneEnd } from '../../core/level/upvector.ts'
import type { MountRecord, Taken } from '../../core/records/fieldbook.ts'
import type { LevelWhat } from '../../core/records/levelkinds.ts'
import { degFromRad } from '../../core/units.ts'
import type { Live } from '../../state/level.ts'
import { duration, fixed, measured } from '../kit/format.ts'
import { axisName } from '../kit/phrases.ts'
import { reversalWords } from './says.ts'

export const PHONE = {
  title: 'The phone as a level',
  start: 'Start the sensors',
  takeNow: 'Take it now',
  byHand: 'Type it by hand',
  back: 'Back',
  again: 'Measure again',
  taken: 'Taken',
  takenBy: 'Taken by the phone',
  useIt: 'Keep it as a level',
  edge: 'Measure by',
  otherEnd: 'Count from the other end',
  liesOnBack: 'It lies on its back',
  notOnBack: 'It does not seem to lie level on its back. Lay it down, screen up, and press again.',
  still: 'Lay it on and take your hand off: after three seconds at rest it takes the reading by itself.',
  allBroken: 'Nothing to take yet.',
  byPhone: 'Measure with the phone',
  anewByPhone: 'Measure again with the phone',
  live: 'Use the phone as a level',
  whySure:
    'A phone’s sensor has a bias of about a degree, and waiting does not help. A reversal, two readings with ends and face swapped in between, cancels it.',
  reverseIt: 'Make a reversal instead: cancels the phone’s bias',
} as const

export const EDGE_WORDS: Readonly<Record<Edge, string>> = {
  long: 'Long edge',
  short: 'Short edge',
  screen: 'Plane of the screen',
}
const END_WORDS: Readonly<Record<PhoneEnd, string>> = {
  top: 'top end',
  bottom: 'bottom end',
  right: 'right edge',
  left: 'left edge',
  screen: 'screen',
  back: 'back',
}
/** "Top end up", "Screen looks down". */
export function endSays(end: PhoneEnd, deg: number): string {
  const word = END_WORDS[end]
  const start = word.charAt(0).toUpperCase() + word.slice(1)
  if (Math.abs(deg) < 0.05) return end === 'screen' || end === 'back' ? `${start} faces level` : `${start} level`
  const way = deg < 0 ? 'down' : 'up'
  return end === 'screen' || end === 'back' ? `${start} faces ${way}` : `${start} ${way}`
}

/** What happens now, in a few words at the number. */
export function stillWords(live: Live, mustMove: boolean): string {
  if (mustMove) return 'Turn it, then let go'
  const { still, secondsLeft } = live
  if (still.kind === 'gathering') return 'Wait'
  if (still.kind === 'moving') return 'Moving'
  return secondsLeft === 0 ? 'Now' : `Still: ${secondsLeft}`
}

/** Whether the instrument's bias is taken off, and if not, why. */
export function biasWords(use: BiasUse): string {
  switch (use.kind) {
    case 'none':
      return 'Its bias is not known: no reversal has been made with it.'
    case 'valid':
      return `Its bias of ${signed(use.bias)}, found ${duration(use.ageMs)} ago, is taken off.`
    case 'old':
      return use.ageMs < 0
        ? `Its bias (${signed(use.bias)}) was found after this reading and is not taken off.`
        : `Its bias (${signed(use.bias)}) was found ${duration(use.ageMs)} ago. That is more than a day, so it is not taken off: make a new reversal.`
    case 'clamped-anew':
      return `Its bias (${signed(use.bias)}) was found in another clamping. A clamp bends a sensor, so it is not taken off: make a new reversal.`
    case 'lies-otherwise':
      return `Its bias (${signed(use.bias)}) was found with the phone lying on another side, so it is not taken off.`
    case 'other-phone':
      return 'Its bias was found with another phone and is not taken off.'
  }
}
const signed = (rad: number): string => `${fixed(degFromRad(rad), 2)}°`

const sourceWords = (source: 'orientation' | 'motion'): string =>
  source === 'orientation' ? 'orientation' : 'acceleration'

/** Which way round the phone is laid: "Top end toward the right-hand end." */
export function endToward(mount: MountRecord, what: LevelWhat, end: PhoneEnd): string {
  const word = END_WORDS[end]
  if (what === 'mast-lean') return 'The phone’s back flat against the mast, top end up, screen to you.'
  const isFace = end === 'screen' || end === 'back'
  if (what === 'dish-elevation')
    return isFace
      ? `Flat on something square to the dish’s axis, the ${word} facing the way the dish faces.`
      : `Along the dish’s axis, ${word} toward where the dish points.`
  const toward =
    what === 'upper-axis-elevation' || mount.kind === 'ha-dec'
      ? 'the end that points up'
      : mount.kind === 'x-y'
        ? 'the forward end'
        : 'the right-hand end'
  return isFace
    ? `Flat against the end of the axis, the ${word} facing ${toward}.`
    : `Along the axis, ${word} toward ${toward}.`
}

/** The two steps of a reversal. */
export const TURN = {
  title: 'Reversal',
  first: 'First position',
  second: 'Second position',
  firstText: (end: PhoneEnd): string =>
    `Lay the phone along the line, ${END_WORDS[end]} to one side. Remember which side, and mark where it lies. A straight-edge under it stops the camera bump from rocking it.`,
  secondText: {
    back: 'Now end over end, in the same place: the ends change sides, and so does the face.',
    side: 'Now upside down in the same place: onto its other long side, the screen still toward you.',
    plane: 'Now the other face onto the same place: lay it on its screen if it lay on its back.',
  },
  firstAgain: 'Take both again',
  secondAgain: 'Take the second again',
  keep: 'Keep its bias',
  good: 'Turned the right way',
  fits: 'The two readings fit',
  wrong: 'Not turned the right way',
  drawn: {
    first: 'The phone along the line, its end A to the right.',
    back: 'End over end: A to the left, face down.',
    side: 'Turned upside down: A to the left, the screen still toward you.',
    plane: 'The other face down: what faced up now faces down.',
  },
} as const

/** What two readings by the phone say about the phone itself. */
export function turnVerdict(
  mount: MountRecord,
  reversal: Reversal,
  sigmaDeg: number,
): { good: boolean; word: string; text: string } {
  if (reversal.kind !== 'reversed')
    return { ...reversalWords(mount, 'dish-elevation', reversal, null), word: TURN.wrong }
  const own = degFromRad(reversal.bias)
  const { text } = measured(Math.abs(own), sigmaDeg, '°')
  return {
    good: true,
    // No "good" where the numbers cannot tell one turn from another.
    word: reversal.proof === 'half-turn' ? TURN.good : TURN.fits,
    text: `It shows ${text} ${own < 0 ? 'too little' : 'too much'} at this slope of ${fixed(degFromRad(reversal.angle), 1)}°. ${
      reversal.proof === 'half-turn'
        ? 'The numbers show that it was turned the right way.'
        : 'At this slope the numbers cannot show which way it was turned.'
    }`,
  }
}

/** What the record keeps of the sensors, in rows. */
export function takenRows(list: readonly Taken[]): { label: string; value: string }[] {
  const first = list[0]
  if (!first) return []
  return [
    { label: PHONE.takenBy, value: sourceWords(first.source) },
    { label: 'Its smallest step', value: `${fixed(first.stepDeg, 2)}°` },
    ...(first.rateHz === null ? [] : [{ label: 'Values per second', value: fixed(first.rateHz, 0) }]),
  ]
}

export const INSTRUMENTS = {
  title: 'Instruments',
  why: 'Each has a bias of its own. A reversal finds it. It is then taken off for a day, or until the instrument is clamped again.',
  phone: 'This phone',
  hand: 'Inclinometers',
  none: 'None yet.',
  add: 'Add an inclinometer',
  edit: 'Change the inclinometer',
  name: 'Name',
  nameHint: 'As marked on it: “box level”.',
  nameMissing: 'It has no name yet.',
  keep: 'Keep this instrument',
  remove: 'Remove it',
  gone: 'This instrument is no longer in the book.',
  reverse: 'Find its bias',
  another: 'Another',
  other: 'Name of the instrument',
  otherPhone: 'another phone',
  stepHint: 'Optional: 0.1° if left empty.',
  byHandText: 'Read it, turn it end over end, read it again.',
  asLevel: 'Keep this slope as a level too',
} as const
/** "Phone, long edge" */
export const phoneName = (edge: Edge): string => `Phone, ${EDGE_WORDS[edge].toLowerCase()}`

export const LEVEL_PHONE = {
  mattersMore: 'Measure these first',
} as const

/** Short, for a button. */
export const levelShort = (mount: MountRecord, what: 'lower-axis-elevation' | 'upper-axis-elevation'): string =>
  what === 'lower-axis-elevation'
    ? mount.kind === 'ha-dec'
      ? 'How high the polar axis points'
      : `Level of the ${axisName(mount, 'lower')} axis`
    : `Elevation of the ${axisName(mount, 'upper')} axis`

/** Why a mast's lean matters less on this mount. */
export const mastMatters = (mount: MountRecord): string =>
  mount.kind === 'ha-dec'
    ? 'This mount does not turn about its mast: how high the polar axis points, and the level of the declination axis, matter more.'
    : `This mount does not turn about its mast: the level of the ${axisName(mount, 'lower')} axis and the elevation of the ${axisName(mount, 'upper')} axis matter more, and the mast’s lean is in both.`
