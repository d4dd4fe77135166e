/**
 * The shape of a field book, version 1, put together from its records (schemas/). What one record says about another (feeds
 * that exist, triangles that close, ids that are unique) is in rules.ts.
 */
import type * as v from 'valibot'
import { type AnyList, RECORD_LISTS } from './kinds.ts'
import { AnyAdjusterSchema } from './schemas/adjuster.ts'
import { AnyAlignmentSchema } from './schemas/alignment.ts'
import { ChangeSchema, ReferenceSchema } from './schemas/change.ts'
import { AnyCheckSchema } from './schemas/check.ts'
import { AnyClockCheckSchema } from './schemas/clockcheck.ts'
import { AnyInstrumentSchema } from './schemas/instrument.ts'
import { LevelSchema } from './schemas/level.ts'
import { MadeOfDeletedSchema } from './schemas/made.ts'
import { AnyNoiseSchema } from './schemas/noise.ts'
import { AnyScanSchema } from './schemas/scan.ts'
import { HalfSightingSchema, SightingSchema } from './schemas/sighting.ts'
import { FeedSchema, PriorSchema, StationSchema } from './schemas/station.ts'
import { anyList, list, name, object, oneOf, opt, text, utc } from './shapes.ts'

export { StationSchema }

/** What was deleted, at the top of a file: so that programs that do not know it carry it along. */
export const DeletionSchema = object({
  kind: oneOf(['station', ...Object.values(RECORD_LISTS)]),
  station: name(),
  /** Of the entry; left out for a station. */
  id: opt(text()),
  made: MadeOfDeletedSchema,
})

/** The outermost object, format and version having been looked at before. */
export const FileSchema = object({
  exportedUtc: utc(),
  stations: anyList(),
  /** What was deleted, for other phones. */
  deletions: opt(list(DeletionSchema)),
})

/** The shape of an entry of each list of a station. */
export const ENTRY_SCHEMAS = {
  feeds: FeedSchema,
  priors: PriorSchema,
  adjusters: AnyAdjusterSchema,
  sightings: SightingSchema,
  levels: LevelSchema,
  references: ReferenceSchema,
  changes: ChangeSchema,
  scans: AnyScanSchema,
  noise: AnyNoiseSchema,
  clockChecks: AnyClockCheckSchema,
  instruments: AnyInstrumentSchema,
  checks: AnyCheckSchema,
  alignment: AnyAlignmentSchema,
  halfSightings: HalfSightingSchema,
} as const satisfies Record<AnyList, v.GenericSchema>
