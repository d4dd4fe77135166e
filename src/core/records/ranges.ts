/**
 * The ranges of a field book's numbers, in one place: the schemas check records by them, and the forms' fields accept what they allow,
 * or less (`TYPED`). [least, most], both allowed but where a comment says otherwise. The limits are those of the file format;
 * where it states none, a bound excludes numbers that no instrument shows.
 */
import { HOUR_S } from '../units.ts'

export type Range = readonly [least: number, most: number]

export const RANGES = {
  /** Of a rehearsal: what a person can read out to another. */
  seed: [0, 999_999],

  latDeg: [-90, 90],
  lonDeg: [-180, 180],
  heightM: [-500, 9000],
  pressureHPa: [0, 1200],
  temperatureC: [-100, 100],
  humidityPct: [0, 100],

  diameterM: [0.2, 100],
  focalRatio: [0.15, 2],
  surfaceRmsMm: [0, 1000],
  /** Above 0. */
  feedDiameterMm: [0, 1e5],

  frequencyMHz: [30, 300_000],
  /** 70 λ/D is 0.0007° at 300 GHz with 100 m: no amateur beam is narrower than a seventh of it. */
  beamwidthDeg: [0.0001, 180],
  /** Above 0. */
  systemTemperatureK: [0, 1e6],

  azimuthDeg: [0, 360],
  elevationDeg: [-90, 90],
  boresightOffsetDeg: [-45, 45],
  /** Readings, counts and whatever else an instrument shows. */
  measure: [-1e9, 1e9],
  /** Arms and lengths of a jack; above 0. */
  jackMm: [0, 1e6],
  /** Above 0. */
  countsPerMm: [0, 1e9],
  phiAtAngleZeroDeg: [-720, 720],
  /** Of an adjuster: from the axis that it turns to where it acts, and the pitch of its thread; above 0. */
  armMm: [0, 1e6],
  pitchMm: [0, 1000],

  /** Above 0. */
  echoLossDb: [0, 100],
  minElevationDeg: [-5, 90],
  floorDeg: [0, 90],
  maskElevationDeg: [-10, 90],

  /** Above 0. */
  sigmaDeg: [0, 45],
  /** Of a prior, in its own unit; above 0. */
  priorSigma: [0, 1e9],
  offsetDeg: [-180, 180],
  shadowMm: [-1e5, 1e5],

  /** A full circle either way, as some inclinometers show it. */
  circleDeg: [-360, 360],
  turnDeg: [-180, 180],
  /** What an inclinometer rounds to and trembles by. */
  finenessDeg: [0, 5],
  /** Of a reading that was taken: what was rounded to, the tremble, the spread, whatever it was read with. */
  takenSpreadDeg: [0, 90],

  biasDeg: [-45, 45],

  /** Of a clock; above 0. */
  clockSigmaS: [0, 1e6],

  /** The smallest step that a readout in degrees shows. Above 0. */
  stepDeg: [0, 10],

  /** How fast an axis is driven, and how far it runs on when its button is released; readings. Speed above 0. */
  readingsPerS: [0, 1e6],
  overrun: [0, 1e6],
  /** Above 0. */
  windKmh: [0, 300],

  /** Of a scan: a peak's height, a drift's width, a cross's points and steps in beamwidths; all above 0. */
  riseDb: [0, 100],
  widthS: [0, 1e6],
  points: [0, 1000],
  stepBeams: [0, 100],

  noiseDb: [-100, 100],
  /** Of a feed: mm or degrees. */
  settingAt: [-1e4, 1e4],
  /** Above 0. */
  sigmaDb: [0, 20],
  /** Above 0. */
  fluxSfu: [0, 1e7],
  /** Above 0. */
  kelvin: [0, 1e5],
  zenithDb: [0, 50],
  raisedDeg: [0, 90],
  lossDb: [0, 50],
  discDeg: [0, 5],
  gainDbi: [0, 100],

  /** Hours on the dial of a dish. */
  clock: [0, 12],
  /** Taped on a dish; above 0. */
  tapeMm: [0, 1e5],
  mouthMm: [0, 1e5],
  stringsMm: [0, 1e4],
  /** Above 0. */
  tapeSigmaMm: [0, 1000],
} as const satisfies Record<string, Range>

/**
 * What a form's field takes where that is less than the file allows: beyond it the number is a slip of the finger, and with a ± of
 * nearly nothing one slip would outweigh all other measurements. What a file brings from beyond is kept.
 */
export const TYPED = {
  /** A target that is half a right angle away was not sighted. */
  offsetDeg: [-45, 45],
  /** Nothing at a dish is known to better than a thousandth of a degree. */
  sigmaDeg: [0.001, RANGES.sigmaDeg[1]],
  /** Of a step or tremble in a swing, and of the sensor's own error. */
  swingSpreadDeg: [0, 10],

  /** A clock that is off by more than a day shows another date. */
  clockOffsetS: [-24 * HOUR_S, 24 * HOUR_S],
  clockSigmaS: [0.001, HOUR_S],

  /** What something was moved by in a change, by the person's own account. */
  shiftMm: [-1000, 1000],
  shiftSigmaMm: [0.01, 1000],
  turnSigmaDeg: [0.001, 180],

  /** A thread of two inches a turn is on no mount. */
  armMm: [1, 1e5],
  pitchMm: [0.1, 50],

  /** A dish is stowed in wind, not in still air. */
  windKmh: [1, RANGES.windKmh[1]],

  /** Of a receiver, in dB of whatever it refers to: 1e30 above or below is no level. */
  levelDb: [-300, 300],
  /** A target that does not stand out has no centre to be scanned for. */
  riseDb: [0.01, RANGES.riseDb[1]],
  riseSigmaDb: [0.001, RANGES.sigmaDb[1]],

  /** A tape that is off by a hand's width was read wrongly. */
  tapeSigmaMm: [0, 100],
  /** A phase centre lies within a metre of the feed's mouth. */
  phaseCentreMm: [-1000, 1000],
} as const satisfies Record<string, Range>
