/** The shape of an entry in the table of parameters (`parametertable.ts`), and the words it is made of. */
import type { Readout } from '../readout/readout.ts'
import type { Move } from './moves.ts'
import type { Axis, MountKind } from './names.ts'

/** What a change record may name, beside `feed:ID`. */
export const CHANGES = [
  'all',
  'lower-axis',
  'lower-zero',
  'upper-zero',
  'lower-readout',
  'upper-readout',
  'dish',
  'tube',
] as const
type ChangeName = (typeof CHANGES)[number]

/** Parameters of one family stay or go together, and share the words of a group. */
export type Family =
  | 'heading'
  | 'level'
  | 'lean'
  | 'pole'
  | 'zero'
  | 'scale'
  | 'arms'
  | 'dish'
  | 'feed'
  | 'squint'
  | 'tube'
  | 'play'

/** What the prior's σ depends on. */
export interface PaperMount {
  kind: MountKind
  lower: { readout: Pick<Readout, 'type'> }
  upper: { readout: Pick<Readout, 'type'> }
}

/** What the words depend on. */
export interface Where {
  kind: MountKind
  /** South of the equator. There the north-pole end points into the ground: what is seen is the other end, moving the other way. */
  south: boolean
  /** What the axes of this mount are called. */
  axes: { lower: string; upper: string }
}

type By<From, T> = T | ((from: From) => T)
/** [what is said below zero, what above]. */
export type Senses = readonly [minus: string, plus: string]

export interface ParameterEntry {
  id: string
  /** Its place in the flat array of a mount as built; entries of one slot exclude each other by kind of mount. */
  slot: string
  unit: 'deg' | 'mm' | 'ratio'
  family: Family
  /** Of zeros, scales, arms and play. */
  axis?: Axis
  /** Each feed has its own. */
  ofFeed?: true
  /** The kinds of mount that have it; all unless given. */
  kinds?: readonly MountKind[]
  /** The station has it only with a jack; without one; where a tube was sighted through or is known; where arrivals are noted. */
  needs?: 'jack' | 'no-jack' | 'tube' | 'arrivals'
  /** σ of the prior where nothing is known. */
  sigma: By<PaperMount, number>
  /** The largest deviation from paper that a mount can have. Default: 90°, 100 m, 0.9. */
  most?: number
  /** The changes that restart it, besides 'all' and its feed's. */
  renewedBy: readonly ChangeName[]
  /** A person can see or tape it when the part moves, and so may give an expected value. */
  judged?: true
  /** One line, without a full stop; the sense of + is in it. */
  label: By<Where, string>
  /** What is off, without its direction. */
  what: By<Where, string>
  /** Beside a bar, in three words at most; left out where the axis and the family say it. */
  short?: string
  senses: By<Where, Senses>
  /** [what undoes a positive value, what undoes a negative one]. */
  back?: By<Where, readonly [Move, Move]>
  /** Where no spanner reaches it: it bends, or it is slack. Left out: a number for the software. */
  besides?: 'stiffen' | 'slack'
}
