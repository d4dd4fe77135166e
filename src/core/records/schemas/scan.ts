/**
 * Scans, as they lie in the file: readings as shown, levels in the scale in which they were read, seconds after `utc`. An entry
 * whose `what` is another, or missing, is kept as it is.
 */
import * as v from 'valibot'
import { RANGES } from '../ranges.ts'
import {
  fields,
  flag,
  hasOneOf,
  known,
  list,
  measure,
  name,
  object,
  oneOf,
  opt,
  positive,
  text,
  utc,
  variant,
} from '../shapes.ts'
import { ArrivedSchema, AxisNameSchema, clockOffsetS, SideSchema, TargetSchema } from './common.ts'

export const SCAN_KINDS = ['drift', 'cross', 'part'] as const

/** Left out by the person: kept, not fitted. */
const out = opt(v.literal(true, 'must be true, or not there'))

export const DriftSampleSchema = object({
  /** Seconds after `utc`. */
  s: measure(),
  level: measure(),
  out,
})

/**
 * Tapped without a figure: the level rises through a place that can be found again, falls through the same one (the last
 * rising one still open), that place was missed, or it stood highest.
 */
export const TapMarkSchema = object({ s: measure(), mark: oneOf(['rising', 'same', 'missed', 'peak']) })

export const CrossSampleSchema = object({
  s: measure(),
  axis: AxisNameSchema,
  lower: measure(),
  upper: measure(),
  level: measure(),
  /** From which side the scanned axis arrived. */
  from: opt(SideSchema),
  out,
})

/** One of two readings on either side of the peak at one and the same level; both have the same `pair`. */
export const EqualMarkSchema = object({
  s: measure(),
  axis: AxisNameSchema,
  lower: measure(),
  upper: measure(),
  pair: measure(),
})

const scan = {
  id: name(),
  /** Start; the samples count their seconds from here. */
  utc: utc(),
  /** Device minus true, as in a sighting. */
  clockOffsetS: clockOffsetS(),
  target: TargetSchema,
  feed: opt(text()),
  /** What the levels are: dB, or linear power in any unit. */
  scale: oneOf(['dB', 'linear']),
  /** How the levels came: read off and typed, tapped as they changed, or pasted from a receiver's log. */
  how: opt(oneOf(['typed', 'tapped', 'pasted'])),
  note: opt(text()),
  wind: opt(text()),
}
const samples = list(DriftSampleSchema)
/** When nothing was listened to, as while the page was hidden. */
const gaps = opt(list(object({ fromS: measure(), toS: measure() })))
const marks = opt(list(TapMarkSchema))

/** The dish stood parked; the target drifted through. */
export const DriftScanSchema = fields({
  ...scan,
  what: v.literal('drift'),
  lower: measure(),
  upper: measure(),
  arrivedFrom: opt(ArrivedSchema),
  samples,
  gaps,
  marks,
  /** How far the target is above cold sky in the beam's centre, where that is known. */
  centre: opt(object({ riseDb: positive(RANGES.riseDb), sigmaDb: positive(RANGES.sigmaDb) })),
  /** What was expected when the dish was parked there. */
  expect: opt(object({ peakUtc: utc(), widthS: positive(RANGES.widthS) })),
})

/** Levels at readings along each axis. */
export const CrossScanSchema = fields({
  ...scan,
  what: v.literal('cross'),
  samples: list(CrossSampleSchema),
  marks: opt(list(EqualMarkSchema)),
  /** How it was planned: steps in beamwidths; `both`: every axis from either side. */
  plan: opt(
    object({
      points: positive(RANGES.points),
      step: positive(RANGES.stepBeams),
      from: SideSchema,
      axes: list(AxisNameSchema),
      both: opt(flag()),
    }),
  ),
})

/**
 * More samples of the drift scan named by `scan`: long scans are stored in parts, so that storing each sample at once does not
 * write the whole scan again. `samples` and `gaps` count from the scan's own `utc`.
 */
export const ScanPartSchema = fields({ id: name(), what: v.literal('part'), scan: name(), samples, gaps, marks })

export const AnyScanSchema = known(
  hasOneOf('what', SCAN_KINDS),
  variant('what', [DriftScanSchema, CrossScanSchema, ScanPartSchema], 'must be "drift", "cross" or "part"'),
)
