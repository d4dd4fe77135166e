/**
 * Checks of a station that are more than one sighting. After a storm: when it began, what was measured for it, and what was
 * said then. Entries of another `kind` are left as they are.
 */
import { PARAMETER_IDS } from '../../mount/parameters.ts'
import { hasOneOf, known, list, name, object, oneOf, opt, text, utc } from '../shapes.ts'

/** The first four were said by the first versions, of one peak and one shadow. */
export const STORM_VERDICTS = [
  'as-before',
  'feed-or-dish',
  'mount-or-counter',
  'both',
  'moved',
  'nothing-moved',
  'cannot-tell',
] as const

export const StormCheckSchema = object({
  id: name(),
  /** From when on things were measured for it, as the phone's clock had it: the first sighting's time. */
  utc: utc(),
  kind: oneOf(['storm']),
  feed: text(),
  /** Ids of the first sightings; no shadow: it could not be read. */
  peak: name(),
  shadow: opt(name()),
  /** Ids of what was measured for it later. */
  sightings: opt(list(name())),
  levels: opt(list(name())),
  references: opt(list(name())),
  /** As it was said then: what moved, and which axis's parameter fitted best. */
  verdict: opt(oneOf(STORM_VERDICTS)),
  culprit: opt(oneOf(PARAMETER_IDS)),
  note: opt(text()),
})

export const AnyCheckSchema = known(hasOneOf('kind', ['storm']), StormCheckSchema)
