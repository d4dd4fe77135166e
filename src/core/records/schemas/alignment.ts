/**
 * What the person adds to the alignment of a mount themselves: a step left out and why, a heading set by hand, the numbers carried over
 * to a tracking program. All else that the guided alignment says follows from the other records. Entries of another `what`, or of
 * none, are left as they are.
 */

import * as v from 'valibot'
import { PARAMETER_IDS } from '../../mount/parameters.ts'
import { fields, hasOneOf, known, list, measure, name, object, oneOf, opt, text, utc, variant } from '../shapes.ts'

/** The steps of the trade, in its order. */
export const ALIGNMENT_STEPS = [
  'site-clock',
  'mast',
  'axes',
  'references',
  'readouts',
  'heading',
  'feed',
  'search',
  'sightings',
  'solve',
  'bolts',
  'verify',
  'carry',
] as const

export const ALIGNMENT_ACTS = ['left-out', 'set', 'carried'] as const

const act = { id: name(), utc: utc(), note: opt(text()) }

/** left-out: the person goes on without the step. set: done by hand, nothing here measures it (the heading by the Sun's line). */
const StepActSchema = fields({ ...act, what: oneOf(['left-out', 'set']), step: oneOf(ALIGNMENT_STEPS) })

/** The solution's numbers were put into the tracking program. */
const CarriedSchema = fields({
  ...act,
  what: v.literal('carried'),
  /** Not needed: carrying over is always the last step. */
  step: opt(oneOf(ALIGNMENT_STEPS)),
  /** Whose numbers. */
  feed: opt(text()),
  /**
   * The mount's parameters as they were put in, degrees, millimetres, ratios: later solutions are compared with them. None: only
   * a change is seen, not that the numbers have moved.
   */
  numbers: opt(list(object({ id: oneOf(PARAMETER_IDS), feed: opt(text()), value: measure() }))),
})

export const AlignmentSchema = variant('what', [StepActSchema, CarriedSchema], 'must be "left-out", "set" or "carried"')

export const AnyAlignmentSchema = known(hasOneOf('what', ALIGNMENT_ACTS), AlignmentSchema)
