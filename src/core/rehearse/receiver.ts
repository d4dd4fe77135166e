/**
 * What the receiver shows: noise power in dB over its own reference, as the dish hears it. Kelvin, MHz, degrees, dB.
 *
 * Sun and Moon are discs in the beam's pattern; the ground comes in low down; the air and the sky are always there. Radio sources,
 * satellites and the milky way are not in it. The radiometer's noise is σ = 4.343/√(Bτ) dB, and nothing else trembles.
 */
import { powerOverDisc } from './pattern.ts'
import { DEG } from './turning.ts'

const BOLTZMANN = 1.380649e-23
const GROUND_K = 290
/** Common practice, no source: the Moon's disc between 1 and 10 GHz. */
const MOON_K = 220
const SUN_DISC_DEG = 0.533
const MOON_DISC_DEG = 0.518
/** Of the aperture; common practice, no source. */
const EFFICIENCY = 0.55

export interface Receiver {
  frequencyMHz: number
  diameterM: number
  /** What the beam really is, which the paper need not know. */
  hpbwDeg: number
  /** The system with the dish high up: receiver, cold sky, what spills over. */
  systemK: number
  sunSfu: number
  /** What the meter calls 0 dB: so many dB over one kelvin. */
  referenceDb: number
  bandwidthHz: number
}

/** What stands where about the beam. */
export interface Scenery {
  /** The beam's elevation, and how high the horizon is under it. */
  beamElDeg: number
  horizonDeg: number
  /** Degrees right and up of the beam; null: below the horizon. */
  sun: readonly [number, number] | null
  moon: readonly [number, number] | null
}

/** What the Sun would add at the middle of the beam, were it a point. @returns kelvin: S η A / 2k */
export const sunPointK = (r: Receiver): number =>
  (r.sunSfu * 1e-22 * EFFICIENCY * (Math.PI / 4) * r.diameterM ** 2) / (2 * BOLTZMANN)

/** The same for the Moon: T Ω η A / λ². */
export const moonPointK = (r: Receiver): number => {
  const wave = 299.792458 / r.frequencyMHz
  const disc = Math.PI * ((MOON_DISC_DEG / 2) * DEG) ** 2
  return (MOON_K * disc * EFFICIENCY * (Math.PI / 4) * r.diameterM ** 2) / wave ** 2
}

/** The share of a normal distribution above x σ. Source: Abramowitz & Stegun 26.2.17, 7.5e-8. */
function above(x: number): number {
  if (x < 0) return 1 - above(-x)
  const t = 1 / (1 + 0.2316419 * x)
  const poly = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))))
  return (Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)) * poly
}

/**
 * What the ground adds: the part of the main beam below the horizon, and what spills over the rim as the dish comes down to it.
 * Common practice, no source: 15 % of what the feed sends misses the dish or goes to far side lobes, and a twelfth of that e-fold.
 */
export function groundK(elDeg: number, horizonDeg: number, hpbwDeg: number): number {
  const over = elDeg - horizonDeg
  const main = above(over / (hpbwDeg / 2.3548))
  return GROUND_K * (0.85 * main + 0.1 * Math.exp(-Math.max(0, over) / 12))
}

/** What the air adds over what it adds overhead, 2.5 K. Common practice, no source: 1/sin, at most 20-fold. */
const airK = (elDeg: number): number => 2.5 * (Math.min(20, 1 / Math.sin(Math.max(0.05, elDeg * DEG))) - 1)

/** All that comes in, kelvin. */
export function kelvinOf(r: Receiver, s: Scenery): number {
  const sun = s.sun === null ? 0 : sunPointK(r) * powerOverDisc(s.sun, SUN_DISC_DEG, r.hpbwDeg)
  const moon = s.moon === null ? 0 : moonPointK(r) * powerOverDisc(s.moon, MOON_DISC_DEG, r.hpbwDeg)
  return r.systemK + groundK(s.beamElDeg, s.horizonDeg, r.hpbwDeg) + airK(s.beamElDeg) + sun + moon
}

/** What the meter would show with no noise of its own. */
export const levelDb = (r: Receiver, s: Scenery): number => 10 * Math.log10(kelvinOf(r, s)) - r.referenceDb

/** By how much a level averaged over so long trembles, 1 σ. Source: the radiometer equation, 10/ln 10 = 4.343. */
export const tremblingDb = (bandwidthHz: number, seconds: number): number => 4.343 / Math.sqrt(bandwidthHz * seconds)

/** Own echoes over the noise: what they are with the Moon in the middle of the beam, less the loss both ways. */
export const echoDb = (peakDb: number, moon: readonly [number, number] | null, hpbwDeg: number): number | null =>
  moon === null ? null : peakDb + 20 * Math.log10(powerOverDisc(moon, MOON_DISC_DEG, hpbwDeg))
