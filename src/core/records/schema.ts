/**
 * The shape of a field book, version 1: each record by itself. Degrees, millimetres, readings as the counters show them.
 * What one record says about another (feeds that exist, triangles that close, ids that are unique) is in rules.ts.
 * The limits are those of the file format; where it states none, a bound keeps out numbers that no instrument shows.
 */
import * as v from 'valibot'
import { CheckSchema } from './checks.ts'
import { ClockCheckSchema } from './clockcheckschema.ts'
import { DishMeasuresSchema } from './dishmeasure.ts'
import { InstrumentSchema } from './instruments.ts'
import { RECORD_LISTS as KINDS } from './kinds.ts'
import { NoiseSchema } from './noise.ts'
import { scanSchema } from './scanschema.ts'
import {
  anyList,
  fields,
  flag,
  list,
  measure,
  name,
  nonZero,
  notNegative,
  object,
  oneOf,
  positive,
  sigmaDeg,
  text,
  utc,
  variant,
  within,
} from './shapes.ts'

const opt = v.optional

/** The outermost object, format and version having been looked at before. */
export const FileSchema = object({
  exportedUtc: utc(),
  stations: anyList(),
  deletions: v.optional(
    list(
      object({
        kind: oneOf(['station', ...Object.values(KINDS)]),
        station: name(),
        id: v.optional(text()),
        made: object({ from: text(), deletedBy: text() }),
      }),
    ),
  ),
})

const ReadoutSchema = variant(
  'type',
  [
    fields({ type: v.literal('degrees') }),
    fields({ type: v.literal('linear-counts'), zeroCounts: measure(), countsPerDeg: nonZero() }),
    fields({
      type: v.literal('jack'),
      baseArmMm: positive(1e6),
      rodArmMm: positive(1e6),
      lengthAtReadingZeroMm: positive(1e6),
      countsPerMm: positive(1e9),
      phiAtAngleZeroDeg: within(-720, 720),
      direction: oneOf([1, -1]),
    }),
  ],
  'must be "degrees", "linear-counts" or "jack"',
)

const SideSchema = oneOf(['+', '-'])

const AxisSchema = object({
  readout: ReadoutSchema,
  minReading: measure(),
  maxReading: measure(),
  calibration: opt(
    object({
      utc: utc(),
      pairs: list(object({ reading: measure(), angleDeg: measure(), sigmaDeg: sigmaDeg(), from: opt(SideSchema) })),
    }),
  ),
})

export const FeedSchema = object({
  id: name(),
  name: name(),
  frequencyMHz: within(30, 300_000),
  // 70 λ/D is 0.0007° at 300 GHz with 100 m: nothing that stands here is narrower than a seventh of it.
  beamwidthDeg: opt(within(0.0001, 180)),
  systemTemperatureK: opt(positive(1e6)),
  hearsMoonEchoes: opt(flag()),
})

/** A station without its lists of records. */
export const StationSchema = object({
  id: name(),
  name: name(),
  notes: opt(text()),
  site: object({
    latDeg: within(-90, 90),
    lonDeg: within(-180, 180),
    heightM: within(-500, 9000),
    air: opt(
      object({
        pressureHPa: opt(within(0, 1200)),
        temperatureC: opt(within(-100, 100)),
        humidityPct: opt(within(0, 100)),
      }),
    ),
  }),
  dish: object({
    diameterM: within(0.2, 100),
    focalRatio: within(0.15, 2),
    surfaceRmsMm: opt(notNegative(1000)),
    feedDiameterMm: opt(positive(1e5)),
    measured: opt(DishMeasuresSchema),
  }),
  mount: object({
    kind: oneOf(['el-over-az', 'ha-dec', 'az-over-el', 'x-y']),
    headingDeg: opt(within(0, 360)),
    boresightOffsetDeg: opt(within(-45, 45)),
    lower: AxisSchema,
    upper: AxisSchema,
  }),
  tolerance: opt(
    object({ echoLossDb: opt(positive(100)), minElevationDeg: opt(within(-5, 90)), floorDeg: opt(within(0, 90)) }),
  ),
  horizonMask: opt(list(object({ azDeg: within(0, 360), elDeg: within(-10, 90) }))),
})

