/**
 * The types of the field book as it lies in its file: plain JSON, degrees, millimetres, readings as the counters show them.
 * They follow from the schemas (schemas/), where each field is explained. A real book may carry more: unknown fields and
 * records survive a round trip. FIELDBOOK.md describes the file.
 */
import type { InferOutput } from 'valibot'
import type { AnyList } from './kinds.ts'
import type { DeletionSchema, ENTRY_SCHEMAS, FileSchema } from './schema.ts'
import type { ChangeSchema, ReferenceSchema } from './schemas/change.ts'
import type { TargetSchema } from './schemas/common.ts'
import type { LevelRawSchema, LevelSchema, SwingPlaceSchema, SwingRawSchema, TakenSchema } from './schemas/level.ts'
import type { HalfSightingSchema, SightingSchema } from './schemas/sighting.ts'
import type {
  AxisSchema,
  DriveSchema,
  FeedSchema,
  MountSchema,
  PairSchema,
  PriorSchema,
  ReadoutSchema,
  StationSchema,
  StowSchema,
} from './schemas/station.ts'

export type { Axis, MountKind, Side } from '../mount/names.ts'
export type { ParameterId } from '../mount/parameters.ts'

/** Format and version are looked at before the schema is (intake.ts); its stations are looked at one by one. */
export interface FieldBook extends InferOutput<typeof FileSchema> {
  format: 'moonplumb-fieldbook'
  version: 1
  stations: StationRecord[]
}

export type DeletionRecord = InferOutput<typeof DeletionSchema>

type Lists = { [L in AnyList]: InferOutput<(typeof ENTRY_SCHEMAS)[L]>[] }
type NeededList = 'feeds' | 'sightings'

export interface StationRecord
  extends InferOutput<typeof StationSchema>,
    Pick<Lists, NeededList>,
    Partial<Omit<Lists, NeededList>> {}

export type FeedRecord = InferOutput<typeof FeedSchema>
export type MountRecord = InferOutput<typeof MountSchema>
export type AxisRecord = InferOutput<typeof AxisSchema>
export type DriveRecord = InferOutput<typeof DriveSchema>
export type StowRecord = InferOutput<typeof StowSchema>
export type ReadoutRecord = InferOutput<typeof ReadoutSchema>
export type PairRecord = InferOutput<typeof PairSchema>
export type PriorRecord = InferOutput<typeof PriorSchema>

export type ChangeRecord = InferOutput<typeof ChangeSchema>
export type ReferenceRecord = InferOutput<typeof ReferenceSchema>
/** A reading of a mark at the start or the end of a visit. */
export type Visit = NonNullable<ReferenceRecord['visit']>

export type TargetRecord = InferOutput<typeof TargetSchema>
export type SightingRecord = InferOutput<typeof SightingSchema>
export type Method = SightingRecord['method']
export type Use = NonNullable<SightingRecord['use']>
export type HalfSightingRecord = InferOutput<typeof HalfSightingSchema>

export type LevelRecord = InferOutput<typeof LevelSchema>
export type LevelRaw = InferOutput<typeof LevelRawSchema>
export type Taken = InferOutput<typeof TakenSchema>
export type SwingRaw = InferOutput<typeof SwingRawSchema>
export type SwingPlace = InferOutput<typeof SwingPlaceSchema>
