/** The solution as it leaves the core: plain JSON, degrees, ratios and millimetres. */
import type { Axis, Method, ParameterId, PriorRecord, ReadoutRecord, TargetRecord } from './fieldbook.ts'

export type ParameterState = 'settled' | 'as measured' | 'open'

export interface SolvedParameter {
  id: ParameterId
  feed?: string
  label: string
  value: number
  sigma: number
  unit: 'deg' | 'mm' | 'ratio'
  prior: { value: number; sigma: number }
  state: ParameterState
}

export interface SolvedSighting {
  id: string
  /** Where the solved model puts the target minus where it was measured; arcs in the dish frame. */
  rightDeg: number
  upDeg: number
  sigmaDeg: number
  status: 'used' | 'outlier' | 'excluded'
  /** The sighting of which this is a copy (same target, method, feed and readings within 2 s): excluded, counted once. */
  repeats?: string
  /** Below 1 for sightings less than a minute apart, which share a part of their error: how much of one this one is worth. */
  weight?: number
}

export type SuspectKind =
  | 'counter-step'
  | 'clock-or-longitude'
  | 'reading-sense'
  | 'east-west-swapped'
  | 'readings-swapped'
  | 'wrong-body'
  | 'lost-motion'
  | 'feed-moved'
  | 'scale-far'
  | 'marked-always'
  | 'two-halves'

/** What the person can accept with one tap; made into records by core/fit/suspects/offer.ts. */
export type Offer =
  | { type: 'change'; utc: string; what: string[]; slipped?: boolean }
  | { type: 'sightings'; set: { id: string; lower?: number; upper?: number; target?: TargetRecord; use?: 'auto' }[] }
  /** Readings x of an axis become about - x, its limits with them. */
  | { type: 'mirror'; axis: Axis; about: number }
  | { type: 'readout'; axis: Axis; readout: ReadoutRecord }
  | { type: 'priors'; priors: PriorRecord[] }

/** Another explanation of the same misfit that the measurements cannot tell from the first. */
export interface Rival {
  kind: SuspectKind
  text: string
  deltaChi2: number
  axis?: 'lower' | 'upper'
}

export interface Suspect {
  kind: SuspectKind
  /** One sentence: what, where, how much, and what would settle it. */
  text: string
  /** Evidence: by how much the hypothesis lowers χ². */
  deltaChi2: number
  settle: string
  /** What else would explain it, best first; empty where nothing else does. */
  rivals: Rival[]
  offer?: Offer
  axis?: 'lower' | 'upper'
  feed?: string
  /** The sightings that it is about, where it is not about all. */
  ids?: string[]
  /** Two halves that do not fit together: each fitted by itself. */
  halves?: { name: string; ids: string[]; objective: number; rmsDeg: number; p95Deg?: number }[]
  /** Ids of the sightings or references between which it happened. */
  between?: [string, string]
  betweenUtc?: [string, string]
  /** Ids of the two readings of one mark that disagree. */
  marks?: [string, string]
  counts?: number
  angleDeg?: number
  sigmaDeg?: number
  clockS?: number
  longitudeDeg?: number
  sigmaS?: number
}

/** Why a mount is not said to be within tolerance; the weightiest first. */
export type WhyNot =
  | { kind: 'no-sightings' }
  | { kind: 'all-aside'; outliers: number }
  | { kind: 'suspect'; suspect: SuspectKind }
  | { kind: 'most-aside'; outliers: number; of: number }
  | { kind: 'out-of-reach' }
  | { kind: 'loss' }

interface ErrorSummary {
  /** rms of the expected error over the path. */
  rmsDeg: number
  /** Nine chances in ten that 95 % of the Moon time has less than this. */
  p95Deg: number
  /** As likely as not that 95 % of the Moon time has less than this. */
  p95TypicalDeg: number
  /** Nine chances in ten that no point of the path has more than this. */
  worstDeg: number
}

export interface SlopeOffset {
  slope: number
  offsetDeg: number
}

interface SlopeOffsetLines {
  lower: SlopeOffset
  upper: SlopeOffset
  /** The systematic error alone, over the Moon's path. */
  remaining: { rmsDeg: number; p95Deg: number }
}

/** A sighting that could be made: of what and how, when, where it stands then, and what the axes read. */
export interface SightingToMakeJson {
  target: 'sun' | 'moon'
  method: Method
  utc: string
  azDeg: number
  elDeg: number
  lower: number
  upper: number
}

export interface NextSighting extends SightingToMakeJson {
  rmsAfterDeg: number
}

export interface Solution {
  format: 'moonplumb-solution'
  version: 1
  station: string
  /** Id of the feed whose sky, tolerance, controller and next sightings these are. */
  feed: string
  solvedUtc: string
  setupFromUtc: string | null
  parameters: SolvedParameter[]
  sightings: SolvedSighting[]
  fit: { used: number; outliers: number; rmsDeg: number; misfit: number; iterations: number }
  suspects: Suspect[]
  sky: {
    hours: number
    toleranceDeg: number
    floorDeg: number
    before: ErrorSummary
    after: ErrorSummary
    echoLossP95Db: number
    echoLossWorstDb: number
    within: boolean
    /** Empty where it is within. */
    whyNot: WhyNot[]
  }
  controller: {
    /** corrected reading angle = slope × ideal angle + offset. */
    slopeOffset: SlopeOffsetLines
    /** For a program that works in azimuth and elevation and takes a turn in azimuth; null for an hour-angle mount. */
    virtualSite:
      | ({
          latDeg: number
          lonDeg: number
          /** To add to the azimuth computed for that place. */
          azimuthTurnDeg: number
        } & SlopeOffsetLines)
      | null
    /**
     * For an hour-angle mount, null for the others: where its axis points, by the end that points up. Hour angle (west +)
     * and declination are then counted about it, zero being the vertical plane through it; lower.offsetDeg is the hour
     * angle's zero.
     */
    pole: ({ azDeg: number; elDeg: number } & SlopeOffsetLines) | null
  }
  next: NextSighting[]
}
