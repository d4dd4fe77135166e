/**
 * Readouts: what turns a reading (degrees, or counts) into an axis angle in radians, and back.
 * A new kind has its law and its facts here, its record in `records/readouts.ts`, its words in `ui/kit/readoutwords.ts`.
 * `base` and `rod` are millimetres to add to a jack's taped arms; the other readouts ignore them.
 */
import { DEG, type Mm, type Rad } from '../units.ts'
import { closingReadings, includedAngle, type Jack, lengthFromIncludedAngle } from './jack.ts'

/** What is usual for each kind, besides its law. */
interface Facts {
  unit: 'degrees' | 'counts'
  /** σ of the prior of its zero where nothing is known. */
  zeroSigmaDeg: number
  /** The same for its scale, as a ratio; null where arms take its place. */
  scaleSigma: number | null
}
export const READOUTS: Readonly<Record<Readout['type'], Facts>> = {
  degrees: { unit: 'degrees', zeroSigmaDeg: 10, scaleSigma: 0.02 },
  'linear-counts': { unit: 'counts', zeroSigmaDeg: 30, scaleSigma: 0.1 },
  jack: { unit: 'counts', zeroSigmaDeg: 30, scaleSigma: null },
}

export type Readout = { type: 'degrees' } | { type: 'linear-counts'; zeroCounts: number; countsPerRad: number } | Jack

/** The angle, and its slopes in rad per reading and per mm of arm. */
interface ReadAngle {
  kind: 'angle'
  angle: Rad
  perReading: number
  perBase: number
  perRod: number
}

/** No such triangle: the allowed readings are strictly between min and max. */
export interface OutsideTriangle {
  kind: 'outside-triangle'
  min: number
  max: number
}

/** The axis angle that a reading stands for. @param reading any finite number, in the readout's own unit */
export function angleFromReading(
  readout: Readout,
  reading: number,
  base: Mm = 0,
  rod: Mm = 0,
): ReadAngle | OutsideTriangle {
  switch (readout.type) {
    case 'degrees':
      return { kind: 'angle', angle: reading * DEG, perReading: DEG, perBase: 0, perRod: 0 }
    case 'linear-counts':
      return {
        kind: 'angle',
        angle: (reading - readout.zeroCounts) / readout.countsPerRad,
        perReading: 1 / readout.countsPerRad,
        perBase: 0,
        perRod: 0,
      }
    case 'jack': {
      const length = readout.lengthAtReadingZero + reading / readout.countsPerMm
      const corner = includedAngle(length, readout.baseArm + base, readout.rodArm + rod)
      if (corner === null) {
        const [min, max] = closingReadings(readout, base, rod)
        return { kind: 'outside-triangle', min, max }
      }
      const d = readout.direction
      return {
        kind: 'angle',
        angle: d * (corner.phi - readout.phiAtAngleZero),
        perReading: (d * corner.perLength) / readout.countsPerMm,
        perBase: d * corner.perBase,
        perRod: d * corner.perRod,
      }
    }
  }
}

/** The reading at an axis angle; a jack's angle is not turned by 360° to fit: pass the turn that is meant. */
export function readingFromAngle(
  readout: Readout,
  angle: Rad,
  base: Mm = 0,
  rod: Mm = 0,
): { kind: 'reading'; reading: number } | OutsideTriangle {
  switch (readout.type) {
    case 'degrees':
      return { kind: 'reading', reading: angle / DEG }
    case 'linear-counts':
      return { kind: 'reading', reading: angle * readout.countsPerRad + readout.zeroCounts }
    case 'jack': {
      const phi = readout.direction * angle + readout.phiAtAngleZero
      if (!(phi > 0 && phi < Math.PI)) {
        const [min, max] = closingReadings(readout, base, rod)
        return { kind: 'outside-triangle', min, max }
      }
      const length = lengthFromIncludedAngle(phi, readout.baseArm + base, readout.rodArm + rod)
      return { kind: 'reading', reading: (length - readout.lengthAtReadingZero) * readout.countsPerMm }
    }
  }
}

/** The readout that counts the other way. */
export function countingBack(readout: Readout): Readout {
  switch (readout.type) {
    case 'degrees':
      return { type: 'linear-counts', zeroCounts: 0, countsPerRad: -180 / Math.PI }
    case 'linear-counts':
      return { ...readout, countsPerRad: -readout.countsPerRad }
    case 'jack':
      return { ...readout, direction: readout.direction === 1 ? -1 : 1 }
  }
}

/** True for readouts that step in whole counts. */
export const countsSteps = (readout: Readout): boolean => READOUTS[readout.type].unit === 'counts'

/** 1 σ of a whole count for what was rounded to it, in counts: 1/√12. */
export const COUNT_SIGMA = 1 / Math.sqrt(12)
