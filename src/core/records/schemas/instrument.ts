/**
 * Instruments of a station: the phone by each of its edges, and inclinometers read by hand. Degrees. Entries of another `type`,
 * or of none, are left as they are.
 */
import { RANGES } from '../ranges.ts'
import { hasOneOf, known, name, object, oneOf, opt, sigmaDeg, text, utc, within } from '../shapes.ts'

const TYPES = ['phone', 'inclinometer'] as const

/** The instrument's bias as a reversal found it (what it shows too much), and when it may be taken off. */
export const BiasSchema = object({
  utc: utc(),
  biasDeg: within(RANGES.biasDeg),
  sigmaDeg: sigmaDeg(),
  /** The tilt at which it was found: elsewhere it is known less well. */
  atDeg: opt(within(RANGES.turnDeg)),
  /** Phone: the axis that the half turn went about, which tells how it lay. */
  about: opt(oneOf(['x', 'y', 'z'])),
  /** The clamping in which it was found; none: laid on by hand. */
  clamping: opt(text()),
})

export const InstrumentSchema = object({
  id: name(),
  name: name(),
  type: oneOf(TYPES),
  /** Phone: what is measured by. */
  edge: opt(oneOf(['long', 'short', 'screen'])),
  /** Phone: which one, so that a book on another phone does not take this one's error off. */
  phone: opt(text()),
  /** Inclinometer: whether it shows the full circle. */
  shows: opt(oneOf(['circle', 'quarter'])),
  stepDeg: opt(within(RANGES.finenessDeg)),
  noiseDeg: opt(within(RANGES.finenessDeg)),
  bias: opt(BiasSchema),
  note: opt(text()),
})

export const AnyInstrumentSchema = known(hasOneOf('type', TYPES), InstrumentSchema)
