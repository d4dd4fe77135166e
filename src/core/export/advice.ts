/**
 * What to turn with a spanner, from what the fit found. A parameter says how the mount stands; the advice is the way
 * back: a part of the mount and where to move it. Degrees or millimetres, as in the solution.
 *
 * Left and right, forward and back are those of someone behind the mount who looks the way it faces; north, south, east
 * and west are the compass's; clockwise is seen from above. "Dish at the meridian" is understood for ha-dec.
 */
import type { MountKind, ParameterId } from '../records/fieldbook.ts'
import type { SolvedParameter } from '../records/solution.ts'
import type { Deg } from '../units.ts'

/** What is taken hold of. `…-end` of the lower axis; `upper-axis-…` ends of the upper one, seen with the dish on it. */
export type Part =
  | 'mount'
  | 'mast'
  | 'polar-axis'
  | 'left-end'
  | 'right-end'
  | 'forward-end'
  | 'rear-end'
  | 'upper-axis-left-end'
  | 'upper-axis-right-end'
  | 'upper-axis-top'
  | 'upper-axis-west-end'
  | 'dish'
  | 'feed'
  | 'tube'

export type Toward =
  | 'clockwise'
  | 'anticlockwise'
  | 'north'
  | 'south'
  | 'east'
  | 'west'
  | 'up'
  | 'down'
  | 'left'
  | 'right'
  | 'forward'
  | 'back'
  /** To the UP mark on the rim, or from it: on a tilting mount that is not the vertical. */
  | 'up-mark'
  | 'from-up-mark'

export interface Move {
  part: Part
  toward: Toward
}

export type Advice =
  /**
   * Move it by so much. `firstStep`: the parameter is open, but surely not nothing; after this, sight again.
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
  /** A number for the software, not for a spanner. */
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
export interface AdvisedMount {
  kind: MountKind
  latDeg: Deg
}

/** Below so many σ a value could as well be nothing (1 in 20): leave the bolt alone. */
export const WORTH_TURNING = 2
/** An open parameter may still be so far off that a first step is sure to help. */
const SURELY_OFF = 3
/** Nearer to the pole than this, turning the foot is no way to move the axis sideways. */
const STEEP_DEG = 75

/** [what undoes a positive value, what undoes a negative one]; null: no spanner reaches it. */
function movesOf(id: ParameterId, { kind, latDeg }: AdvisedMount): readonly [Move, Move] | null {
  const both = (part: Part, plus: Toward, minus: Toward): readonly [Move, Move] => [
    { part, toward: plus },
    { part, toward: minus },
  ]
  const south = latDeg < 0
  switch (id) {
    case 'heading':
      return both('mount', 'anticlockwise', 'clockwise')
    case 'level':
      // An end is raised, not lowered: a shim goes in more easily than a concrete block goes down.
      return kind === 'x-y'
        ? [
            { part: 'rear-end', toward: 'up' },
            { part: 'forward-end', toward: 'up' },
          ]
        : [
            { part: 'left-end', toward: 'up' },
            { part: 'right-end', toward: 'up' },
          ]
    case 'leanNorth':
      return both('mast', 'south', 'north')
    case 'leanEast':
      return both('mast', 'west', 'east')
    // The parameters speak of the north-pole end; the end that points up is the other one in the south.
    case 'poleEast':
      return south ? both('polar-axis', 'east', 'west') : both('polar-axis', 'west', 'east')
    case 'poleUp':
      return south ? both('polar-axis', 'up', 'down') : both('polar-axis', 'down', 'up')
    case 'squareness':
      switch (kind) {
        case 'el-over-az':
          return [
            { part: 'upper-axis-left-end', toward: 'up' },
            { part: 'upper-axis-right-end', toward: 'up' },
          ]
        case 'ha-dec':
          return both('upper-axis-west-end', 'south', 'north')
        case 'az-over-el':
          return both('upper-axis-top', 'left', 'right')
        case 'x-y':
          return both('upper-axis-right-end', 'back', 'forward')
      }
      break
    case 'collimation':
      switch (kind) {
        case 'ha-dec':
          return both('dish', 'east', 'west')
        case 'az-over-el':
          return both('dish', 'down', 'up')
        default:
          return both('dish', 'left', 'right')
      }
    case 'feedRight':
      return both('feed', 'left', 'right')
    case 'feedUp':
      return both('feed', 'from-up-mark', 'up-mark')
    case 'tubeRight':
      return both('tube', 'left', 'right')
    case 'tubeUp':
      return both('tube', 'from-up-mark', 'up-mark')
  }
  return null
}

/** The move that undoes a deviation of this sign; null where no spanner reaches it. */
export const moveAgainst = (id: ParameterId, isPositive: boolean, mount: AdvisedMount): Move | null =>
  movesOf(id, mount)?.[isPositive ? 0 : 1] ?? null

/** What to do about one parameter. */
export function adviceFor(
  p: Pick<SolvedParameter, 'id' | 'value' | 'sigma' | 'unit' | 'state'>,
  mount: AdvisedMount,
): Advice {
  const { id, value, sigma } = p
  if (id === 'sag' || id === 'feedDroop') return { kind: 'stiffen' }
  if (id === 'lowerPlay' || id === 'upperPlay') return { kind: 'slack' }
  const move = moveAgainst(id, value > 0, mount)
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
  const lat = (latDeg * Math.PI) / 180
  return {
    toward: value > 0 ? 'anticlockwise' : 'clockwise',
    sizeDeg: Math.abs(value) / Math.cos(lat),
    sigmaDeg: sigma / Math.cos(lat),
    zeroShiftDeg: -value * Math.tan(lat),
  }
}

/**
 * What a change record of this move names, so that the next solution starts that much anew. A polar axis moved sideways
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
