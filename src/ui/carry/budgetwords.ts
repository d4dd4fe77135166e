/** Words of the budget: limits, dead band, steps, and what the first automatic move needs. */
import type { AxisBudget } from '../../core/carry/budget.ts'
import { degrees, fixed, NBSP } from '../kit/format.ts'
import { placeWords } from '../kit/phrases.ts'

export const BUDGET = {
  title: 'Limits, dead band, steps',
  asEntered: 'No sighting counts yet: all of this is for the mount as entered. Look again after the first six.',
  every: 'Move every',
  everyBeside: 'or whenever an axis is off by more than its dead band, whichever your program has',
  lead: 'Lead',
  leadNote: 'Aim at where the Moon will be half a step later: then it is passed in the middle of each step.',
  halfStep: 'Half a step on the sky',
  sharesHead: 'How the tolerance is shared out',
  shares: (tolerance: string) =>
    `Half a step takes a quarter of the ${tolerance} that you allow; the dead bands of both axes take another quarter. Errors add in squares: these two raise the whole by 6${NBSP}%.`,
  cut: 'Moon lost to the soft limits, in the month',
  softMin: 'Soft limit, low',
  softMax: 'Soft limit, high',
  band: 'Dead band',
  side: 'Arrive',
  fromBelow: 'with the reading going up',
  fromAbove: 'with the reading going down',
  overrun: 'It runs on by',
  notMeasured: 'not measured',
  fastest: 'The Moon at its fastest',
  measure: 'Measure its speed and overrun',
  from: 'Where these come from',
  first: 'The first automatic move needs',
  firstNeeds: [
    'Somebody at the power switch who sees the dish, and nobody within its reach.',
    'Both limits of each axis tried with the buttons just before: the switches stop it, and no cable pulls tight.',
    'The soft limits above typed in, and tried with a hand on the power switch: tell the program to go just beyond one, and see it refuse.',
    'Transmitter off, and no wind.',
    'A move of two degrees first, one axis at a time, well away from the Sun; look which way it goes. Then the Moon.',
  ],
} as const

/** A reading, or an amount in readings. */
export function programReadingWords(b: Pick<AxisBudget, 'unit'>, x: number, isAmount = false): string {
  if (b.unit === 'degrees') return degrees(x, isAmount && x < 1 ? 2 : 1, 'decimal')
  return `${fixed(x, isAmount && x < 9.95 ? 1 : 0)}${NBSP}counts`
}

/** "1 min 36 s", "40 s" */
export function secondsWords(s: number): string {
  const whole = Math.max(1, Math.floor(s))
  const minutes = Math.floor(whole / 60)
  return minutes === 0 ? `${whole}${NBSP}s` : `${minutes}${NBSP}min${whole % 60 === 0 ? '' : ` ${whole % 60}${NBSP}s`}`
}

export function softNote(b: AxisBudget, end: 'min' | 'max'): string {
  const hard = programReadingWords(b, b.hard[end])
  const asked =
    b.asked === null
      ? ''
      : ` The Moon asks for ${programReadingWords(b, b.asked[end])} at ${end === 'min' ? 'least' : 'most'}.`
  return b.hard.isGuessed
    ? `The limit in the book, ${hard}, is a guess: find it first, and let the limit switch stop the jack.${asked}`
    : `The limit in the book is ${hard}.${asked}`
}

export function bandNote({ deadBand, overrun, ...b }: AxisBudget): string {
  if (deadBand.hunts)
    return `More than its share, ${programReadingWords(b, deadBand.most, true)}: the axis runs on so far that with less it would hunt.`
  return overrun === null
    ? 'Its share of what you allow. How far it runs on is not measured: where it hunts, make this wider.'
    : `Its share of what you allow; it would hunt below ${programReadingWords(b, deadBand.least, true)}.`
}

export function sideNote(b: AxisBudget): string {
  const play = b.playDeg === 0 ? '' : ` Lost motion found: ${degrees(Math.abs(b.playDeg), 2, 'decimal')}.`
  const against = `The Moon goes the other way for ${fixed(100 * b.otherWay, 0)}${NBSP}% of the time: there go past and come back.`
  return b.arriveFrom === null
    ? `The book has no side; the Moon goes this way most. ${against}${play}`
    : `As the book has it. ${against}${play}`
}

const isTooSlow = (b: AxisBudget): boolean => b.drivePerMin !== null && b.drivePerMin < b.fastestPerMin

export function driveNote(b: AxisBudget): string {
  const at = b.fastestAt === null ? '' : ` ${placeWords(b.fastestAt.azDeg, b.fastestAt.elDeg)}`
  const usual = `Fastest${at}; in 95${NBSP}% of the time below ${programReadingWords(b, b.usualPerMin, true)} a${NBSP}min.`
  if (b.drivePerMin === null) return `${usual} The speed of the axis is not measured.`
  return `${usual} The axis makes ${programReadingWords(b, b.drivePerMin, true)} a${NBSP}min${isTooSlow(b) ? ': too slow there' : ''}.`
}

/** What must not be folded away: a limit that is a guess, an axis that would hunt, one that is too slow. */
export function alarms(b: AxisBudget): string[] {
  const out: string[] = []
  if (b.hard.isGuessed)
    out.push('The limits in the book are guesses: find them first, and let the limit switch stop the jack.')
  if (b.deadBand.hunts) out.push(`Dead band: ${bandNote(b)}`)
  if (isTooSlow(b))
    out.push(
      `Too slow where the Moon is fastest: the axis makes ${programReadingWords(b, b.drivePerMin!, true)} a${NBSP}min.`,
    )
  return out
}
