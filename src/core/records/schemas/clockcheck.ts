/**
 * Clock checks: what the phone's clock was found to be off by. Seconds; + where the phone is ahead. Entries without an
 * `offsetS` are of another program: they are kept and neither read nor held to these rules.
 */
import { RANGES } from '../ranges.ts'
import { clockTime, known, list, measure, name, object, oneOf, opt, positive, text, utc } from '../shapes.ts'

export const ClockCheckSchema = object({
  id: name(),
  /** By the phone's clock, as it was. */
  utc: utc(),
  offsetS: measure(),
  sigmaS: positive(RANGES.clockSigmaS),
  by: oneOf(['taps', 'typed']),
  pips: opt(oneOf(['second', 'minute'])),
  wholeS: opt(measure()),
  /** Each tap, by the phone's clock. */
  tapsMs: opt(list(clockTime('must be Unix milliseconds'))),
  note: opt(text()),
})

const isOurs = (x: unknown): boolean =>
  typeof x === 'object' && x !== null && (x as { offsetS?: unknown }).offsetS !== undefined

export const AnyClockCheckSchema = known(isOurs, ClockCheckSchema)
