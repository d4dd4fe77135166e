/** What was taped on a dish, as records: schemas/dishmeasure.ts says what each holds. */
import type { InferOutput } from 'valibot'
import type { DishMeasuresSchema, RimSchema, StringsSchema } from './schemas/dishmeasure.ts'

export type RimRecord = InferOutput<typeof RimSchema>
export type StringsRecord = InferOutput<typeof StringsSchema>
export type DishMeasuresRecord = InferOutput<typeof DishMeasuresSchema>
