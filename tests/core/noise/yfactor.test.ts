/** The published chain is in tests/authorities/scan/sun-noise.json, with its origin there. */
import { describe, expect, it } from 'vitest'
import { beamwidth, wavelengthM } from '../../../src/core/dish/optics.ts'
import {
  airLossDb,
  areaFromGain,
  areaOfDish,
  dbFromRatio,
  discHeard,
  gainFromArea,
  gOverTDb,
  growthOfY,
  ratioFromDb,
  receiverFromHotCold,
  riseDb,
  sunHeard,
  sunTemperature,
  systemFromRise,
} from '../../../src/core/noise/yfactor.ts'
import { authority } from '../../helpers/authorities.ts'
import { DEG } from '../../helpers/degrees.ts'

const sizeFactorS733 = (disc: number, hpbw: number): number => 1 + 0.38 * (disc / hpbw) ** 2
const { cases } = authority('scan/sun-noise.json') as {
  cases: {
    inputs: Record<string, number & number[]>
    published: Record<string, number & number[]>
    derived_by_us?: Record<string, number>
  }[]
}

describe('a published chain from Y of the Sun to G/T, 1.2 m at 10.488 GHz', () => {
  for (const [index, name] of [
    [0, '2021: 555.10 K of Sun, 248.02 K of system, 15.555 dB/K'],
    [1, '2019: 619.19 K of Sun, 327.21 K of system, 15.352 dB/K'],
  ] as const)
    it(`is followed to its last digit with the same losses and disc factor, ${name}`, () => {
      const { inputs: i, published: p, derived_by_us: ours } = cases[index]!
      const frequency = i.freq_Hz! / 1e6
      const area = areaFromGain(i.gain_dBi!, frequency)
      expect(Math.abs(area - p.effective_area_m2!)).toBeLessThan(1e-7)
      expect(Math.abs(area / areaOfDish(i.dish_diameter_m!, 1) - p.efficiency!)).toBeLessThan(1e-7)
      const loss = airLossDb(i.zenith_attenuation_dB!, i.elevation_deg! * DEG) + i.cover_loss_dB! + i.pointing_loss_dB!
      const factor = sizeFactorS733(i.sun_diameter_deg! * DEG, i.hpbw_deg! * DEG)
      expect(Math.abs(loss + dbFromRatio(factor) + p.loss_total_dB!)).toBeLessThan(1e-7)
      const ear = { frequency, areaM2: area, hpbw: i.hpbw_deg! * DEG }
      const sun = sunTemperature(i.solar_flux_sfu!, ear, factor, loss)
      expect(Math.abs(sun - p.sun_antenna_temp_K!)).toBeLessThan(1e-3)
      const system = systemFromRise(ratioFromDb(i.Y_dB!), sun)!
      expect(Math.abs(system - p.system_temp_K!)).toBeLessThan(1e-3)
      const want = p.G_over_T_dB_per_K ?? ours!.G_over_T_dB_per_K!
      expect(Math.abs(gOverTDb(area, frequency, system) - want)).toBeLessThan(1e-4)
      // With the disc smeared exactly by a Gaussian beam in place of 0.38: 0.008 and 0.011 dB lower.
      const smeared = systemFromRise(ratioFromDb(i.Y_dB!), sunHeard(i.solar_flux_sfu!, ear, 0.5 * DEG, loss))!
      expect(Math.abs(gOverTDb(area, frequency, smeared) - want)).toBeLessThan(0.012)
    })

  it('has the same receiver temperatures from hot and cold', () => {
    const { inputs, published } = cases[2]!
    const t = receiverFromHotCold(ratioFromDb(inputs.Y_dB!), inputs.hot_K!, inputs.cold_K!)!
    expect(Math.abs(t - published.receiver_temp_K!)).toBeLessThan(1e-6)
    const several = cases[3]!
    several.inputs.Y_dB!.forEach((db, k) => {
      const each = receiverFromHotCold(ratioFromDb(db), several.inputs.hot_K!, several.inputs.cold_K!)!
      expect(Math.abs(each - several.published.receiver_temp_K![k]!)).toBeLessThan(1e-6)
    })
  })
})

