/**
 * The zero of a jack's axis, by two ways that a person with a tape has: from a pose whose axis angle is known, or from
 * the jack's length pin to pin when the axis stands at zero. Millimetres and radians.
 */
import type { Mm, Rad } from '../units.ts'
import { includedAngle, type Jack } from './jack.ts'

/** φ at axis angle zero, from a reading at which the axis's angle is known; null when no triangle closes there. */
export function phiAtZeroFromPose(
  jack: Omit<Jack, 'phiAtAngleZero' | 'type'>,
  reading: number,
  angle: Rad,
): Rad | null {
  const corner = includedAngle(jack.lengthAtReadingZero + reading / jack.countsPerMm, jack.baseArm, jack.rodArm)
  return corner === null ? null : corner.phi - jack.direction * angle
}

/** φ at axis angle zero, from the jack's length there; null when no triangle closes. */
export const phiAtZeroFromLength = (length: Mm, baseArm: Mm, rodArm: Mm): Rad | null =>
  includedAngle(length, baseArm, rodArm)?.phi ?? null
