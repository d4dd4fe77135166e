/**
 * Noise records: how far one source was above another through a feed, and rows of that against a setting of the feed. dB,
 * ratios of power, kelvin, mm or degrees. Entries with another `of` are left as they are.
 */
import * as v from 'valibot'
import { RANGES } from '../ranges.ts'
import { hasOneOf, known, list, measure, name, object, oneOf, opt, positive, text, utc, within } from '../shapes.ts'

/** Sun or Moon over the cold sky beside it; ground (or wood) over cold sky; a load at the feed over cold sky. */
export const NOISE_OF = ['sun', 'moon', 'ground', 'load'] as const

const kelvin = () => positive(RANGES.kelvin)
const flux = () => positive(RANGES.fluxSfu)

export const NoiseSchema = object({
  id: name(),
  utc: utc(),
  feed: text(),
  of: oneOf(NOISE_OF),
  /** The rise, dB; or else the two levels as the receiver showed them: dB, or any unit proportional to power. */
  yDb: opt(within(RANGES.noiseDb)),
  levels: opt(object({ hot: measure(), cold: measure(), unit: oneOf(['dB', 'power']) })),
  /** 1 σ of the rise, dB; 0.1 where the person says nothing. */
  sigmaDb: opt(positive(RANGES.sigmaDb)),
  /** Sun: its flux at the feed's frequency; or else at published ones; or neither, while it is not known. Solar flux units. */
  fluxSfu: opt(flux()),
  fluxAt: opt(list(object({ frequencyMHz: within(RANGES.frequencyMHz), sfu: flux() }))),
  /** Moon: its brightness. Ground or load: its temperature. The cold sky's, with what spills over the rim. */
  brightnessK: opt(kelvin()),
  hotK: opt(kelvin()),
  coldK: opt(kelvin()),
  /** What the air takes straight up, and how high the source stood. */
  air: opt(object({ zenithDb: within(RANGES.zenithDb), elDeg: within(RANGES.raisedDeg) })),
  /** Cover, pointing and whatever else stands before the feed. */
  lossDb: opt(within(RANGES.lossDb)),
  /** How wide the disc was taken; none: 0.53° the Sun, 0.518° the Moon. */
  discDeg: opt(within(RANGES.discDeg)),
  /** The dish's gain where it is known; none: that of 55 % of its area. */
  gainDbi: opt(within(RANGES.gainDbi)),
  note: opt(text()),
})

/** What of a feed is moved between the readings of a row: mm along the axis, mm of the choke ring, degrees about the axis. */
export const ROW_SETTINGS = ['axial', 'choke-ring', 'rotation'] as const

/** A row of Sun noise against a setting of the feed. */
export const NoiseRowSchema = object({
  id: name(),
  utc: utc(),
  feed: text(),
  of: oneOf(['sun-row']),
  setting: oneOf(ROW_SETTINGS),
  /** In the order in which they were taken. */
  readings: list(object({ at: within(RANGES.settingAt), yDb: within(RANGES.noiseDb) })),
  /** 1 σ of every reading, dB; none: by the scatter of the row. */
  sigmaDb: opt(positive(RANGES.sigmaDb)),
  note: opt(text()),
})

export const AnyNoiseSchema = known(
  hasOneOf('of', [...NOISE_OF, 'sun-row']),
  v.lazy(x => (hasOneOf('of', NOISE_OF)(x) ? NoiseSchema : NoiseRowSchema) as v.GenericSchema<unknown>),
)
