/** The shape of clock checks for the intake. A record without an `offsetS` is not ours to judge: it is kept as it is. */
import * as v from 'valibot'
import { isClockCheck } from './clockchecks.ts'
import { list, measure, name, object, oneOf, positive, text, utc } from './shapes.ts'

const opt = v.optional
/** Unix ms from 1970 to 9999: beyond what `measure` takes. */
const unixMs = () =>
  v.pipe(
    v.number('must be Unix milliseconds'),
    v.check(n => Math.abs(n) <= 2.6e14, 'must be Unix milliseconds'),
  )

const KnownSchema = object({
  id: name(),
  utc: utc(),
  offsetS: measure(),
  sigmaS: positive(1e6),
  by: oneOf(['taps', 'typed']),
  pips: opt(oneOf(['second', 'minute'])),
  wholeS: opt(measure()),
  tapsMs: opt(list(unixMs())),
  note: opt(text()),
})

export const ClockCheckSchema = v.lazy(x => (isClockCheck(x) ? (KnownSchema as v.GenericSchema) : v.unknown()))
