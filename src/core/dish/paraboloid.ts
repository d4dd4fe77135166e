/**
 * A dish as a bowl: what its diameter and depth make of it, and what each flaw of bowl and feed costs. Millimetres,
 * metres, radians; losses one way, in dB, and above 0.
 * Source of the losses: trade handbooks; each has its formula beside it.
 */
import { type Metres, type MHz, type Mm, type Rad, radFromDeg } from '../units.ts'
import { wavelengthM } from './optics.ts'

export interface Bowl {
  radius: Mm
  depth: Mm
  focalLength: Mm
}

/** f = D²/16d. @throws RangeError  a diameter or depth that is not above 0 */
export function bowlFromDepth(diameter: Mm, depth: Mm): Bowl {
  if (!(diameter > 0 && depth > 0))
    throw new RangeError(`bowlFromDepth: diameter and depth must be > 0 mm, got ${diameter} and ${depth}`)
  return { radius: diameter / 2, depth, focalLength: (diameter * diameter) / (16 * depth) }
}

/** f/D of a dish by a straight-edge across its rim and the depth below it: D/16d. */
export const focalRatioFromDepth = (diameter: Mm, depth: Mm): number => focalRatioOf(bowlFromDepth(diameter, depth))

/** @throws RangeError  a diameter or focal ratio that is not above 0 */
export const bowlFromRatio = (diameter: Mm, focalRatio: number): Bowl =>
  bowlFromDepth(diameter, diameter / (16 * focalRatio))

export const focalRatioOf = (bowl: Bowl): number => bowl.focalLength / (2 * bowl.radius)

/** θ0, the angle at the focus between the axis and the rim: tan(θ0/2) = R/2f. The feed sees the dish under twice that. */
export const rimAngle = (bowl: Bowl): Rad => 2 * Math.atan(bowl.radius / (2 * bowl.focalLength))

/** From a point of the rim to the focus: f + R²/4f, by the definition of a parabola. */
export const rimToFocus = (bowl: Bowl): Mm => bowl.focalLength + bowl.depth

/** By how much the rim is lit less than the vertex for being farther away: -20 log10 cos²(θ0/2). */
export const spaceLossDb = (bowl: Bowl): number => -40 * Math.log10(Math.cos(rimAngle(bowl) / 2))

/**
 * A feed too far in or out, uniformly lit dish: -20 log10 [sin(β/2)/(β/2)], β = 2π (dz/λ)(1 - cos θ0).
 * Source: Baars, from memory. Past the first zero of the sine (β = 2π) it says no more: Infinity.
 */
export function defocusLossDb(axial: Mm, frequency: MHz, bowl: Bowl): number {
  const half = (Math.PI * Math.abs(axial) * (1 - Math.cos(rimAngle(bowl)))) / (1000 * wavelengthM(frequency))
  if (half < 1e-6) return 0
  return half >= Math.PI ? Infinity : -20 * Math.log10(Math.sin(half) / half)
}

/** A feed or box of that diameter in front of a uniformly lit dish: -20 log10 (1 - (d/D)²); a tapered one loses more. */
export const blockageLossDb = (blocked: Mm, diameter: Mm): number =>
  blocked >= diameter ? Infinity : -20 * Math.log10(1 - (blocked / diameter) ** 2)

/** The Sun's angle across, and its power on a square metre in clear air (common practice). */
const SUN_ACROSS: Rad = radFromDeg(0.533)
const SUN_W_PER_M2 = 1000

/** What a bare bright dish turned to the Sun puts on its focus: power, the image's diameter, how many Suns. */
export function sunAtFocus(bowl: Bowl): { powerW: number; imageMm: Mm; suns: number } {
  const metres: Metres = bowl.radius / 1000
  const imageMm = 2 * bowl.focalLength * Math.tan(SUN_ACROSS / 2)
  return {
    powerW: SUN_W_PER_M2 * Math.PI * metres * metres,
    imageMm,
    suns: ((2 * bowl.radius) / imageMm) ** 2,
  }
}
