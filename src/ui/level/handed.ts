/** A reading taken before it was chosen what it is of: it is passed to the form that is opened next, once. */
import { elevationOf, lineOfEnd, type PhoneEnd } from '../../core/level/upvector.ts'
import type { Taken } from '../../core/records/fieldbook.ts'
import type { LevelWhat } from '../../core/records/levelkinds.ts'
import { degFromRad } from '../../core/units.ts'
import type { MeasureForm } from './form.ts'
import { circleText } from './phoneform.ts'

export type HandedReading =
  | { kind: 'one'; taken: Taken; end: PhoneEnd }
  | { kind: 'turned'; first: Taken; second: Taken; end: PhoneEnd }

let waiting: HandedReading | null = null

export function hand(what: HandedReading): void {
  waiting = what
}

/** One reading as text for the form's field: two decimals. An end that must be the upper one is never below 0. */
export function handedText(taken: Taken, end: PhoneEnd, what: LevelWhat): string {
  const deg = Math.round(100 * degFromRad(elevationOf(lineOfEnd(end), taken.up))) / 100
  return String(what === 'upper-axis-elevation' ? Math.abs(deg) : deg)
}

export const utcOfTaken = (taken: Taken): string => taken.utc.slice(0, 19).replace('T', ' ')

/** The fields that two positions fill. */
export const turnedFields = (first: Taken, second: Taken, end: PhoneEnd): Partial<MeasureForm> => ({
  how: 'reversal',
  shows: 'circle',
  first: circleText(first, first, end),
  second: circleText(second, first, end),
  taken: { value: null, first, second },
  end,
  utc: utcOfTaken(second),
})

/** The fields that one reading fills. */
export const oneField = (taken: Taken, end: PhoneEnd, what: LevelWhat): Partial<MeasureForm> => ({
  how: 'one',
  value: handedText(taken, end, what),
  taken: { value: taken, first: null, second: null },
  end,
  utc: utcOfTaken(taken),
})

/** What was handed over, as fields of a form; once. */
export function takeHanded(what: LevelWhat): Partial<MeasureForm> {
  const own = waiting
  waiting = null
  if (own === null || what === 'mast-lean') return {}
  return own.kind === 'one' ? oneField(own.taken, own.end, what) : turnedFields(own.first, own.second, own.end)
}
