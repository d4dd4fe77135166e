/**
 * What a dish hears of the Moon: antenna temperature and rise over the system's own noise. Kelvin, dB, radians.
 * Source of the worked values that the tests hold this to: trade figures (2.4 m at 10 368 MHz, 210 K: 1.313 dB).
 */
import { wavelengthM } from '../dish/optics.ts'
import { type Metres, type MHz, type Rad, radFromDeg } from '../units.ts'

/** Below this rise, dB, the noise of Moon or Sun is too weak to point by. Common practice, no source. */
export const HEARD_DB = 0.3

/** A disc's brightness smeared by the beam: x²/(1 - e^-x²), x² = ln 2 (disc/beam)². */
export function sourceSizeFactor(disc: Rad, hpbw: Rad): number {
  const x2 = Math.LN2 * (disc / hpbw) ** 2
  return x2 < 1e-9 ? 1 : x2 / (1 - Math.exp(-x2))
}

/** Temperature that a disc of a brightness adds at the antenna, aperture efficiency 0.55 unless said. */
export function discTemperature(
  brightnessK: number,
  disc: Rad,
  frequency: MHz,
  diameter: Metres,
  hpbw: Rad,
  efficiency = 0.55,
): number {
  const solidAngle = Math.PI * (disc / 2) ** 2
  const area = efficiency * Math.PI * (diameter / 2) ** 2
  return (brightnessK * solidAngle * area) / wavelengthM(frequency) ** 2 / sourceSizeFactor(disc, hpbw)
}

/** The Moon's brightness at microwaves; 210 to 240 K at 1 to 10 GHz, phase aside (from memory, trade). */
export const MOON_K = 225
const MOON_DISC: Rad = radFromDeg(0.518)
/** When the person gives no system temperature (common practice for a good amateur receiver, no source). */
export const SYSTEM_K = 100

/** How much the Moon's own noise raises the level, dB. */
export function moonRiseDb(frequency: MHz, diameter: Metres, hpbw: Rad, systemTemperatureK: number | null): number {
  const t = discTemperature(MOON_K, MOON_DISC, frequency, diameter, hpbw)
  return 10 * Math.log10(1 + t / (systemTemperatureK ?? SYSTEM_K))
}
