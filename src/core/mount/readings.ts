/**
 * From readings to true axis angles: true = reading angle × (1 + scale) + zero, ± half the play by the side of arrival;
 * a jack's arms take the place of the scale. A counter that slipped shifts the reading itself, before all of this.
 * Readings in the readout's own unit, angles in radians.
 */
import { angleFromReading, type OutsideTriangle, readingFromAngle } from '../readout/readout.ts'
import type { Rad } from '../units.ts'
import type { Mount } from './kinds.ts'
import type { Axis, Side } from './names.ts'
import { type Built, SLOT } from './slots.ts'

/** The slots of one axis. */
export const AXIS_SLOTS = {
  lower: {
    zero: SLOT.lowerZero,
    scale: SLOT.lowerScale,
    base: SLOT.lowerBaseArm,
    rod: SLOT.lowerRodArm,
    play: SLOT.lowerPlay,
    shift: SLOT.lowerShift,
  },
  upper: {
    zero: SLOT.upperZero,
    scale: SLOT.upperScale,
    base: SLOT.upperBaseArm,
    rod: SLOT.upperRodArm,
    play: SLOT.upperPlay,
    shift: SLOT.upperShift,
  },
} as const

/** A true angle, and its slopes: per slot of its axis, and per reading. */
interface TrueAngle {
  kind: 'angle'
  angle: Rad
  perScale: number
  perBase: number
  perRod: number
  perPlay: number
  perReading: number
}

/** The true angle of an axis at a reading. @param side from which side it was reached, in the reading's sense; 0 unknown */
export function trueAngle(
  mount: Mount,
  built: Built,
  axis: Axis,
  reading: number,
  side: 0 | 1 | -1 = 0,
): TrueAngle | OutsideTriangle {
  const slots = AXIS_SLOTS[axis]
  const read = angleFromReading(
    mount[axis].readout,
    reading + built[slots.shift]!,
    built[slots.base]!,
    built[slots.rod]!,
  )
  if (read.kind !== 'angle') return read
  const k = 1 + built[slots.scale]!
  return {
    kind: 'angle',
    angle: read.angle * k + built[slots.zero]! + (side * built[slots.play]!) / 2,
    perScale: read.angle,
    perBase: read.perBase * k,
    perRod: read.perRod * k,
    perPlay: side / 2,
    perReading: read.perReading * k,
  }
}

/** The reading at a true angle (its whole turns count), play left out; null where the readout has no such reading. */
export function readingAt(mount: Mount, built: Built, axis: Axis, angle: Rad): number | null {
  const slots = AXIS_SLOTS[axis]
  const readingAngle = (angle - built[slots.zero]!) / (1 + built[slots.scale]!)
  const back = readingFromAngle(mount[axis].readout, readingAngle, built[slots.base]!, built[slots.rod]!)
  return back.kind === 'reading' ? back.reading - built[slots.shift]! : null
}

export const sideNumber = (side: Side | undefined): 0 | 1 | -1 => (side === '+' ? 1 : side === '-' ? -1 : 0)
