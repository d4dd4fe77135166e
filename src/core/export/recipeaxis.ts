/** One axis of a recipe: its readout as corrected, its zero, scale and limits. Degrees, millimetres, counts. */
import { midRange } from '../mount/aim.ts'
import { AXIS_NAMES, type Axis, type Side } from '../mount/names.ts'
import { AXIS_SLOTS } from '../mount/readings.ts'
import type { Built } from '../mount/slots.ts'
import { angleFromReading, READOUTS, type Readout, readingFromAngle } from '../readout/readout.ts'
import type { Station } from '../records/station.ts'
import { type Deg, degFromRad, type Mm, radFromDeg } from '../units.ts'

export type RecipeReadout =
  | { type: 'degrees' }
  | { type: 'linear-counts'; zeroCounts: number; countsPerDeg: number }
  | {
      type: 'jack'
      /** As corrected. */
      baseArmMm: Mm
      rodArmMm: Mm
      lengthAtReadingZeroMm: Mm
      countsPerMm: number
      phiAtAngleZeroDeg: Deg
      direction: 1 | -1
    }

export interface RecipeAxis {
  name: string
  unit: 'degrees' | 'counts'
  readout: RecipeReadout
  /** true angle = angle of the readout × (1 + scale) + zero */
  zeroDeg: Deg
  scale: number
  /** To add to a reading first: what a counter that slipped falls short by. */
  shift: number
  /** Lost motion: ± half of it by the side of arrival; left aside in the check points. */
  playDeg: Deg
  arriveFrom: Side | null
  minReading: number
  maxReading: number
  /** The true angle in the middle of the limits. */
  middleDeg: Deg
}

/** To twelve digits, -0 as 0. */
export const tidy = (x: number): number => Number(x.toPrecision(12)) + 0
export const tidyDeg = (rad: number): Deg => tidy(degFromRad(rad))

/** Counts by any readout that is a straight line. @throws RangeError  it is none: the recipe has no equation for it */
function straightOf(readout: Readout, min: number, max: number): RecipeReadout {
  const [a, b] = [angleFromReading(readout, min), angleFromReading(readout, max)]
  const zero = readingFromAngle(readout, 0)
  if (a.kind !== 'angle' || b.kind !== 'angle' || zero.kind !== 'reading' || a.perReading !== b.perReading)
    throw new RangeError(`straightOf: a ${readout.type} readout has no equation in the recipe`)
  return { type: 'linear-counts', zeroCounts: tidy(zero.reading), countsPerDeg: tidy(radFromDeg(1) / a.perReading) }
}

export function recipeAxisOf({ model, record }: Station, built: Built, axis: Axis): RecipeAxis {
  const { readout, minReading, maxReading } = model[axis]
  const slots = AXIS_SLOTS[axis]
  const readoutJson = (): RecipeReadout => {
    switch (readout.type) {
      case 'degrees':
        return { type: 'degrees' }
      case 'jack':
        return {
          type: 'jack',
          baseArmMm: tidy(readout.baseArm + built[slots.base]!),
          rodArmMm: tidy(readout.rodArm + built[slots.rod]!),
          lengthAtReadingZeroMm: tidy(readout.lengthAtReadingZero),
          countsPerMm: tidy(readout.countsPerMm),
          phiAtAngleZeroDeg: tidyDeg(readout.phiAtAngleZero),
          direction: readout.direction,
        }
      default:
        return straightOf(readout, minReading, maxReading)
    }
  }
  const mid = midRange(model, built)
  return {
    name: AXIS_NAMES[model.kind][axis],
    unit: READOUTS[readout.type].unit,
    readout: readoutJson(),
    zeroDeg: tidyDeg(built[slots.zero]!),
    scale: tidy(built[slots.scale]!),
    shift: tidy(built[slots.shift]!),
    playDeg: tidyDeg(built[slots.play]!),
    arriveFrom: record.mount[axis].drive?.arriveFrom ?? null,
    minReading,
    maxReading,
    middleDeg: tidyDeg(axis === 'lower' ? mid.T : mid.S),
  }
}