export const PriorSchema = object({
  id: text(),
  feed: opt(text()),
  value: measure(),
  sigma: positive(1e9),
  measured: opt(flag()),
})

const ChangeSchema = object({
  id: name(),
  utc: utc(),
  what: v.pipe(list(text()), v.minLength(1, 'must name at least one thing that changed')),
  slipped: opt(flag()),
  note: opt(text()),
  expect: opt(list(PriorSchema)),
})

const ReferenceSchema = object({
  id: name(),
  utc: utc(),
  axis: oneOf(['lower', 'upper']),
  mark: name(),
  reading: measure(),
  sigmaDeg: opt(sigmaDeg()),
  note: opt(text()),
})

export const TargetSchema = variant(
  'type',
  [
    fields({ type: v.literal('moon') }),
    fields({ type: v.literal('sun') }),
    fields({ type: v.literal('source'), name: name() }),
    fields({ type: v.literal('geostationary'), lonDeg: within(-180, 180) }),
    fields({ type: v.literal('landmark'), azDeg: within(0, 360), elDeg: within(-90, 90) }),
  ],
  'must be "moon", "sun", "source", "geostationary" or "landmark"',
)

const SightingSchema = object({
  id: name(),
  utc: utc(),
  clockOffsetS: opt(measure()),
  target: TargetSchema,
  lower: measure(),
  upper: measure(),
  arrivedFrom: opt(object({ lower: opt(SideSchema), upper: opt(SideSchema) })),
  method: oneOf(['signal-peak', 'shadow', 'optical', 'cross-scan', 'drift-scan']),
  feed: opt(text()),
  offset: opt(object({ rightDeg: within(-180, 180), upDeg: within(-180, 180) })),
  shadow: opt(object({ rightMm: within(-1e5, 1e5), upMm: within(-1e5, 1e5) })),
  scan: opt(text()),
  sigmaDeg: opt(sigmaDeg()),
  cov: opt(object({ rr: measure(), ru: measure(), uu: measure() })),
  use: opt(oneOf(['auto', 'always', 'never'])),
  note: opt(text()),
  wind: opt(text()),
})

const level = {
  id: name(),
  utc: utc(),
  sigmaDeg: sigmaDeg(),
  instrument: opt(text()),
  clamping: opt(text()),
  note: opt(text()),
}
const valueDeg = within(-90, 90)

const LevelSchema = variant(
  'what',
  [
    fields({ ...level, what: v.literal('lower-axis-elevation'), valueDeg }),
    fields({ ...level, what: v.literal('upper-axis-elevation'), valueDeg, lower: measure() }),
    fields({ ...level, what: v.literal('mast-lean'), northDeg: within(-90, 90), eastDeg: within(-90, 90) }),
    fields({ ...level, what: v.literal('dish-elevation'), valueDeg, lower: measure(), upper: measure() }),
  ],
  'must be "lower-axis-elevation", "upper-axis-elevation", "mast-lean" or "dish-elevation"',
)

/** Records whose shape is not settled here may be anything; their ids count all the same. */
const AnySchema = v.unknown()

/** The lists of a station: the shape of a record, and whether the list may be left out. */
export const RECORD_LISTS = {
  feeds: { schema: FeedSchema, needed: true },
  priors: { schema: PriorSchema, needed: false },
  changes: { schema: ChangeSchema, needed: false },
  references: { schema: ReferenceSchema, needed: false },
  sightings: { schema: SightingSchema, needed: true },
  levels: { schema: LevelSchema, needed: false },
  adjusters: { schema: AnySchema, needed: false },
  scans: { schema: scanSchema(TargetSchema), needed: false },
  noise: { schema: NoiseSchema, needed: false },
  clockChecks: { schema: ClockCheckSchema, needed: false },
  instruments: { schema: InstrumentSchema, needed: false },
  checks: { schema: CheckSchema, needed: false },
  halfSightings: { schema: AnySchema, needed: false },
} as const

export type ListName = keyof typeof RECORD_LISTS
export const LIST_NAMES = Object.keys(RECORD_LISTS) as ListName[]
