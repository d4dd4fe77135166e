/** The form of a clock check: taps on pips, or a difference typed; and the record that it says. Pure. */
import { offsetFromTaps, type Pips, type TapOffset } from '../../core/clock/pips.ts'
import type { ClockCheckRecord } from '../../core/records/clockchecks.ts'
import { TYPED } from '../../core/records/ranges.ts'
import { KINDS } from '../kit/kinds.ts'
import { bounds, numberOf } from '../kit/numberfield.ts'
import { TYPED_SIGMA_S } from './words.ts'

export interface ClockForm {
  how: 'taps' | 'typed'
  pips: Pips
  whole: string
  tapsMs: number[]
  offset: string
  sigma: string
}
export const EMPTY_CLOCK: ClockForm = { how: 'taps', pips: 'second', whole: '', tapsMs: [], offset: '', sigma: '' }

export const CLOCK_KINDS = {
  whole: { form: 'count', unit: 's', ...bounds(TYPED.clockOffsetS) },
  offset: KINDS.clockOffset,
  sigma: { form: 'number', unit: 's', ...bounds(TYPED.clockSigmaS) },
} as const

const wholeOf = (form: ClockForm): number | null =>
  form.whole.trim() === '' ? 0 : numberOf(form.whole, CLOCK_KINDS.whole)

export const tapsOf = (form: ClockForm): TapOffset => offsetFromTaps(form.tapsMs, form.pips, wholeOf(form) ?? 0)

const rounded = (s: number): number => Math.round(s * 1000) / 1000

/** The record, or null while it is not whole. @param nowMs  by the phone's clock, for a typed difference */
export function checkFromForm(form: ClockForm, id: string, nowMs: number): ClockCheckRecord | null {
  const iso = (ms: number): string => new Date(ms).toISOString()
  if (form.how === 'typed') {
    const offsetS = numberOf(form.offset, CLOCK_KINDS.offset)
    const sigmaS = form.sigma.trim() === '' ? TYPED_SIGMA_S : numberOf(form.sigma, CLOCK_KINDS.sigma)
    return offsetS === null || sigmaS === null ? null : { id, utc: iso(nowMs), offsetS, sigmaS, by: 'typed' }
  }
  const wholeS = wholeOf(form)
  const taps = tapsOf(form)
  if (taps.kind !== 'offset' || wholeS === null) return null
  return {
    id,
    utc: iso(form.tapsMs.at(-1)!),
    offsetS: rounded(taps.offsetS),
    sigmaS: rounded(taps.sigmaS),
    by: 'taps',
    pips: form.pips,
    ...(wholeS !== 0 && { wholeS }),
    tapsMs: [...form.tapsMs],
  }
}
