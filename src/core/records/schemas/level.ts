/**
 * Levels, and what each was worked out from (`raw`): one reading, a reversal, readings round a mast, the positions of a swing;
 * typed, or taken by the phone. Degrees; `up` is a unit vector in the Phone frame.
 */
import * as v from 'valibot'
import { RANGES } from '../ranges.ts'
import {
  direction,
  fields,
  list,
  measure,
  name,
  object,
  oneOf,
  opt,
  sigmaDeg,
  text,
  utc,
  variant,
  within,
} from '../shapes.ts'
import { AxisNameSchema } from './common.ts'

const source = () => oneOf(['orientation', 'motion'])
/** Rounding and trembling: a phone on a bench and one in a gale. */
const fineness = () => within(RANGES.takenSpreadDeg)

/** A reading by the phone: where it came from, its rounding step and rate are kept with it. */
export const TakenSchema = object({
  utc: utc(),
  source: source(),
  stepDeg: fineness(),
  /** Values a second; null where that was not seen. */
  rateHz: v.nullable(measure(), undefined),
  noiseDeg: fineness(),
  spreadDeg: fineness(),
  up: direction(),
})

/** A position of a swing. */
export const SwingPlaceSchema = object({
  reading: measure(),
  up: direction(),
  /** Taken by this phone: what it rounds to and trembled by there. */
  phone: opt(object({ source: source(), stepDeg: fineness(), noiseDeg: fineness(), spreadDeg: fineness() })),
})

/** What a level by swinging was worked out from. */
export const SwingRawSchema = object({
  axis: AxisNameSchema,
  /** Positions by clamping. */
  clampings: list(list(SwingPlaceSchema)),
  stepDeg: fineness(),
  noiseDeg: fineness(),
  /** The sensor's own error on each axis, 1 σ. */
  biasDeg: fineness(),
})

export const LevelRawSchema = object({
  /** Whether the instrument shows the full circle. */
  shows: opt(oneOf(['circle', 'quarter'])),
  /** A reversal's two readings. */
  firstDeg: opt(within(RANGES.circleDeg)),
  secondDeg: opt(within(RANGES.circleDeg)),
  stepDeg: opt(fineness()),
  noiseDeg: opt(fineness()),
  /** The instrument's own error, taken off. */
  biasDeg: opt(within(RANGES.circleDeg)),
  /** One reading: what was shown before that. */
  shownDeg: opt(within(RANGES.circleDeg)),
  /** By the phone: the end that counts, and its readings in order. */
  end: opt(oneOf(['top', 'bottom', 'right', 'left', 'screen', 'back'])),
  taken: opt(list(TakenSchema)),
  /** Round a mast. */
  around: opt(
    list(
      object({ headingDeg: within(RANGES.circleDeg), readingDeg: within(RANGES.circleDeg), taken: opt(TakenSchema) }),
    ),
  ),
  swing: opt(SwingRawSchema),
})

const level = {
  id: name(),
  utc: utc(),
  sigmaDeg: sigmaDeg(),
  /** Id of an entry of `instruments`, or a name as typed. */
  instrument: opt(text()),
  clamping: opt(text()),
  note: opt(text()),
  raw: opt(LevelRawSchema),
}
const valueDeg = within(RANGES.elevationDeg)
const leanDeg = () => within(RANGES.elevationDeg)

export const LevelSchema = variant(
  'what',
  [
    fields({ ...level, what: v.literal('lower-axis-elevation'), valueDeg }),
    fields({ ...level, what: v.literal('upper-axis-elevation'), valueDeg, lower: measure() }),
    fields({ ...level, what: v.literal('mast-lean'), northDeg: leanDeg(), eastDeg: leanDeg() }),
    fields({ ...level, what: v.literal('dish-elevation'), valueDeg, lower: measure(), upper: measure() }),
  ],
  'must be "lower-axis-elevation", "upper-axis-elevation", "mast-lean" or "dish-elevation"',
)
