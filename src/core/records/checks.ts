/**
 * Checks of a station that are more than one sighting. After a storm: when it began, what was measured for it, and what was said then.
 * What they are made of are ordinary sightings, levels and marks; the answer is computed again, from all since, whenever it is shown.
 * Records of another kind in the same list are left as they are.
 */
import * as v from 'valibot'
import { PARAMETER_IDS } from '../mount/parameters.ts'
import type { ParameterId } from './fieldbook.ts'
import { list, name, object, oneOf, text, utc } from './shapes.ts'

/** The first five were said by the first versions, of one peak and one shadow. */
export const STORM_VERDICTS = [
  'as-before',
  'feed-or-dish',
  'mount-or-counter',
  'both',
  'moved',
  'nothing-moved',
  'cannot-tell',
] as const

export interface StormCheckRecord {
  id: string
  /** From when on things were measured for it, as the phone's clock had it: the first sighting's time. */
  utc: string
  kind: 'storm'
  feed: string
  /** Ids of the first sightings; no shadow: it could not be read. */
  peak: string
  shadow?: string
  /** Ids of what was measured for it later. */
  sightings?: string[]
  levels?: string[]
  references?: string[]
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
  sightings: v.optional(list(name())),
  levels: v.optional(list(name())),
  references: v.optional(list(name())),
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
