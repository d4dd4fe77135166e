import { describe, expect, it } from 'vitest'
import {
  beamDeviationFactor,
  beamwidth,
  echoLossDb,
  errorForEchoLoss,
  gainDbi,
  pointingLossDb,
  surfaceLossDb,
  wavelengthM,
} from '../../../src/core/dish/optics.ts'
import { DEG } from '../../helpers/degrees.ts'
import { someOf } from '../../helpers/some.ts'

describe('beamwidth and gainDbi', () => {
  // Worked by hand: 70 λ/D and η = 0.55 (common practice; 58 to 75 λ/D by taper): half-power width in degrees, dBi.
  for (const [d, ...rows] of [
    [1.8, [1296, 8.996, 25.17], [2320, 5.025, 30.23], [5760, 2.024, 38.12], [10368, 1.124, 43.23]],
    [2.4, [1296, 6.747, 27.67], [2320, 3.769, 32.72], [5760, 1.518, 40.62], [10368, 0.843, 45.73]],
    [3.0, [1296, 5.397, 29.6], [2320, 3.015, 34.66], [5760, 1.214, 42.56], [10368, 0.675, 47.67]],
  ] as [number, ...[number, number, number][]][]) {
    it(`of a ${d} m dish are ${rows.map(([f, w, g]) => `${w}° and ${g} dBi at ${f}`).join(', ')} MHz`, () => {
      for (const [mhz, width, dbi] of someOf(rows)) {
        expect(Math.abs(beamwidth(mhz, d) / DEG - width)).toBeLessThan(6e-4)
        expect(Math.abs(gainDbi(mhz, d) - dbi)).toBeLessThan(6e-3)
      }
    })
  }

  it('take 1296 MHz as 231.3 mm', () => {
    expect(wavelengthM(1296)).toBeCloseTo(0.231321, 6)
  })
})

describe('beamDeviationFactor', () => {
  it('is 0.7838, 0.8067, 0.8202, 0.8326, 0.8491, 0.8720 at f/D 0.35, 0.38, 0.40, 0.42, 0.45, 0.50', () => {
    // Lo 1960, IRE AP-8, 347 [M]; values by hand, four decimals.
    for (const [ratio, bdf] of [
      [0.35, 0.7838],
      [0.38, 0.8067],
      [0.4, 0.8202],
      [0.42, 0.8326],
      [0.45, 0.8491],
      [0.5, 0.872],
    ] as const)
      expect(Math.abs(beamDeviationFactor(ratio) - bdf)).toBeLessThan(6e-5)
  })

  it('moves the beam 0.4895° for a feed 10 mm off at f = 0.96 m, f/D = 0.4: 0.58 of a beam at 10 GHz', () => {
    const squint = beamDeviationFactor(0.4) * Math.atan(10 / 960)
    expect(squint / DEG).toBeCloseTo(0.4895, 4)
    expect(squint / beamwidth(10368, 2.4)).toBeCloseTo(0.58, 2)
  })
})

describe('pointing loss', () => {
  it('is 0.056 dB at 0.1° and 1.41 dB at 0.5° of a 1.46° beam', () => {
    // rfessentials.com pointing-loss page, worked with the rounded constant 12; three digits as printed there.
    expect(pointingLossDb(0.1 * DEG, 1.46 * DEG)).toBeCloseTo(0.056, 3)
    expect(Math.abs(pointingLossDb(0.5 * DEG, 1.46 * DEG) - 1.41)).toBeLessThan(5e-3)
  })

  it('is half the power at half a beamwidth: 12.04 dB is the exact constant of a Gaussian, 3.01 dB at 0.5', () => {
    expect(pointingLossDb(0.5, 1)).toBeCloseTo(10 * Math.log10(2), 3)
  })

  it('loses 0.1, 0.5, 1, 3 dB at 0.0911, 0.2038, 0.2882, 0.4991 of a beamwidth, one way', () => {
    // Worked by hand with 12.0412 = 40 log10 2; the 12.04 in use moves the last digit.
    for (const [db, share] of [
      [0.1, 0.0911],
      [0.5, 0.2038],
      [1, 0.2882],
      [3, 0.4991],
    ] as const)
      expect(Math.abs(Math.sqrt(db / pointingLossDb(1, 1)) - share)).toBeLessThan(1e-4)
  })

  it('counts twice on one’s own echoes: half a dB is spent at 0.144 of a beamwidth', () => {
    expect(echoLossDb(0.3, 1)).toBeCloseTo(2 * pointingLossDb(0.3, 1), 12)
    expect(errorForEchoLoss(0.5, 1)).toBeCloseTo(0.144, 3)
    for (const db of [0.01, 0.5, 3, 20]) expect(echoLossDb(errorForEchoLoss(db, 0.1), 0.1)).toBeCloseTo(db, 12)
  })
})

describe('surfaceLossDb', () => {
  it('loses 0.1905, 0.7620, 1.7145, 2.679 dB to a roughness of λ/60, λ/30, λ/20, λ/16', () => {
    // Ruze's equation, -685.81 (ε/λ)² dB (en.wikipedia.org/wiki/Ruze's_equation); 2.679 at λ/16 and so on by it.
    for (const [part, db] of [
      [60, 0.1905],
      [30, 0.762],
      [20, 1.7145],
      [16, 2.679],
    ] as const)
      expect(Math.abs(surfaceLossDb(wavelengthM(5760) / part, 5760) - db)).toBeLessThan(6e-4)
  })
})
