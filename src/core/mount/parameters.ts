/** Parameters by id, as the table has them: unit, which changes restart one, words, the way back. */
import type { Move } from './moves.ts'
import { AXIS_NAMES, type MountKind } from './names.ts'
import {
  CHANGES,
  type Family,
  type PaperMount,
  type ParameterEntry,
  type Senses,
  type Where,
} from './parameterentry.ts'
import { PARAMETERS } from './parametertable.ts'

export type { Family, Senses, Where }
export type ParameterId = (typeof PARAMETERS)[number]['id']

const ENTRIES: readonly ParameterEntry[] = PARAMETERS
const BY_ID: ReadonlyMap<string, ParameterEntry> = new Map(ENTRIES.map(entry => [entry.id, entry]))

/** The ids of the mount as built, in the order in which they are listed. */
export const PARAMETER_IDS: readonly ParameterId[] = PARAMETERS.map(entry => entry.id)
/** Those that each feed has of its own. */
export const FEED_PARAMETERS: ReadonlySet<string> = new Set(ENTRIES.filter(e => e.ofFeed).map(e => e.id))
/** What a change record may name, besides `feed:ID`. */
export const CHANGE_NAMES: ReadonlySet<string> = new Set(CHANGES)

/** Null for an id that is not of the table. */
export const knownEntry = (id: string): ParameterEntry | null => BY_ID.get(id) ?? null

export const entryOf = (id: ParameterId): ParameterEntry => BY_ID.get(id)!

export const familyOf = (id: ParameterId): Family => entryOf(id).family

export const unitOf = (id: ParameterId): ParameterEntry['unit'] => entryOf(id).unit

/** Whether a kind of mount has it at all. */
export const isOfKind = (id: ParameterId, kind: MountKind): boolean => entryOf(id).kinds?.includes(kind) ?? true

/** Whether a change of `what` restarts it. @param feed  whose parameter it is; null: the mount's */
export const isRenewedBy = (what: string, id: ParameterId, feed: string | null): boolean =>
  what === 'all' ||
  (entryOf(id).renewedBy as readonly string[]).includes(what) ||
  (feed !== null && what === `feed:${feed}`)

/** σ of the prior where nothing is known, in degrees, mm or ratio. */
export const sigmaOfEntry = ({ sigma }: ParameterEntry, mount: PaperMount): number =>
  typeof sigma === 'number' ? sigma : sigma(mount)

export const priorSigma = (id: ParameterId, mount: PaperMount): number => sigmaOfEntry(entryOf(id), mount)

const MOST = { deg: 90, mm: 100_000, ratio: 0.9 } as const

/** The largest deviation that may be stated, in its unit: no mount is further off, and beyond it sines turn round. */
export const mostOf = (id: ParameterId): number => entryOf(id).most ?? MOST[unitOf(id)]

/** Whether it can be seen or taped when the part moves. */
export const isJudged = (id: ParameterId): boolean => entryOf(id).judged ?? false

const whereOf = ({ kind, latitude }: { kind: MountKind; latitude: number }): Where => ({
  kind,
  south: latitude < 0,
  axes: AXIS_NAMES[kind],
})

/** One line, without a full stop; the sense of + is in it. @param mount  latitude in any unit: its sign counts */
export function labelOf(id: ParameterId, mount: { kind: MountKind; latitude: number }): string {
  const { label } = entryOf(id)
  return typeof label === 'string' ? label : label(whereOf(mount))
}

/** What is off, without its direction, and what its two directions are called on this mount. */
export interface Subject {
  what: string
  senses: Senses
}

/** An id from a newer program is shown as it is. */
export function subjectOf(id: string, mount: { kind: MountKind; latitude: number }): Subject {
  const entry = knownEntry(id)
  if (entry === null) return { what: id, senses: ['less', 'more'] }
  const where = whereOf(mount)
  const { what, senses } = entry
  return {
    what: typeof what === 'string' ? what : what(where),
    senses: typeof senses === 'function' ? senses(where) : senses,
  }
}

/** The move that undoes a deviation of this sign; null where no spanner reaches it. */
export function moveAgainst(
  id: ParameterId,
  isPositive: boolean,
  mount: { kind: MountKind; latitude: number },
): Move | null {
  const { back } = entryOf(id)
  const moves = typeof back === 'function' ? back(whereOf(mount)) : back
  return moves?.[isPositive ? 0 : 1] ?? null
}
