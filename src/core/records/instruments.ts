/** Instruments as they are read: those of a station's list that this program knows. */
import * as v from 'valibot'
import { type BiasSchema, InstrumentSchema } from './schemas/instrument.ts'

export type InstrumentRecord = v.InferOutput<typeof InstrumentSchema>
export type InstrumentBias = v.InferOutput<typeof BiasSchema>

/** The instruments of a list that this program knows how to use, in the order of the list. */
export const instrumentsOf = (list: readonly unknown[] | undefined): InstrumentRecord[] =>
  (list ?? []).filter((x): x is InstrumentRecord => v.safeParse(InstrumentSchema, x).success)
