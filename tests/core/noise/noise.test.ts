import { describe, expect, it } from 'vitest'
import { beamwidth, wavelengthM } from '../../../src/core/dish/optics.ts'
import { discTemperature, moonRiseDb, sourceSizeFactor } from '../../../src/core/noise/noise.ts'
import { DEG } from '../../helpers/degrees.ts'

const MOON = 0.518 * DEG
const SUN = 0.53 * DEG
const BOLTZMANN = 1.380649e-23
const riseDb = (t: number, system: number): number => 10 * Math.log10(1 + t / system)

describe('discTemperature', () => {
  it('of the Moon at 210 K in a 2.4 m dish at 10 368 MHz is 35.30 K, a rise of 1.313 dB over 100 K', () => {
    // Worked by hand, T = brightness Ω A/λ² less the smearing; disc 0.518°, efficiency 0.55. 210 to 240 K at 1 to 10 GHz [M].
    const t = discTemperature(210, MOON, 10368, 2.4, beamwidth(10368, 2.4))
    expect(Math.abs(t - 35.3)).toBeLessThan(0.01)
    expect(Math.abs(riseDb(t, 100) - 1.313)).toBeLessThan(1e-3)
  })

  it('of the Moon raises 3.0 m by 1.803 dB, 1.2 m by 0.402 dB at 10 368, 2.4 m by 0.551 dB at 5760 MHz', () => {
    for (const [d, mhz, brightness, system, db] of [
      [3.0, 10368, 210, 100, 1.803],
      [1.2, 10368, 210, 100, 0.402],
      [2.4, 5760, 215, 90, 0.551],
    ] as const) {
      const t = discTemperature(brightness, MOON, mhz, d, beamwidth(mhz, d))
      expect(Math.abs(riseDb(t, system) - db)).toBeLessThan(1e-3)
    }
  })

  it('of the Moon at 1296 MHz is a rise of 0.037 dB: unusable', () => {
    const t = discTemperature(230, MOON, 1296, 2.4, beamwidth(1296, 2.4))
    expect(Math.abs(riseDb(t, 80) - 0.037)).toBeLessThan(1e-3)
  })

  it('of the Sun is 449.6, 537.0, 1123.3, 2128.3 K: 8.208, 8.872, 11.297, 13.480 dB in a 2.4 m dish', () => {
    // Worked by hand (form: owenduffy.net/blog/?p=990): flux in sfu, system K, from S A/2k with the disc smeared by the beam; the same disc given here as
    // a brightness, T = S λ²/(2 k Ω).
    for (const [mhz, sfu, system, kelvin, db] of [
      [1296, 50, 80, 449.6, 8.208],
      [2320, 60, 80, 537.0, 8.872],
      [5760, 130, 90, 1123.3, 11.297],
      [10368, 270, 100, 2128.3, 13.48],
    ] as const) {
      const brightness = (sfu * 1e-22 * wavelengthM(mhz) ** 2) / (2 * BOLTZMANN * Math.PI * (SUN / 2) ** 2)
      const t = discTemperature(brightness, SUN, mhz, 2.4, beamwidth(mhz, 2.4))
      expect(Math.abs(t / kelvin - 1)).toBeLessThan(3e-4) // four digits printed
      expect(Math.abs(riseDb(t, system) - db)).toBeLessThan(2e-3)
    }
  })

  it('comes to 0.731 of the brightness when the disc fills the beam, and no more', () => {
    // Disc far wider than the beam: brightness × η (π/4)² (D HPBW/λ)²/ln 2, the main beam's share of a 70 λ/D beam.
    const t = discTemperature(200, 20 * DEG, 10368, 2.4, beamwidth(10368, 2.4))
    expect(t / 200).toBeCloseTo((0.55 * (Math.PI / 4) ** 2 * (70 * DEG) ** 2) / Math.LN2, 6)
    expect(t / 200).toBeCloseTo(0.731, 3)
  })
})

describe('sourceSizeFactor', () => {
  it('is 1.0021, 1.0069, 1.0428, 1.1431 for the Sun at 1296, 2320, 5760, 10 368 MHz in a 2.4 m beam', () => {
    for (const [mhz, factor] of [
      [1296, 1.0021],
      [2320, 1.0069],
      [5760, 1.0428],
      [10368, 1.1431],
    ] as const)
      expect(Math.abs(sourceSizeFactor(SUN, beamwidth(mhz, 2.4)) - factor)).toBeLessThan(6e-5)
  })

  it('is 1 + 0.347 (disc/beam)² for a small disc, a point being 1', () => {
    // Series of the exact form; the ITU-R S.733 rule of thumb has 0.38 there (owenduffy.net/blog/?p=990).
    expect(sourceSizeFactor(0.1, 1)).toBeCloseTo(1 + (Math.LN2 / 2) * 0.01, 4)
    expect(sourceSizeFactor(0, 1)).toBe(1)
    expect(sourceSizeFactor(1e-4, 1)).toBeCloseTo(1, 7)
  })
})

describe('moonRiseDb', () => {
  it('is below 0.05 dB at 1296 MHz with dishes to 2.5 m, and above 0.3 dB at 10 368 MHz with 1.2 m', () => {
    for (const d of [1.2, 1.8, 2.4, 2.5]) expect(moonRiseDb(1296, d, beamwidth(1296, d), 80)).toBeLessThan(0.05)
    expect(moonRiseDb(10368, 1.2, beamwidth(10368, 1.2), 100)).toBeGreaterThan(0.3)
  })

  it('takes 100 K when the person gives no system temperature', () => {
    const hpbw = beamwidth(5760, 3)
    expect(moonRiseDb(5760, 3, hpbw, null)).toBe(moonRiseDb(5760, 3, hpbw, 100))
    expect(moonRiseDb(5760, 3, hpbw, 50)).toBeGreaterThan(moonRiseDb(5760, 3, hpbw, 100))
  })
})
