/**
 * How sure a level is. Radians. σ = √(noise² + q²/12 + bias²), q the smallest step that the instrument shows.
 * Taking more readings makes the noise smaller, never the rounding or the bias: only `noise` may be divided by √n before.
 */
import { type Rad, radFromDeg } from '../units.ts'

/** An instrument's bias as it comes out of the pocket, and what a reversal leaves of it. 1 σ, an estimate, no source. */
export const UNREVERSED_BIAS: Rad = radFromDeg(0.5)
export const REVERSED_BIAS: Rad = radFromDeg(0.08)

/** Zero-g offset of a phone's sensor on each axis, 20 mg (typical of data sheets, from memory): 1 mg = 0.057°. */
export const SENSOR_BIAS: Rad = 0.02

export interface Spread {
  /** 1 σ of repeated readings, put down again each time; ≥ 0. */
  noise: Rad
  /** The smallest step shown; ≥ 0. */
  step: Rad
  /** 1 σ of what all readings share; ≥ 0. */
  bias: Rad
}

/** 1 σ of a level. @throws RangeError  a share that is negative or not finite */
export function levelSigma({ noise, step, bias }: Spread): Rad {
  for (const [name, x] of Object.entries({ noise, step, bias }))
    if (!(Number.isFinite(x) && x >= 0)) throw new RangeError(`levelSigma: ${name} must be ≥ 0, got ${x}`)
  return Math.sqrt(noise * noise + (step * step) / 12 + bias * bias)
}
