/** What is said of the person's own adjusters: what to turn, which way, what will remain. Pure. */
import type { Bolt, BoltDo, Turns } from '../../core/export/bolts.ts'
import type { AdjustedBy } from '../../core/records/adjusters.ts'
import { degrees, type LengthUnit, measured, measuredLength, NBSP, safeText } from '../kit/format.ts'
import { otherWay } from '../kit/otherway.ts'
import { adviceWords } from './advicewords.ts'
import type { AdjusterMissing } from './boltsform.ts'

export const BOLTS = {
  way: 'What to turn, and how far',
  title: 'What to turn',
  none: 'No adjuster is described yet.',
  noneWhy:
    'Describe the screws, shims and flanges that set your mount: what each turns, how far from the axis it acts, and its thread. The solution then comes in turns and millimetres.',
  nothing: 'There is nothing to turn at your adjusters.',
  order: 'In this order. Sight again after the last one.',
  worse:
    'Turning these alone gains nothing: the zeros in the program make up for them now. Turn them only together with new numbers in the program.',
  turned: 'Turned',
  turnedHint: 'Only what was turned as it says here.',
  note: 'Note what I turned',
  noneTurned: 'Nothing is picked.',
  instead: 'Instead of one above, not as well',
  rest: 'Nothing to turn here',
  adjusters: 'Your adjusters',
  describe: 'Describe an adjuster',
  gone: 'There is no such adjuster.',
  // The form.
  newTitle: 'An adjuster',
  name: 'Name',
  nameHint: 'As you would call it: "West screw".',
  turns: 'What it turns',
  by: 'How it is set',
  bys: {
    screw: { word: 'Screw', note: 'square to its arm' },
    shim: { word: 'Shims', note: 'square to their arm' },
    flange: { word: 'Flange', note: 'turned about its own axis, the way measured along the rim' },
  } satisfies Record<AdjustedBy, { word: string; note: string }>,
  arm: 'Arm',
  armHint: 'From the axis that it turns about to where it acts; of a flange, to its rim.',
  pitch: 'Thread: one turn moves it',
  pitchHint:
    'M10 coarse: 1.5 mm. 16 threads to the inch: 0.0625 in. Optional: without it the move is given as a length.',
  plus: (what: string, sense: string) => `Which way makes it more "${sense}" (${what})`,
  plusHint: 'With where you look from: "clockwise, from above". Optional.',
  keep: 'Keep the adjuster',
  remove: 'Delete this adjuster',
  back: 'Back to what to turn',
  missing: {
    name: 'The name is missing.',
    turns: 'Say what it turns.',
    by: 'Say how it is set.',
    arm: 'The arm is missing.',
    pitch: 'The thread must be a number above 0.',
  } satisfies Record<AdjusterMissing, string>,
} as const

/** "2 turns and 3 twelfths" */
export function turnsWords({ whole, twelfths }: Pick<Turns, 'whole' | 'twelfths'>): string {
  const turns = whole === 0 ? '' : whole === 1 ? '1 turn' : `${whole} turns`
  const parts = twelfths === 0 ? '' : twelfths === 1 ? '1 twelfth' : `${twelfths} twelfths`
  return turns && parts ? `${turns} and ${parts}` : turns || `${parts} of a turn`
}

const sureWords = (sigmaTwelfths: number): string => {
  const n = Math.max(1, Math.round(sigmaTwelfths))
  return n < 12 ? `± ${n === 1 ? '1 twelfth' : `${n} twelfths`}` : `± ${(n / 12).toFixed(1)} turns`
}

type Turn = Extract<BoltDo, { kind: 'turn' }>

/** "2 turns and 3 twelfths clockwise, ± 1 twelfth"; "5.9 ± 0.4 mm". */
export function amountWords({ adjuster }: Bolt, does: Turn, unit: LengthUnit): string {
  const way = adjuster.plus === undefined ? '' : ` ${does.larger ? safeText(adjuster.plus) : otherWay(adjuster.plus)}`
  if (does.turns) return `${turnsWords(does.turns)}${way}, ${sureWords(does.turns.sigmaTwelfths)}`
  const rim = adjuster.by === 'flange' ? ' along the rim' : ''
  return `${measuredLength(does.mm, does.sigmaMm, unit).text}${rim}${way}`
}

const leftWords = (bolt: Bolt, does: Turn, unit: LengthUnit): string => {
  const { value, sigma } = does.left
  const text =
    bolt.off?.unit === 'mm'
      ? measuredLength(Math.abs(value), sigma, unit).text
      : measured(Math.abs(value), sigma, '°').text
  return `Error left: ${text}.`
}

/** What it does to the mount, and what will remain. */
export function doesWords(bolt: Bolt, does: Turn, unit: LengthUnit): string {
  const { off } = bolt
  const said =
    off && does.move && off.unit !== 'ratio'
      ? adviceWords(
          {
            kind: 'move',
            ...does.move,
            size: Math.abs(off.value),
            sigma: off.sigma,
            unit: off.unit,
            firstStep: false,
            ...(does.aboutVertical && { aboutVertical: does.aboutVertical }),
          },
          unit,
        )
      : ''
  return `${said} ${leftWords(bolt, does, unit)}`.trim()
}

export function restWords({ does }: Bolt): string {
  switch (does.kind) {
    case 'leave':
      return does.why === 'unsure'
        ? 'leave it, it could just as well be zero.'
        : 'leave it, it is less than can be set.'
    case 'not-yet':
      return 'not known yet, the sightings leave it open.'
    case 'too-far':
      return 'too far for this adjuster: prop the dish, then move the mount roughly first.'
    case 'not-here':
      return 'not found on this mount.'
    case 'turn':
      return ''
  }
}

/** Without corrections in the program. */
export const uncorrectedWords = (beforeDeg: number, afterDeg: number): string =>
  `Without numbers in the program the error stays below ${degrees(beforeDeg, 1)} for 95${NBSP}% of Moon time; after these, below ${degrees(afterDeg, 1)}.`
