import { describe, expect, it } from 'vitest'
import {
  fitGaussian,
  type GaussianFit,
  type GaussianOptions,
  type ScanSample,
} from '../../../src/core/scan/gaussian.ts'
import { authority } from '../../helpers/authorities.ts'
import { chance } from '../../helpers/random.ts'
import { SCAN_KINDS, scanTrials } from '../../helpers/scans.ts'
import { drawn } from '../../helpers/share.ts'
import { someOf } from '../../helpers/some.ts'

const peakOf = (samples: ScanSample[], o: GaussianOptions): GaussianFit => {
  const fit = fitGaussian(samples, o)
  if (fit.kind !== 'peak') throw new Error(`no peak: ${fit.kind}`)
  return fit
}
const bell = (x: number, x0 = 0, w = 1) => Math.exp(-4 * Math.LN2 * ((x - x0) / w) ** 2)

/** 81 samples over ± 2 widths, the peak at 0.1, height 1 on a base of 0.3. */
const clean = (noise = 0, seed = 1): ScanSample[] => {
  const c = chance(seed)
  return Array.from({ length: 81 }, (_, i) => {
    const x = -2 + i / 20
    return { x, level: bell(x, 0.1) + 0.3 + c.normal(1) * noise }
  })
}
const LINEAR = { scale: 'linear', width: null } as const

