/**
 * How sure a level by the phone is. Radians. A phone's sensor is off by some 20 mg on each axis, which no waiting removes:
 * one reading is good to about a degree at best. Differences, reversals and turns round a mast remove it.
 */
import { type Rad, radFromDeg } from '../units.ts'
import { dot, type Vec3 } from '../vectors.ts'
import { levelSigma, REVERSED_BIAS, SENSOR_BIAS } from './sigma.ts'
import type { HeldMean } from './still.ts'
import { angleInPlane, axisVector, edgeOf, endsOf, type PhoneAxis, type PhoneEnd } from './upvector.ts'

/** Put down again a phone lies differently: round edges, a camera's bump. 1 σ, common practice, no source. */
export const SEATING: Rad = radFromDeg(0.1)

/** The least σ ever stated: 0.1° for one reading, 0.05° for what several were reduced to. */
export const LEAST_ONE: Rad = radFromDeg(0.1)
export const LEAST_REDUCED: Rad = radFromDeg(0.05)

/** Where a reading came from. */
export type Source = 'orientation' | 'motion'

/** The rounding that the specification asks of each source, taken until values were seen: 0.1°, and 0.1 m/s² as an angle. */
export const USUAL_STEP: Readonly<Record<Source, Rad>> = { orientation: radFromDeg(0.1), motion: 0.1 / 9.80665 }

/**
 * What is left of the rounding when the reading trembled across its steps: all of it below a third of a step, next to
 * nothing from half a step on. Not a division by √n: without trembling no number of samples helps.
 * Source: first harmonic of a rounding's error under Gaussian dither, exp(-2π²σ²/q²) (standard result).
 *
 * @param spread  1 σ of single samples as shown, their own rounding included
 */
export function stepLeft(step: Rad, spread: Rad): Rad {
  if (step === 0) return 0
  const trembling = Math.max(0, spread * spread - (step * step) / 12)
  return step * Math.exp((-2 * Math.PI * Math.PI * trembling) / (step * step))
}

/** A reading by the phone, as it is kept with a level. */
export interface PhoneReading extends Pick<HeldMean, 'up' | 'noise' | 'spread'> {
  source: Source
  step: Rad
}

/** What one placing of the phone is uncertain by, the sensor's own error aside. */
export const placingNoise = (reading: PhoneReading): Rad =>
  Math.hypot(reading.noise, SEATING, stepLeft(reading.step, reading.spread) / Math.sqrt(12))

/** 1 σ of one reading. @param bias  1 σ of what the sensor is still off by: SENSOR_BIAS where nothing is known */
export const oneReadingSigma = (reading: PhoneReading, bias: Rad = SENSOR_BIAS): Rad =>
  Math.max(
    LEAST_ONE,
    levelSigma({
      noise: Math.hypot(reading.noise, SEATING),
      step: stepLeft(reading.step, reading.spread),
      bias,
    }),
  )

/** 1 σ of a reversal of two readings. The two round different values, so the halves of their rounding are independent. */
export const phoneReversalSigma = (left: Rad, first: PhoneReading, second: PhoneReading): Rad =>
  Math.max(LEAST_REDUCED, Math.hypot(Math.hypot(placingNoise(first), placingNoise(second)) / 2, left))

/**
 * 1 σ of an error found at one tilt, used at another: the error in the plane is that of two components, and 2 sin(Δ/2) of
 * the unknown ones comes in.
 *
 * @param sigma  as it was found
 */
export const biasSigmaAt = (sigma: Rad, foundAt: Rad, usedAt: Rad): Rad =>
  Math.hypot(sigma, 2 * SENSOR_BIAS * Math.sin(Math.abs(usedAt - foundAt) / 2))

/** 1 σ of what readings of one clamping do not share: the constant is that of the clamping's first tilt. */
export const clampedBias = (first: Rad | null, now: Rad): Rad => biasSigmaAt(REVERSED_BIAS, first ?? now, now)

/** The in-plane angle of an edge's first end: what an instrument's error is found at and used at. */
export const tiltInPlane = (end: PhoneEnd, about: PhoneAxis, up: Vec3<'Phone'>): Rad =>
  angleInPlane(endsOf(edgeOf(end))[0], about, up)

/**
 * Elevation of a line with the sensor's error in the plane of measurement taken off.
 *
 * @param about  the axis square to that plane
 * @param bias   what the angle in the plane is shown too large by; it is the same for both ends of a line
 */
export function correctedElevation(end: PhoneEnd, about: PhoneAxis, up: Vec3<'Phone'>, bias: Rad): Rad {
  const angle = angleInPlane(end, about, up) - bias
  const sideways = dot(up, axisVector(about))
  return Math.asin(Math.sin(angle) * Math.sqrt(Math.max(0, 1 - sideways * sideways)))
}
