/**
 * Sightings, and half sightings: a time marked on the target whose readings are still missing, or readings noted by a second
 * person whose time is only about right.
 */
import { RANGES } from '../ranges.ts'
import { clockTime, measure, name, object, oneOf, opt, sigmaDeg, text, utc, within } from '../shapes.ts'
import { ArrivedSchema, clockOffsetS, METHODS, TargetSchema } from './common.ts'

/** The phone's monotonic clock when the time was marked, ms since the page was opened. */
const monotonicMs = () => opt(clockTime('must be milliseconds since the page was opened'))
/** By how much the phone's clock was seen to be set before the time was marked, s, + forward. */
const clockStepS = () => opt(measure())

export const SightingSchema = object({
  id: name(),
  utc: utc(),
  clockOffsetS: clockOffsetS(),
  target: TargetSchema,
  lower: measure(),
  upper: measure(),
  arrivedFrom: opt(ArrivedSchema),
  method: oneOf(METHODS),
  feed: opt(text()),
  offset: opt(object({ rightDeg: within(RANGES.offsetDeg), upDeg: within(RANGES.offsetDeg) })),
  shadow: opt(object({ rightMm: within(RANGES.shadowMm), upMm: within(RANGES.shadowMm) })),
  /** Id of the scan that it was made from. */
  scan: opt(text()),
  sigmaDeg: opt(sigmaDeg()),
  cov: opt(object({ rr: measure(), ru: measure(), uu: measure() })),
  use: opt(oneOf(['auto', 'always', 'never'])),
  note: opt(text()),
  wind: opt(text()),
  /** The clocks when its time was marked; not there where the time was written down. Not used by the solution. */
  stamp: opt(object({ monotonicMs: monotonicMs(), clockStepS: clockStepS() })),
  /** The half sighting that it was made from. */
  halfId: opt(text()),
})

export const HalfSightingSchema = object({
  id: name(),
  /** By the phone's clock, as it was. */
  utc: utc(),
  /** 'stamped': marked on the target. 'about': when the readings were written down. Left out: stamped. */
  time: opt(oneOf(['stamped', 'about'])),
  target: opt(TargetSchema),
  monotonicMs: monotonicMs(),
  clockStepS: clockStepS(),
  /** A guess, to be confirmed. */
  method: opt(oneOf(METHODS)),
  feed: opt(text()),
  /** The readings that the program said to drive to at that time: a suggestion, not a measurement. */
  dialled: opt(object({ lower: opt(measure()), upper: opt(measure()) })),
  /** Measured. */
  lower: opt(measure()),
  upper: opt(measure()),
  arrivedFrom: opt(ArrivedSchema),
  note: opt(text()),
})
