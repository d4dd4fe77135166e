/** One axis of a recipe: its readout as corrected, its zero, scale and limits. Degrees, millimetres, counts. */
import { midRange } from '../mount/aim.ts'
import { AXIS_NAMES, type Axis, type Side } from '../mount/names.ts'
import { AXIS_SLOTS } from '../mount/readings.ts'
import type { Built } from '../mount/slots.ts'
import { READOUTS } from '../readout/readout.ts'
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
export const degrees = (rad: number): Deg => tidy(degFromRad(rad))

export function axisOf({ model, record }: Station, built: Built, axis: Axis): RecipeAxis {
  const { readout, minReading, maxReading } = model[axis]
  const slots = AXIS_SLOTS[axis]
  const readoutJson = (): RecipeReadout => {
    switch (readout.type) {
      case 'degrees':
        return { type: 'degrees' }
      case 'linear-counts':
        return {
          type: 'linear-counts',
          zeroCounts: tidy(readout.zeroCounts),
          countsPerDeg: tidy(readout.countsPerRad * radFromDeg(1)),
        }
      case 'jack':
        return {
          type: 'jack',
          baseArmMm: tidy(readout.baseArm + built[slots.base]!),
          rodArmMm: tidy(readout.rodArm + built[slots.rod]!),
          lengthAtReadingZeroMm: tidy(readout.lengthAtReadingZero),
          countsPerMm: tidy(readout.countsPerMm),
          phiAtAngleZeroDeg: degrees(readout.phiAtAngleZero),
          direction: readout.direction,
        }
    }
  }
  const mid = midRange(model, built)
  return {
    name: AXIS_NAMES[model.kind][axis],
    unit: READOUTS[readout.type].unit,
    readout: readoutJson(),
    zeroDeg: degrees(built[slots.zero]!),
    scale: tidy(built[slots.scale]!),
    shift: tidy(built[slots.shift]!),
    playDeg: degrees(built[slots.play]!),
    arriveFrom: record.mount[axis].drive?.arriveFrom ?? null,
    minReading,
    maxReading,
    middleDeg: degrees(axis === 'lower' ? mid.T : mid.S),
  }
}
