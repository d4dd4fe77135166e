/** Words of "Check the clock". */
import type { Pips, TapOffset } from '../../core/clock/pips.ts'
import type { ClockCheckRecord } from '../../core/records/clockchecks.ts'
import { instantMs } from '../../core/records/instant.ts'
import { DAY_MS } from '../../core/units.ts'
import { countOf, degrees, duration, fixed, measured, NBSP } from '../kit/format.ts'

export const CLOCK = {
  title: 'Check the clock',
  lead: 'Tap on the pips of a time signal, on short wave or from a radio clock that ticks.',
  late: 'Digital radio, television and streams are seconds late: do not use them. The display of a satellite receiver lags by tenths of a second: type that difference, with ± 0.5 s.',
  how: 'How do you compare?',
  byTaps: 'Tap on the pips',
  byTyping: 'Type the difference',
  pips: 'The pips mark',
  seconds: 'every second',
  minutes: 'every minute',
  whole: { second: 'Whole seconds the phone is ahead', minute: 'Seconds the phone is ahead, roughly' },
  wholeHint: {
    second: 'Second pips do not show them: compare the time above with the announcement. Optional: 0 if left empty.',
    minute:
      'Minute pips do not show whole minutes: compare the time above with the announcement, to 20 s. Optional: 0 if left empty.',
  },
  typed: 'The phone is ahead by',
  typedHint: 'Minus if it is behind.',
  sigma: 'Uncertainty, ±',
  sigmaHint: 'Optional: ± 0.5 s if left empty.',
  tap: 'Tap on the pip',
  again: 'Tap again from the start',
  keep: 'Keep this check',
  here: 'UTC by this phone',
  behind: (n: string) => `${n} marked earlier in this visit, without this check.`,
  countThem: 'Apply it to them',
  last: 'The last check',
  never: 'Not compared yet.',
  takeOut: 'Remove this check',
  taps: 'Taps',
  missing: 'The difference is missing.',
} as const

export const TYPED_SIGMA_S = 0.5

/** "ahead by 0.32 ± 0.11 s" */
export function aheadWords(offsetS: number, sigmaS: number): string {
  const m = measured(Math.abs(offsetS), sigmaS, 's', 1)
  if (!/[1-9]/.test(m.value)) return `right to within ${fixed(sigmaS, 1)}${NBSP}s`
  return `${offsetS > 0 ? 'ahead' : 'behind'} by ${m.text}`
}

/** An error of whole minutes shows in what is announced, and in no pip. */
const NOT_COMPARED: Readonly<Record<Pips, string>> = {
  second: 'That is by the pips alone. Whole seconds are not compared yet: is the announced time the same as above?',
  minute: 'That is by the pips alone. Whole minutes are not compared yet: is the announced time the same as above?',
}

/** @param open  pips whose whole seconds or minutes nobody has typed; null where they were */
export function tapWords(taps: TapOffset, open: Pips | null = null): { good: boolean; text: string[] } {
  switch (taps.kind) {
    case 'too-few':
      return {
        good: false,
        text: [
          taps.have === 0
            ? `Tap ${taps.need} pips or more.`
            : `${countOf(taps.have, 'tap')} so far; ${taps.need} are needed, eight are better.`,
        ],
      }
    case 'scattered':
      return {
        good: false,
        text: [`The taps scatter by ${fixed(taps.scatterS, 2)}${NBSP}s and do not agree. Tap again, to the beat.`],
      }
    case 'offset': {
      const text = [`The phone is ${aheadWords(taps.offsetS, taps.sigmaS)}.`]
      if (taps.strays > 0) text.push(`${countOf(taps.strays, 'stray tap')} left out.`)
      if (open !== null) text.push(NOT_COMPARED[open])
      if (taps.nearHalf) text.push('That is close to halfway between two pips: compare the announced time twice.')
      return { good: true, text }
    }
  }
}

/** What a minute would cost on the sky. */
export const minuteCostWords = (perMinuteDeg: number, beamDeg: number): string =>
  `A clock one minute wrong costs ${degrees(perMinuteDeg, 2)} on the sky, ${fixed(perMinuteDeg / beamDeg, 2)} of the beamwidth.`

/** "Compared 3 h ago: the phone was ahead by 0.3 ± 0.1 s. It applies to times marked after it, for a day." */
export function lastWords(check: ClockCheckRecord, nowMs: number): { fresh: boolean; text: string } {
  const ageMs = nowMs - instantMs(check.utc)
  const was = `the phone was ${aheadWords(check.offsetS, check.sigmaS)}`
  if (ageMs < 0)
    return {
      fresh: false,
      text: `The last check is dated in the future: the clock has been set back since. Compare again.`,
    }
  return ageMs < DAY_MS
    ? {
        fresh: true,
        text: `Compared ${duration(ageMs)} ago: ${was}. It applies to times marked after it, for a day.`,
      }
    : { fresh: false, text: `Compared ${duration(ageMs)} ago: ${was}. That is too old to count: compare again.` }
}
