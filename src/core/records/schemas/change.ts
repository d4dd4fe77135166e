/** Changes, and the readings of marks that never move. */
import * as v from 'valibot'
import { flag, list, measure, name, object, oneOf, opt, sigmaDeg, text, utc } from '../shapes.ts'
import { AxisNameSchema } from './common.ts'
import { PriorSchema } from './station.ts'

export const ChangeSchema = object({
  id: name(),
  utc: utc(),
  /** all, lower-axis, lower-zero, upper-zero, lower-readout, upper-readout, dish, feed:ID, tube */
  what: v.pipe(list(text()), v.minLength(1, 'must name at least one thing that changed')),
  /**
   * True where a zero is named because its counter slipped: the zero itself stays, the readings are short by a fixed number
   * of counts from here on, which the fit finds. On a jack that is not the same as a turned zero.
   */
  slipped: opt(flag()),
  note: opt(text()),
  expect: opt(list(PriorSchema)),
  /**
   * Where what moved stands from here on: a clamp or stop position with a name. Coming back to the name starts from what was known there,
   * to within how well it is met again. `before`: what the place where it stood until now is called, if it has no name yet.
   */
  position: opt(object({ name: name(), sigmaDeg: opt(sigmaDeg()), before: opt(name()) })),
})

export const ReferenceSchema = object({
  id: name(),
  utc: utc(),
  axis: AxisNameSchema,
  mark: name(),
  reading: measure(),
  sigmaDeg: opt(sigmaDeg()),
  /** Read at the start or at the end of a visit. */
  visit: opt(oneOf(['start', 'end'])),
  note: opt(text()),
})
