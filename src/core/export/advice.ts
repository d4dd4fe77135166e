/**
 * What to turn with a spanner, from what the fit found. A parameter says how the mount stands; the advice is the way
 * back: a part of the mount and where to move it. Degrees or millimetres, as in the solution.
 *
 * Left and right, forward and back are those of someone behind the mount who looks the way it faces; north, south, east
 * and west are the compass's; clockwise is seen from above. "Dish at the meridian" is understood for ha-dec.
 */
import type { Move, MovedPart, Toward } from '../mount/moves.ts'
import { entryOf, moveAgainst } from '../mount/parameters.ts'
import type { MountKind } from '../records/fieldbook.ts'
import type { SolvedParameter } from '../records/solution.ts'
import { type Deg, radFromDeg } from '../units.ts'

export type { Move, MovedPart, Toward }

export type Advice =
  /**
   * Move it by `size`. `firstStep`: the parameter is open, but surely not zero; after this, sight again.
   * `size` > 0, in `unit`.
   */
  | (Move & {
      kind: 'move'
      size: number
      sigma: number
      unit: 'deg' | 'mm'
      firstStep: boolean
      aboutVertical?: AboutVertical
    })
  /** Found to be no more than its own uncertainty: nothing to turn. */
  | { kind: 'leave' }
  /** Open: the sightings do not say yet. */
  | { kind: 'not-yet' }
  /** A number for the program, not for a spanner. */
  | { kind: 'software' }
  /** It bends: a stay or a stiffer arm, else a number for the software. */
  | { kind: 'stiffen' }
  /** Slack: take it up, and always arrive from one side. */
  | { kind: 'slack' }

/** The polar axis moved sideways by turning its whole foot about the vertical instead: more turn, and a new zero. */
export interface AboutVertical {
  toward: 'clockwise' | 'anticlockwise'
  sizeDeg: Deg
  sigmaDeg: Deg
  /** By how much `lowerZero` changes with it. */
  zeroShiftDeg: Deg
}

/** The mount, as far as the words depend on it. */
interface AdvisedMount {
  kind: MountKind
  latDeg: Deg
}

/** Below this many σ a value may be zero (1 in 20): leave the bolt alone. */
export const WORTH_TURNING = 2
/** An open parameter may still be so far off that a first step is sure to help. */
const SURELY_OFF = 3
/** Nearer to the pole than this, turning the foot is no way to move the axis sideways. */
const STEEP_DEG = 75

/** What to do about one parameter. */
export function adviceFor(
  p: Pick<SolvedParameter, 'id' | 'value' | 'sigma' | 'unit' | 'state'>,
  mount: AdvisedMount,
): Advice {
  const { id, value, sigma } = p
  const { besides } = entryOf(id)
  if (besides !== undefined) return { kind: besides }
  const move = moveAgainst(id, value > 0, { kind: mount.kind, latitude: mount.latDeg })
  if (move === null || p.unit === 'ratio') return { kind: 'software' }
  const isOpen = p.state === 'open'
  const size = Math.abs(value)
  if (isOpen && !(size > SURELY_OFF * sigma)) return { kind: 'not-yet' }
  if (!(size > WORTH_TURNING * sigma)) return { kind: 'leave' }
  return {
    kind: 'move',
    ...move,
    size,
    sigma,
    unit: p.unit,
    firstStep: isOpen,
    ...(id === 'poleEast' && Math.abs(mount.latDeg) < STEEP_DEG ? { aboutVertical: turnOfFoot(p, mount) } : {}),
  }
}

/**
 * A turn a about the vertical is a cos φ sideways at the pole and a sin φ about the axis itself, which the hour angle's
 * zero takes up.
 */
function turnOfFoot(
  { value, sigma }: Pick<SolvedParameter, 'value' | 'sigma'>,
  { latDeg }: AdvisedMount,
): AboutVertical {
  const lat = radFromDeg(latDeg)
  return {
    toward: value > 0 ? 'anticlockwise' : 'clockwise',
    sizeDeg: Math.abs(value) / Math.cos(lat),
    sigmaDeg: sigma / Math.cos(lat),
    zeroShiftDeg: -value * Math.tan(lat),
  }
}

/**
 * What a change record of this move names, so that the next solution restarts it. A polar axis moved sideways
 * by its foot takes the hour angle's zero with it; an upper axis tipped under a dish that does not look square to it, the
 * upper zero.
 */
export function changeOf({ part, toward }: Move, feed: string | undefined): string[] {
  switch (part) {
    case 'feed':
      return [`feed:${feed ?? ''}`]
    case 'tube':
    case 'dish':
      return [part]
    case 'polar-axis':
      return toward === 'east' || toward === 'west' ? ['lower-axis', 'lower-zero'] : ['lower-axis']
    case 'mount':
    case 'mast':
    case 'left-end':
    case 'right-end':
    case 'forward-end':
    case 'rear-end':
      return ['lower-axis']
    default:
      return ['dish', 'upper-zero']
  }
}
