/**
 * Checks of a station that are more than one sighting. After a storm: the peak on the Sun and the shadow of the same pose, and what was
 * said of them then. What they are made of are ordinary sightings; the answer is computed again whenever it is shown.
 * Records of another kind in the same list are left as they are.
 */
import * as v from 'valibot'
import { PARAMETER_IDS, type ParameterId } from './fieldbook.ts'
import { name, object, oneOf, text, utc } from './shapes.ts'

export const STORM_VERDICTS = ['as-before', 'feed-or-dish', 'mount-or-counter', 'both', 'moved'] as const

export interface StormCheckRecord {
  id: string
  /** Of the peak, as the phone's clock had it. */
  utc: string
  kind: 'storm'
  feed: string
  /** Ids of the sightings; no shadow: it could not be read. */
  peak: string
  shadow?: string
  /** As it was said then: what moved, and which axis's parameter fitted best. */
  verdict?: (typeof STORM_VERDICTS)[number]
  culprit?: ParameterId
  note?: string
}

const KnownSchema = object({
  id: name(),
  utc: utc(),
  kind: oneOf(['storm']),
  feed: text(),
  peak: name(),
  shadow: v.optional(name()),
  verdict: v.optional(oneOf(STORM_VERDICTS)),
  culprit: v.optional(oneOf(PARAMETER_IDS)),
  note: v.optional(text()),
})

const isKnown = (x: unknown): boolean =>
  typeof x === 'object' && x !== null && (x as { kind?: unknown }).kind === 'storm'

export const CheckSchema = v.lazy(x => (isKnown(x) ? (KnownSchema as v.GenericSchema) : v.unknown()))

/** The checks after a storm, in the order of the list. */
export const stormChecksOf = (records: readonly unknown[] | undefined): StormCheckRecord[] =>
  (records ?? []).filter((x): x is StormCheckRecord => isKnown(x) && v.safeParse(KnownSchema, x).success)
