/**
 * Noise records of a station: how much louder one thing was than another through a feed. dB, ratios of power, kelvin.
 * Records of another kind in the same list are left as they are: only an `of` named here is read and held to these rules.
 */
import * as v from 'valibot'
import { list, name, object, oneOf, positive, text, utc, within } from './shapes.ts'

/** Sun or Moon over the cold sky beside it; ground (or wood) over cold sky; a load at the feed over cold sky. */
export const NOISE_OF = ['sun', 'moon', 'ground', 'load'] as const
export type NoiseOf = (typeof NOISE_OF)[number]

export interface NoiseRecord {
  id: string
  utc: string
  feed: string
  of: NoiseOf
  /** The rise, dB; or else the two levels as the receiver showed them: dB, or any unit proportional to power. */
  yDb?: number
  levels?: { hot: number; cold: number; unit: 'dB' | 'power' }
  /** 1 σ of the rise, dB; 0.1 where the person says nothing. */
  sigmaDb?: number
  /** Sun: its flux at the feed's frequency; or else at published ones. Solar flux units. */
  fluxSfu?: number
  fluxAt?: { frequencyMHz: number; sfu: number }[]
  /** Moon: its brightness. Ground or load: its temperature. The cold sky's, with what spills over the rim. */
  brightnessK?: number
  hotK?: number
  coldK?: number
  /** What the air takes straight up, and how high the source stood. */
  air?: { zenithDb: number; elDeg: number }
  /** Cover, pointing and whatever else stands before the feed. */
  lossDb?: number
  /** How wide the disc was taken; none: 0.53° the Sun, 0.518° the Moon. */
  discDeg?: number
  /** The dish's gain where it is known; none: that of 55 % of its area. */
  gainDbi?: number
  note?: string
}

const opt = v.optional
const kelvin = () => positive(1e5)

const KnownSchema = object({
  id: name(),
  utc: utc(),
  feed: text(),
  of: oneOf(NOISE_OF),
  yDb: opt(within(-100, 100)),
  levels: opt(object({ hot: within(-1e9, 1e9), cold: within(-1e9, 1e9), unit: oneOf(['dB', 'power']) })),
  sigmaDb: opt(positive(20)),
  fluxSfu: opt(positive(1e7)),
  fluxAt: opt(list(object({ frequencyMHz: within(30, 300_000), sfu: positive(1e7) }))),
  brightnessK: opt(kelvin()),
  hotK: opt(kelvin()),
  coldK: opt(kelvin()),
  air: opt(object({ zenithDb: within(0, 50), elDeg: within(0, 90) })),
  lossDb: opt(within(0, 50)),
  discDeg: opt(within(0, 5)),
  gainDbi: opt(within(0, 100)),
  note: opt(text()),
})

const ofOf = (x: unknown): unknown => (typeof x === 'object' && x !== null ? (x as { of?: unknown }).of : undefined)
const isKnown = (x: unknown): boolean => (NOISE_OF as readonly unknown[]).includes(ofOf(x))

export const NoiseSchema = v.lazy(x => (isKnown(x) ? (KnownSchema as v.GenericSchema) : v.unknown()))

/** The noise records of a list that this program knows how to read, in the order of the list. */
export const noiseOf = (records: readonly unknown[] | undefined): NoiseRecord[] =>
  (records ?? []).filter((x): x is NoiseRecord => v.safeParse(KnownSchema, x).success)

/** Y as a ratio of powers. */
export function ratioOf(record: NoiseRecord): number {
  const { levels } = record
  if (levels?.unit === 'power') return levels.hot / levels.cold
  return 10 ** ((levels === undefined ? (record.yDb ?? 0) : levels.hot - levels.cold) / 10)
}
