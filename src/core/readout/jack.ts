/**
 * A jack: a linear actuator closing a triangle. Arms a (pivot to the jack's fixed end) and b (pivot to the rod's end),
 * length L between them, φ the angle at the pivot: L² = a² + b² - 2ab cos φ. Millimetres and radians.
 * Two different zeros: one at reading zero (a length), one at axis angle zero (an angle φ).
 */
import type { Mm, Rad } from '../units.ts'

export interface Jack {
  type: 'jack'
  baseArm: Mm
  rodArm: Mm
  lengthAtReadingZero: Mm
  countsPerMm: number
  phiAtAngleZero: Rad
  direction: 1 | -1
}

/** The angle at the pivot and how it moves with length and arms (rad per mm); null when the triangle does not close. */
export function includedAngle(
  length: Mm,
  a: Mm,
  b: Mm,
): { phi: Rad; perLength: number; perBase: number; perRod: number } | null {
  const cosPhi = (a * a + b * b - length * length) / (2 * a * b)
  if (!(length > 0 && a > 0 && b > 0 && cosPhi > -1 && cosPhi < 1)) return null
  const phi = Math.acos(cosPhi)
  const sinPhi = Math.sin(phi)
  return {
    phi,
    perLength: length / (a * b * sinPhi),
    perBase: (cosPhi / a - 1 / b) / sinPhi,
    perRod: (cosPhi / b - 1 / a) / sinPhi,
  }
}

/** Length of the jack at an included angle in [0, π]. Source: law of cosines. */
export const lengthFromIncludedAngle = (phi: Rad, a: Mm, b: Mm): Mm =>
  Math.sqrt(Math.max(0, a * a + b * b - 2 * a * b * Math.cos(phi)))

/** The readings between which the triangle closes, in order; both ends are dead centres. */
export function closingReadings(jack: Jack, baseAdd: Mm = 0, rodAdd: Mm = 0): [min: number, max: number] {
  const a = jack.baseArm + baseAdd
  const b = jack.rodArm + rodAdd
  return [
    (Math.abs(a - b) - jack.lengthAtReadingZero) * jack.countsPerMm,
    (a + b - jack.lengthAtReadingZero) * jack.countsPerMm,
  ]
}
