/**
 * Beam and losses of a dish: beamwidth, gain, beam deviation factor, pointing loss. Metres, MHz, radians, dB.
 * Sources: trade handbooks; Lo 1960 for the beam deviation factor; Ruze for the surface (named at each function).
 */
import { type Metres, type MHz, type Rad, radFromDeg } from '../units.ts'

const LIGHT = 299_792_458

/** Wavelength in metres. */
export const wavelengthM = (frequency: MHz): Metres => LIGHT / (frequency * 1e6)

/** Half-power beamwidth of a dish: 70 λ/D degrees (58 to 75 by taper; common practice). */
export const beamwidth = (frequency: MHz, diameter: Metres): Rad => (radFromDeg(70) * wavelengthM(frequency)) / diameter

/**
 * How far the beam moves for a feed moved sideways, as a share of the feed's own angle, to the opposite side.
 * Source: Lo 1960, IRE AP-8, 347; BDF = (1 + 0.36 q)/(1 + q), q = (4f/D)⁻²; the 0.36 is empirical.
 */
export function beamDeviationFactor(focalRatio: number): number {
  const q = (4 * focalRatio) ** -2
  return (1 + 0.36 * q) / (1 + q)
}

/** One way, dB: 12.04 (θ/HPBW)², the exact Gaussian constant 10 log10(2)·4. */
export const pointingLossDb = (theta: Rad, hpbw: Rad): number => 12.04 * (theta / hpbw) ** 2

/** On one's own echoes the loss counts twice: 24.08 (θ/HPBW)² dB. */
export const echoLossDb = (theta: Rad, hpbw: Rad): number => 24.08 * (theta / hpbw) ** 2

/** Beyond 3 dB one way, half a beamwidth, the parabola no longer holds and the beam misses its target. @param db of echoes */
export const isBeamOffTarget = (db: number): boolean => db > 24.08 / 4

/** The error at which echoes lose `lossDb`, both ways. */
export const errorForEchoLoss = (lossDb: number, hpbw: Rad): Rad => hpbw * Math.sqrt(lossDb / 24.08)

/** Aperture gain in dBi at an efficiency (0.55 unless said): η (πD/λ)². */
export const gainDbi = (frequency: MHz, diameter: Metres, efficiency = 0.55): number =>
  10 * Math.log10(efficiency * ((Math.PI * diameter) / wavelengthM(frequency)) ** 2)

/** Loss by a rough surface, dB. Source: Ruze, exp[-(4πε/λ)²]. */
export const surfaceLossDb = (rmsM: Metres, frequency: MHz): number =>
  10 * Math.log10(Math.E) * ((4 * Math.PI * rmsM) / wavelengthM(frequency)) ** 2