describe('fitGaussian', () => {
  it('gives the published fit of a published nine-point scan, the place to 1e-4', () => {
    const { t_s, offset_deg, level, published } = authority('scan/nine-point.json')
    const fit = peakOf(
      offset_deg.map((x: number, i: number) => ({ x, level: level[i], t: t_s[i] - t_s[4] })),
      LINEAR,
    )
    expect(Math.abs(fit.x0 - published.x0[0])).toBeLessThan(1e-4)
    expect(Math.abs(fit.sigmaX0 - published.x0[1])).toBeLessThan(1e-4)
    // The published fit weighted or stopped a little otherwise: the others agree to their last printed digit or two.
    expect(Math.abs(fit.width - published.w[0])).toBeLessThan(2e-4)
    expect(Math.abs(fit.sigmaWidth - published.w[1])).toBeLessThan(1e-4)
    expect(Math.abs(fit.amplitude - published.A[0])).toBeLessThan(3e-4)
    expect(Math.abs(fit.base - published.C[0])).toBeLessThan(2e-4)
    expect(Math.abs(fit.slope - published.M[0])).toBeLessThan(5e-5)
    expect(Math.abs(fit.rms - published.rms)).toBeLessThan(2e-4)
  })

  it('finds the Sun through a 2.3 m dish at 1410 MHz where others did, to 0.002° and 5.1 to 5.45° wide', () => {
    const { scans } = authority('scan/sun-cross-scans.json')
    for (const scan of someOf(
      Object.values(scans) as { offset_deg: number[]; power: number[]; fit_free_base: never }[],
    )) {
      const { centre_deg, fwhm_deg } = scan.fit_free_base as { centre_deg: number; fwhm_deg: number }
      const fit = peakOf(
        scan.offset_deg.map((x, i) => ({ x, level: scan.power[i]! })),
        { ...LINEAR, slope: false },
      )
      expect(Math.abs(fit.x0 - centre_deg)).toBeLessThan(0.002)
      expect(Math.abs(fit.width - fwhm_deg)).toBeLessThan(0.002)
      if (scan === scans['2014-10-03_long']) {
        expect(Math.abs(fit.x0 + 0.27)).toBeLessThan(0.05)
        expect(fit.width).toBeGreaterThan(5.1)
        expect(fit.width).toBeLessThan(5.45)
      }
    }
  })

  it("finds the Sun's peak in published drift curves: 5.10 and 4.61 dB to 0.03 dB, in time to 15 s", () => {
    const { days, published } = authority('scan/sun-drift-10ghz.json')
    let seen = 0
    for (const day of days) {
      if (day.scan === undefined) continue
      const samples = day.scan.seconds_from_max.map((x: number, i: number) => ({
        x,
        level: day.scan.level_dB_over_cold_sky[i],
      }))
      const fit = peakOf(samples, { scale: 'dB', width: null })
      expect(Math.abs(fit.x0), day.date).toBeLessThan(15)
      expect(Math.abs(fit.peakDb! - day.digitised_peak_dB || 0), day.date).toBeLessThan(0.03)
      seen++
      if (day.date === '2019-10-09') expect(Math.abs(fit.peakDb! - published['2019'].peak_dB_Oct9)).toBeLessThan(0.03)
      if (day.date !== '2021-03-04') continue
      expect(Math.abs(fit.peakDb! - published['2021'].peak_dB_Mar4)).toBeLessThan(0.03)
      // The Sun at declination -6.2° (2021-03-04) runs 15°/h · cos δ.
      const width = fit.width * (15 / 3600) * Math.cos(6.2 * (Math.PI / 180))
      expect(width).toBeGreaterThan(1.93)
      expect(width).toBeLessThan(2)
    }
    expect(seen).toBe(7)
  })

  drawn('comes within 1.1 of the Cramér-Rao bound, its stated σ within 1.2 of the actual', () => {
    for (const [name, wish] of Object.entries(SCAN_KINDS)) {
      // The drift with its width known is left to the study.
      if (name === 'drift, width known') continue
      const trials = wish.samples > 20 ? 100 : 250
      for (const snr of wish.samples > 20 ? [20] : [200]) {
        const r = scanTrials(4, trials, { ...wish, snr })
        const at = `${name}, S/N ${snr}`
        expect(r.overBound, at).toBeLessThan(1.1)
        expect(r.statedOverActual, at).toBeLessThan(1.2)
        expect(1 / r.statedOverActual, at).toBeLessThan(1.2)
        expect(r.none, at).toBe(0)
      }
    }
  })

  it('moves by less than its σ when one sample in eight is a spike, and names the spikes', () => {
    const c = chance(5)
    for (let k = 0; k < 8; k++) {
      const samples = clean(0.02, 100 + k)
      const before = peakOf(samples, LINEAR)
      const spoilt = new Set<number>()
      while (spoilt.size < 10) spoilt.add(c.whole(0, 80))
      const fit = peakOf(
        samples.map((s, i) => (spoilt.has(i) ? { ...s, level: s.level + c.between(0.5, 20) } : s)),
        LINEAR,
      )
      expect(Math.abs(fit.x0 - before.x0)).toBeLessThan(before.sigmaX0)
      for (const i of someOf(spoilt)) expect(fit.spikes).toContain(i)
      expect(fit.spikes.length).toBeLessThan(13)
    }
  })

  it('keeps its place and grows its σ when a third of the scan is missing, the top included', () => {
    const samples = clean(0.02)
    const whole = peakOf(samples, LINEAR)
    const fit = peakOf(
      samples.filter(s => s.x < -0.35 || s.x > 0.95),
      LINEAR,
    )
    expect(Math.abs(fit.x0 - 0.1)).toBeLessThan(4 * fit.sigmaX0)
    expect(fit.sigmaX0).toBeGreaterThan(whole.sigmaX0)
    expect(fit.sigmaX0).toBeLessThan(0.05)
  })

  it('says that the receiver clipped, leaves out the flat top and keeps the place', () => {
    const samples = clean(0.01).map(s => ({ ...s, level: Math.min(s.level, 0.95) }))
    const fit = peakOf(samples, LINEAR)
    expect(fit.isClipped).toBe(true)
    expect(fit.clipped.length).toBeGreaterThan(10)
    expect(Math.abs(fit.x0 - 0.1)).toBeLessThan(4 * fit.sigmaX0)
    expect(Math.abs(fit.amplitude - 1)).toBeLessThan(4 * fit.sigmaAmplitude)
  })

  it('does not call coarse steps of 0.1 dB clipping', () => {
    const samples = clean(0.005).map(s => ({ x: s.x, level: Math.round(100 * Math.log10(s.level)) / 10 }))
    const fit = peakOf(samples, { scale: 'dB', width: null })
    expect(fit.isClipped).toBe(false)
    expect(Math.abs(fit.x0 - 0.1)).toBeLessThan(0.01)
  })

  it('answers dB and linear levels of one scan alike', () => {
    const samples = clean(0.01)
    const dB = samples.map(s => ({ x: s.x, level: 10 * Math.log10(s.level) }))
    const a = peakOf(samples, { ...LINEAR, noise: 'even' })
    const b = peakOf(dB, { scale: 'dB', width: null, noise: 'even' })
    expect(b.x0).toBeCloseTo(a.x0, 9)
    expect(a.peakDb).toBeCloseTo(10 * Math.log10(1.3), 1)
    expect(a.baseDb).toBeCloseTo(10 * Math.log10(0.3), 1)
  })

  it('says no peak, or weak, to noise alone and to a dip; never a strong one', () => {
    let strong = 0
    for (let k = 0; k < 30; k++) {
      const c = chance(900 + k)
      const fit = fitGaussian(
        Array.from({ length: 60 }, (_, i) => ({ x: i / 15, level: 1 + c.normal(0.1) })),
        { scale: 'linear', width: 1 },
      )
      if (fit.kind === 'peak' && !fit.isWeak) strong++
    }
    expect(strong).toBe(0)
    expect(
      fitGaussian(
        clean(0.01).map(s => ({ ...s, level: 2 - s.level })),
        { scale: 'linear', width: 1 },
      ).kind,
    ).not.toBe('peak')
  })

  it('says on which side the peak lies when the scan ends on the way up', () => {
    const samples = clean(0.002)
    const rising = fitGaussian(
      samples.filter(s => s.x < -0.25),
      { scale: 'linear', width: 1 },
    )
    expect(rising).toEqual({ kind: 'outside', toward: 'last' })
    const falling = fitGaussian(
      samples.filter(s => s.x > 0.4),
      { scale: 'linear', width: 1 },
    )
    expect(falling).toEqual({ kind: 'outside', toward: 'first' })
  })

  it('asks for more samples than unknowns, and throws at what is not a number', () => {
    expect(fitGaussian(clean().slice(0, 3), { scale: 'linear', width: 1 })).toEqual({
      kind: 'too-few',
      samples: 3,
      needed: 4,
    })
    expect(() => fitGaussian([{ x: Number.NaN, level: 1 }], LINEAR)).toThrow(RangeError)
  })

  it('widens σ where the noise wanders slowly, as a receiver warming up does', () => {
    const c = chance(8)
    let drift = 0
    const errors: number[] = []
    const stated: number[] = []
    for (let k = 0; k < 80; k++) {
      const samples = clean(0).map(s => {
        drift = 0.7 * drift + c.normal(0.02)
        return { ...s, level: s.level + drift }
      })
      const fit = peakOf(samples, { ...LINEAR, expectedWidth: 1 })
      errors.push((fit.x0 - 0.1) ** 2)
      stated.push(fit.sigmaX0 ** 2)
    }
    const sum = (list: number[]) => list.reduce((a, b) => a + b, 0)
    const ratio = Math.sqrt(sum(stated) / sum(errors))
    expect(ratio).toBeGreaterThan(1 / 1.4)
    expect(ratio).toBeLessThan(1.5)
  })
})
