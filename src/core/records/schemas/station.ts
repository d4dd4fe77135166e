/** A station without its lists of records: site, dish, mount, what is allowed. Degrees, metres, millimetres. */
import * as v from 'valibot'
import { MOUNT_KINDS } from '../../mount/names.ts'
import { RANGES } from '../ranges.ts'
import {
  fields,
  flag,
  list,
  measure,
  name,
  nonZero,
  object,
  oneOf,
  opt,
  positive,
  sigmaDeg,
  text,
  utc,
  variant,
  whole,
  within,
} from '../shapes.ts'
import { SideSchema } from './common.ts'
import { DishMeasuresSchema } from './dishmeasure.ts'
import { DismissedSchema } from './dismissed.ts'
import { GuessesSchema } from './guesses.ts'

const SiteSchema = object({
  latDeg: within(RANGES.latDeg),
  lonDeg: within(RANGES.lonDeg),
  heightM: within(RANGES.heightM),
  air: opt(
    object({
      pressureHPa: opt(within(RANGES.pressureHPa)),
      temperatureC: opt(within(RANGES.temperatureC)),
      humidityPct: opt(within(RANGES.humidityPct)),
    }),
  ),
})

const DishSchema = object({
  diameterM: within(RANGES.diameterM),
  focalRatio: within(RANGES.focalRatio),
  /** Where the feed sits; left out: prime focus. With an offset feed no shadow, rim distance or advice in mm is worked out. */
  fed: opt(oneOf(['prime-focus', 'offset'])),
  surfaceRmsMm: opt(within(RANGES.surfaceRmsMm)),
  feedDiameterMm: opt(positive(RANGES.feedDiameterMm)),
  /** What was taped on it; diameter and focal ratio above are what the program goes by. */
  measured: opt(DishMeasuresSchema),
})

export const FeedSchema = object({
  id: name(),
  name: name(),
  frequencyMHz: within(RANGES.frequencyMHz),
  beamwidthDeg: opt(within(RANGES.beamwidthDeg)),
  systemTemperatureK: opt(positive(RANGES.systemTemperatureK)),
  hearsMoonEchoes: opt(flag()),
})

export const ReadoutSchema = variant(
  'type',
  [
    fields({ type: v.literal('degrees') }),
    fields({ type: v.literal('linear-counts'), zeroCounts: measure(), countsPerDeg: nonZero() }),
    fields({
      type: v.literal('jack'),
      baseArmMm: positive(RANGES.jackMm),
      rodArmMm: positive(RANGES.jackMm),
      lengthAtReadingZeroMm: positive(RANGES.jackMm),
      countsPerMm: positive(RANGES.countsPerMm),
      phiAtAngleZeroDeg: within(RANGES.phiAtAngleZeroDeg),
      direction: oneOf([1, -1]),
    }),
  ],
  'must be "degrees", "linear-counts" or "jack"',
)

/** A pair that a readout was calibrated with. */
export const PairSchema = object({
  reading: measure(),
  angleDeg: measure(),
  sigmaDeg: sigmaDeg(),
  from: opt(SideSchema),
})

/** How an axis is driven by hand, as the person measured it; readings as the axis shows them. */
export const DriveSchema = object({
  /** Readings in a second, while it runs. */
  readingsPerS: positive(RANGES.readingsPerS),
  /** How far it runs on once its button is released. */
  overrun: opt(within(RANGES.overrun)),
  /** From which side to arrive always, so that play lies on one side: '+' with the reading going up. */
  arriveFrom: opt(SideSchema),
})

export const AxisSchema = object({
  readout: ReadoutSchema,
  /** The smallest step that a readout in degrees shows, else 0.1°. For showing readings; the solution does not use it. */
  stepDeg: opt(positive(RANGES.stepDeg)),
  minReading: measure(),
  maxReading: measure(),
  /** The pairs that the readout was last calibrated with; kept beside it, not used. */
  calibration: opt(object({ utc: utc(), pairs: list(PairSchema) })),
  drive: opt(DriveSchema),
})

export const MountSchema = object({
  kind: oneOf(MOUNT_KINDS),
  /** Needed for az-over-el and x-y. */
  headingDeg: opt(within(RANGES.azimuthDeg)),
  /** az-over-el: the dish's nominal offset above the swing plane. */
  boresightOffsetDeg: opt(within(RANGES.boresightOffsetDeg)),
  lower: AxisSchema,
  upper: AxisSchema,
})

/** Where the dish is put out of the wind's way: readings as the axes show them. */
export const StowSchema = object({
  lower: measure(),
  upper: measure(),
  /** The wind at which the person goes there. */
  windKmh: opt(positive(RANGES.windKmh)),
  note: opt(text()),
})

const ToleranceSchema = object({
  echoLossDb: opt(positive(RANGES.echoLossDb)),
  minElevationDeg: opt(within(RANGES.minElevationDeg)),
  floorDeg: opt(within(RANGES.floorDeg)),
})

/** Degrees; scale as a ratio; millimetres. A feed's parameter names its feed ("feedRight:a") or means every feed. */
export const PriorSchema = object({
  id: text(),
  feed: opt(text()),
  value: measure(),
  sigma: positive(RANGES.priorSigma),
  measured: opt(flag()),
})

const HorizonSchema = list(object({ azDeg: within(RANGES.azimuthDeg), elDeg: within(RANGES.maskElevationDeg) }))

/** A station without its measurements, as a rehearsal copies it. */
const PaperSchema = object({
  site: SiteSchema,
  dish: DishSchema,
  feeds: list(FeedSchema),
  mount: MountSchema,
  tolerance: opt(ToleranceSchema),
  horizonMask: opt(HorizonSchema),
})

/** What makes a dish that does not exist: the same setup, the same dish (rehearse/world.ts). */
const RehearsalSchema = object({
  seed: whole(RANGES.seed),
  difficulty: oneOf(['beginner', 'ordinary', 'hard']),
  kind: oneOf(MOUNT_KINDS),
  /** What the rehearsal's clock showed when it began. */
  startUtc: utc(),
  /** The station as entered that it copies; without it that is drawn by chance too. Editing the station does not move the dish. */
  paper: opt(PaperSchema),
  /** What was done to the dish itself since: a parameter's id, and by how much in its unit. */
  deeds: opt(list(object({ utc: utc(), id: text(), by: measure() }))),
})

export const StationSchema = object({
  id: name(),
  name: name(),
  notes: opt(text()),
  site: SiteSchema,
  dish: DishSchema,
  mount: MountSchema,
  tolerance: opt(ToleranceSchema),
  /** Linear between the points, round the circle. */
  horizonMask: opt(HorizonSchema),
  stow: opt(StowSchema),
  /** Numbers above that nobody measured. */
  guesses: opt(GuessesSchema),
  /** Suspects that the person has dismissed. */
  dismissed: opt(list(DismissedSchema)),
  /** Made by the program to look around in: marked on every screen; its deletion is not passed on to other phones. */
  demo: opt(flag()),
  /** The time that the clock is set to when this demo station is opened, so that Sun and Moon are where the demo wants them. */
  demoUtc: opt(utc()),
  /** A rehearsal: nothing here was measured on a dish that exists. Marked on every screen; its deletion is not passed on to other phones. */
  rehearsal: opt(flag()),
  rehearsalSetup: opt(RehearsalSchema),
})
