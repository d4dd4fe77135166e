/** The zero of a jack's axis, from a pose whose axis angle is known. Millimetres and radians. */
import type { Rad } from '../units.ts'
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
