/**
 * What a spanner can turn at a mount, as the person described it: a screw, shims, or the way along the rim of a flange, at a distance
 * from the axis that it turns. Millimetres. Entries with another `by`, or none, are another program's and left alone.
 */
import { PARAMETER_IDS } from '../../mount/parameters.ts'
import { RANGES } from '../ranges.ts'
import { hasOneOf, known, name, object, oneOf, opt, positive, text } from '../shapes.ts'

export const ADJUSTED_BY = ['screw', 'shim', 'flange'] as const

export const AdjusterSchema = object({
  id: name(),
  name: name(),
  /** The parameter that it alters. */
  turns: oneOf(PARAMETER_IDS),
  by: oneOf(ADJUSTED_BY),
  /** From the axis that it turns about to where it acts. */
  armMm: positive(RANGES.armMm),
  /** Screw: how far one turn moves it. */
  pitchMm: opt(positive(RANGES.pitchMm)),
  /** Which way makes the parameter larger, in words: "clockwise, from behind". */
  plus: opt(text()),
  note: opt(text()),
})

export const AnyAdjusterSchema = known(hasOneOf('by', ADJUSTED_BY), AdjusterSchema)
