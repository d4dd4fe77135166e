/**
 * What the receiver shows: noise power in dB over its own reference, as the dish hears it. Kelvin, MHz, degrees, dB.
 *
 * Sun and Moon are discs in the beam's pattern; the ground adds noise at low elevations; sky and air always add some. Left out: radio
 * sources, satellites, the Milky Way. The only fluctuation is the radiometer's noise, σ = 4.343/√(Bτ) dB.
 */
import { DEG } from '../units.ts'
import { powerOverDisc } from './pattern.ts'

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
  /** The real beamwidth, which may differ from the paper's. */
  hpbwDeg: number
  /** System temperature with the dish high up: receiver, cold sky, spillover. */
  systemK: number
  sunSfu: number
  /** The meter's 0 dB, in dB over one kelvin. */
  referenceDb: number
  bandwidthHz: number
}

/** What is near the beam, and where. */
export interface Scenery {
  /** The beam's elevation, and how high the horizon is under it. */
  beamElDeg: number
  horizonDeg: number
  /** Degrees right and up of the beam; null: below the horizon. */
  sun: readonly [number, number] | null
  moon: readonly [number, number] | null
}

/** What the Sun would add in the middle of the beam if it were a point. @returns kelvin: S η A / 2k */
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
 * What the ground adds: the part of the main beam below the horizon, and the spillover that turns to the ground as the dish comes
 * down. Common practice, no source: 85 % of the power is in the main beam; spillover and far side lobes bring a tenth of the ground's
 * temperature at the horizon, and e times less for every 12° up.
 */
export function groundK(elDeg: number, horizonDeg: number, hpbwDeg: number): number {
  const over = elDeg - horizonDeg
  const main = above(over / (hpbwDeg / 2.3548))
  return GROUND_K * (0.85 * main + 0.1 * Math.exp(-Math.max(0, over) / 12))
}

/** What the air adds beyond the 2.5 K that it adds at the zenith. Common practice, no source: 1/sin el, at most 20-fold. */
const airK = (elDeg: number): number => 2.5 * (Math.min(20, 1 / Math.sin(Math.max(0.05, elDeg * DEG))) - 1)

/** Total noise temperature, kelvin. */
export function kelvinOf(r: Receiver, s: Scenery): number {
  const sun = s.sun === null ? 0 : sunPointK(r) * powerOverDisc(s.sun, SUN_DISC_DEG, r.hpbwDeg)
  const moon = s.moon === null ? 0 : moonPointK(r) * powerOverDisc(s.moon, MOON_DISC_DEG, r.hpbwDeg)
  return r.systemK + groundK(s.beamElDeg, s.horizonDeg, r.hpbwDeg) + airK(s.beamElDeg) + sun + moon
}

/** The meter's level without its own fluctuation. */
export const levelDb = (r: Receiver, s: Scenery): number => 10 * Math.log10(kelvinOf(r, s)) - r.referenceDb

/** How much a level averaged over that time fluctuates, 1 σ, dB. Source: the radiometer equation, 10/ln 10 = 4.343. */
export const tremblingDb = (bandwidthHz: number, seconds: number): number => 4.343 / Math.sqrt(bandwidthHz * seconds)

/** Own echoes over the noise, dB: their level with the Moon in the middle of the beam, less the loss both ways. */
export const echoDb = (peakDb: number, moon: readonly [number, number] | null, hpbwDeg: number): number | null =>
  moon === null ? null : peakDb + 20 * Math.log10(powerOverDisc(moon, MOON_DISC_DEG, hpbwDeg))
