/**
 * The field book as it lies in its file: plain JSON, degrees, millimetres, readings as the counters show them.
 * These types say what the program reads; a real book may carry more (unknown fields and records survive a round trip).
 * The rules that a book must keep are in schema.ts.
 */
import type { Axis, MountKind, Side } from '../mount/names.ts'
import type { DishMeasuresRecord } from './dishmeasure.ts'
import type { RecordKind } from './kinds.ts'
import type { Made } from './made.ts'

export type { Axis, MountKind, Side } from '../mount/names.ts'
export type { ParameterId } from '../mount/parameters.ts'

export interface FieldBook {
  format: 'moonplumb-fieldbook'
  version: 1
  exportedUtc: string
  stations: StationRecord[]
  /** What was deleted, for other phones. */
  deletions?: DeletionRecord[]
}

/** What was deleted, at the top of a file: so that programs that do not know it carry it along. */
export interface DeletionRecord {
  kind: RecordKind
  station: string
  /** Of the entry; left out for a station. */
  id?: string
  made: Made
}

export interface StationRecord {
  id: string
  name: string
  notes?: string
  site: SiteRecord
  dish: DishRecord
  feeds: FeedRecord[]
  mount: MountRecord
  tolerance?: ToleranceRecord
  /** Linear between the points, round the circle. */
  horizonMask?: { azDeg: number; elDeg: number }[]
  priors?: PriorRecord[]
  adjusters?: unknown[]
  changes?: ChangeRecord[]
  references?: ReferenceRecord[]
  sightings: SightingRecord[]
  levels?: LevelRecord[]
  scans?: unknown[]
  noise?: unknown[]
  clockChecks?: unknown[]
  instruments?: unknown[]
  checks?: unknown[]
  /** Suspects that the person has put aside (dismissed.ts). */
  dismissed?: unknown
}

export interface SiteRecord {
  latDeg: number
  lonDeg: number
  heightM: number
  air?: { pressureHPa?: number; temperatureC?: number; humidityPct?: number }
}

export interface DishRecord {
  diameterM: number
  focalRatio: number
  surfaceRmsMm?: number
  feedDiameterMm?: number
  /** What was taped on it; diameter and focal ratio above are what the program goes by. */
  measured?: DishMeasuresRecord
}

export interface FeedRecord {
  id: string
  name: string
  frequencyMHz: number
  beamwidthDeg?: number
  systemTemperatureK?: number
  hearsMoonEchoes?: boolean
}

export interface MountRecord {
  kind: MountKind
  /** Needed for az-over-el and x-y. */
  headingDeg?: number
  /** az-over-el: the dish's nominal offset above the swing plane. */
  boresightOffsetDeg?: number
  lower: AxisRecord
  upper: AxisRecord
}

export interface AxisRecord {
  readout: ReadoutRecord
  minReading: number
  maxReading: number
  /** The pairs that the readout was last calibrated with; kept beside it, not used. */
  calibration?: { utc: string; pairs: { reading: number; angleDeg: number; sigmaDeg: number; from?: Side }[] }
}

export type ReadoutRecord =
  | { type: 'degrees' }
  | { type: 'linear-counts'; zeroCounts: number; countsPerDeg: number }
  | {
      type: 'jack'
      baseArmMm: number
      rodArmMm: number
      lengthAtReadingZeroMm: number
      countsPerMm: number
      phiAtAngleZeroDeg: number
      direction: 1 | -1
    }

export interface ToleranceRecord {
  echoLossDb?: number
  minElevationDeg?: number
  floorDeg?: number
}

/** Degrees; scale as a ratio; millimetres. A feed's parameter names its feed ("feedRight:a") or means every feed. */
export interface PriorRecord {
  id: string
  feed?: string
  value: number
  sigma: number
  measured?: boolean
}

export interface ChangeRecord {
  id: string
  utc: string
  /** all, lower-axis, lower-zero, upper-zero, lower-readout, upper-readout, dish, feed:ID, tube */
  what: string[]
  /**
   * True where a zero is named because its counter slipped: the zero itself carries on, the readings are short by one number
   * of counts from here on, which the fit finds. On a jack that is not the same as a turned zero.
   */
  slipped?: boolean
  note?: string
  expect?: PriorRecord[]
}

export interface ReferenceRecord {
  id: string
  utc: string
  axis: Axis
  mark: string
  reading: number
  sigmaDeg?: number
  note?: string
}

export type TargetRecord =
  | { type: 'moon' }
  | { type: 'sun' }
  | { type: 'source'; name: string }
  | { type: 'geostationary'; lonDeg: number }
  | { type: 'landmark'; azDeg: number; elDeg: number }

export type Method = 'signal-peak' | 'shadow' | 'optical' | 'cross-scan' | 'drift-scan'
export type Use = 'auto' | 'always' | 'never'

export interface SightingRecord {
  id: string
  utc: string
  clockOffsetS?: number
  target: TargetRecord
  lower: number
  upper: number
  arrivedFrom?: { lower?: Side; upper?: Side }
  method: Method
  feed?: string
  offset?: { rightDeg: number; upDeg: number }
  shadow?: { rightMm: number; upMm: number }
  scan?: string
  sigmaDeg?: number
  cov?: { rr: number; ru: number; uu: number }
  use?: Use
  note?: string
  wind?: string
}

export type LevelRecord = {
  id: string
  utc: string
  sigmaDeg: number
  instrument?: string
  clamping?: string
  note?: string
} & (
  | { what: 'lower-axis-elevation'; valueDeg: number }
  | { what: 'upper-axis-elevation'; valueDeg: number; lower: number }
  | { what: 'mast-lean'; northDeg: number; eastDeg: number }
  | { what: 'dish-elevation'; valueDeg: number; lower: number; upper: number }
)
