/**
 * From a rise in noise (Y, a ratio of powers) to system temperature and G/T. Kelvin, dB, MHz, metres, radians.
 * Source: G/T = (Y - 1) 8πk L/(S λ²) for the Sun (owenduffy.net/blog/?p=990; 1 sfu = 1e-22 W m⁻² Hz⁻¹, one polarisation
 * gets half of it); hot and cold: T = (hot - Y cold)/(Y - 1).
 */
import { wavelengthM } from '../dish/optics.ts'
import { type Metres, type MHz, type Rad, radFromDeg } from '../units.ts'
import { discTemperature, sourceSizeFactor } from './noise.ts'

const BOLTZMANN = 1.380649e-23

export const ratioFromDb = (db: number): number => 10 ** (db / 10)
export const dbFromRatio = (ratio: number): number => 10 * Math.log10(ratio)

/** An antenna as a receiver of noise: frequency, effective area and beamwidth. */
export interface Ear {
  frequency: MHz
  /** Effective area, m². */
  areaM2: number
  hpbw: Rad
}

/** Effective area of a gain: G λ²/4π. */
export const areaFromGain = (gainDbi: number, frequency: MHz): number =>
  (ratioFromDb(gainDbi) * wavelengthM(frequency) ** 2) / (4 * Math.PI)

export const gainFromArea = (areaM2: number, frequency: MHz): number =>
  dbFromRatio((4 * Math.PI * areaM2) / wavelengthM(frequency) ** 2)

/** A dish's effective area at an efficiency. */
export const areaOfDish = (diameter: Metres, efficiency: number): number => efficiency * Math.PI * (diameter / 2) ** 2

/** What the air takes from something at an elevation, the air straight up being known; flat layers, from 5° up. */
export const airLossDb = (zenithDb: number, el: Rad): number => zenithDb / Math.sin(Math.max(el, radFromDeg(5)))

/**
 * What the Sun adds at the antenna: S A/2k less all losses.
 *
 * @param sizeFactor  by which the disc is heard less than a point, ≥ 1
 * @param lossDb      air, cover, pointing: all that stands before the feed
 */
export const sunTemperature = (sfu: number, ear: Ear, sizeFactor: number, lossDb: number): number =>
  (0.5 * sfu * 1e-22 * ear.areaM2) / BOLTZMANN / sizeFactor / ratioFromDb(lossDb)

/** As `sunTemperature`, with the size factor of the Sun's disc in the beam. */
export const sunHeard = (sfu: number, ear: Ear, disc: Rad, lossDb: number): number =>
  sunTemperature(sfu, ear, sourceSizeFactor(disc, ear.hpbw), lossDb)

/** What a disc of a brightness (the Moon) adds at the antenna less all losses. */
export const discHeard = (brightnessK: number, ear: Ear, disc: Rad, lossDb: number): number =>
  discTemperature(brightnessK, disc, ear.frequency, Math.sqrt((4 * ear.areaM2) / Math.PI), ear.hpbw, 1) /
  ratioFromDb(lossDb)

/** The system temperature, K, at which a source that adds `sourceK` raises the noise by Y; null when nothing rose. */
export const systemFromRise = (y: number, sourceK: number): number | null => (y > 1 ? sourceK / (y - 1) : null)

/** The receiver's own temperature from a hot and a cold thing that fill the beam; may be below 0 when they are misjudged. */
export const receiverFromHotCold = (y: number, hotK: number, coldK: number): number | null =>
  y > 1 ? (hotK - y * coldK) / (y - 1) : null

export const gOverTDb = (areaM2: number, frequency: MHz, systemK: number): number =>
  gainFromArea(areaM2, frequency) - dbFromRatio(systemK)

/** How far a level rises, dB, when a source adds `sourceK` to a system's `systemK`. */
export const riseDb = (sourceK: number, systemK: number): number => dbFromRatio(1 + sourceK / systemK)

/** How much an error of Y weighs in Tsys and G/T, dB per dB: Y/(Y - 1), large for a small rise. */
export const growthOfY = (y: number): number => y / (y - 1)