describe('the Sun in a dish', () => {
  it('at 42 sfu through a gain of 51.8 at 0.689 m adds 298 K, 4.91 dB over 142 K', () => {
    // amsat.org/amsat/archive/amsat-bb/200201/msg00027.html: gain as a ratio; 297.64 K by hand.
    const frequency = 299.792458 / 0.689
    const ear = { frequency, areaM2: areaFromGain(dbFromRatio(51.8), frequency), hpbw: 20 * DEG }
    const sun = sunTemperature(42, ear, 1, 0)
    expect(Math.abs(sun - 297.64)).toBeLessThan(0.01)
    expect(Math.abs(riseDb(sun, 142) - 4.91)).toBeLessThan(0.005)
  })

  it('of 2.4 m rises 8.208, 8.872, 11.297, 13.480 dB on four bands', () => {
    // By hand, 0.53° and an efficiency of 0.55.
    for (const [mhz, sfu, system, db] of [
      [1296, 50, 80, 8.208],
      [2320, 60, 80, 8.872],
      [5760, 130, 90, 11.297],
      [10368, 270, 100, 13.48],
    ] as const) {
      const ear = { frequency: mhz, areaM2: areaOfDish(2.4, 0.55), hpbw: beamwidth(mhz, 2.4) }
      expect(Math.abs(riseDb(sunHeard(sfu, ear, 0.53 * DEG, 0), system) - db)).toBeLessThan(2e-3)
    }
  })

  it('at Y 10 dB and 50 sfu, 1296 MHz, is G/T 10.6716 dB/K whatever gain is assumed', () => {
    // (Y - 1) 8πk/(S λ²), 8πk/1e-22 = 3.46995, by hand; a point source.
    for (const area of [1, 2.5, 4]) {
      const ear = { frequency: 1296, areaM2: area, hpbw: 7 * DEG }
      const system = systemFromRise(10, sunTemperature(50, ear, 1, 0))!
      expect(Math.abs(gOverTDb(area, 1296, system) - 10.6716)).toBeLessThan(1e-4)
    }
    expect(Math.abs(dbFromRatio((9 * 3.46995) / (50 * wavelengthM(1296) ** 2)) - 10.6716)).toBeLessThan(1e-4)
  })
})

describe('discHeard', () => {
  it('of the Moon at 210 K is 35.30 K in 2.4 m at 10 368 MHz, half of it behind 3.01 dB', () => {
    const ear = { frequency: 10368, areaM2: areaOfDish(2.4, 0.55), hpbw: beamwidth(10368, 2.4) }
    expect(Math.abs(discHeard(210, ear, 0.518 * DEG, 0) - 35.3)).toBeLessThan(0.01)
    expect(discHeard(210, ear, 0.518 * DEG, dbFromRatio(2))).toBeCloseTo(discHeard(210, ear, 0.518 * DEG, 0) / 2, 9)
  })
})

describe('hot and cold', () => {
  it('of ground at 290 K over 30 K of sky and spill is 7.27 dB with a receiver of 30 K', () => {
    // By hand: (290 + 30)/(30 + 30).
    expect(Math.abs(dbFromRatio((290 + 30) / 60) - 7.27)).toBeLessThan(0.005)
    expect(receiverFromHotCold(320 / 60, 290, 30)).toBeCloseTo(30, 9)
  })

  it('says nothing where nothing rose', () => {
    expect(systemFromRise(1, 100)).toBeNull()
    expect(receiverFromHotCold(0.9, 290, 30)).toBeNull()
  })
})

describe('growthOfY', () => {
  it('is how a tenth of a dB in Y shows in Tsys: near 1 for 10 dB, 15 times for 0.3 dB', () => {
    for (const db of [0.3, 3, 10]) {
      const at = (y: number) => dbFromRatio(systemFromRise(ratioFromDb(y), 100)!)
      expect((at(db - 1e-5) - at(db + 1e-5)) / 2e-5).toBeCloseTo(growthOfY(ratioFromDb(db)), 4)
    }
    expect(growthOfY(ratioFromDb(0.3))).toBeGreaterThan(14)
  })
})

describe('gain and area', () => {
  it('undo each other; the air takes twice its share at 30°, and 5° stands for all below', () => {
    expect(gainFromArea(areaFromGain(33, 2320), 2320)).toBeCloseTo(33, 12)
    expect(airLossDb(0.22, 30 * DEG)).toBeCloseTo(0.44, 12)
    expect(airLossDb(0.22, 0)).toBe(airLossDb(0.22, 5 * DEG))
  })
})
