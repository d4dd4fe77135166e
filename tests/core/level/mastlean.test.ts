import { describe, expect, it } from 'vitest'
import { type LeanReading, mastLean } from '../../../src/core/level/mastlean.ts'
import { degFromRad, radFromDeg } from '../../../src/core/units.ts'
import { chance } from '../../helpers/random.ts'

const SPREAD = { noise: radFromDeg(0.1), step: radFromDeg(0.1), bias: 0 }
const reading = (headingDeg: number, deg: number): LeanReading => ({
  heading: radFromDeg(headingDeg),
  reading: radFromDeg(deg),
})
/** A mast that leans `lean`° toward `toward`°, read by an instrument that shows `bias`° too much. */
const around = (headings: number[], lean: number, toward: number, bias: number) =>
  headings.map(h => reading(h, bias + lean * Math.cos(radFromDeg(h - toward))))

describe('mastLean', () => {
  it('finds 0.5° toward 225° behind an error of 1.3° from three headings', () => {
    const r = mastLean(around([0, 120, 240], 0.5, 225, 1.3), SPREAD)
    if (r.kind !== 'lean') throw new Error(r.kind)
    expect(degFromRad(r.lean)).toBeCloseTo(0.5, 9)
    expect(degFromRad(r.toward)).toBeCloseTo(225, 6)
    expect(degFromRad(r.bias)).toBeCloseTo(1.3, 9)
    expect(degFromRad(r.north)).toBeCloseTo(-0.5 * Math.SQRT1_2, 9)
    expect(degFromRad(r.east)).toBeCloseTo(-0.5 * Math.SQRT1_2, 9)
    expect(r.misfit).toBeNull()
  })
  it('is 8.73 mm per metre at half a degree', () => {
    const r = mastLean(around([0, 90, 180, 270], 0.5, 10, 0), SPREAD)
    if (r.kind !== 'lean') throw new Error(r.kind)
    // tan 0.5° = 0.0087269
    expect(r.mmPerMetre).toBeCloseTo(8.727, 3)
  })
  it('lets a reading 0.8° off show as a misfit, and as a larger σ', () => {
    const good = around([0, 90, 180, 270], 0.5, 10, 0)
    const bad = good.map((r, i) => (i === 1 ? { ...r, reading: r.reading + radFromDeg(0.8) } : r))
    const [a, b] = [mastLean(good, SPREAD), mastLean(bad, SPREAD)]
    if (a.kind !== 'lean' || b.kind !== 'lean') throw new Error('refused')
    expect(degFromRad(a.misfit!)).toBeLessThan(1e-9)
    // Of 0.8° at one of four headings a quarter of the square is left over: ±0.2° at each, one degree of freedom.
    expect(degFromRad(b.misfit!)).toBeCloseTo(0.4, 6)
    expect(b.sigma).toBeGreaterThan(2 * a.sigma)
  })
  it('needs three headings, and not three within 40°', () => {
    expect(mastLean(around([0, 90], 0.5, 10, 0), SPREAD)).toEqual({ kind: 'too-few', have: 2, need: 3 })
    expect(mastLean(around([0, 20, 40], 0.5, 10, 0), SPREAD)).toEqual({ kind: 'too-close' })
    expect(mastLean(around([10, 10, 190], 0.5, 10, 0), SPREAD)).toEqual({ kind: 'too-close' })
  })
  it('gives no direction to a lean within 2 σ of nothing', () => {
    const r = mastLean(around([0, 120, 240], 0.05, 225, 1.3), SPREAD)
    expect(r).toMatchObject({ kind: 'lean', towardSigma: null })
  })
  it('states a σ that is right: 93 to 98 % of north and east lie within 2 σ, at most 1.3 times too wide', () => {
    const luck = chance(11)
    let within = 0
    let square = 0
    let stated = 0
    const trials = 1000
    for (let k = 0; k < trials; k++) {
      const lean = luck.between(0, 2)
      const toward = luck.between(0, 360)
      const readings = around([0, 90, 180, 270], lean, toward, luck.normal(1)).map(r => ({
        ...r,
        // Shown in steps of 0.1°.
        reading: radFromDeg(Math.round(10 * degFromRad(r.reading + radFromDeg(luck.normal(0.15)))) / 10),
      }))
      const r = mastLean(readings, { ...SPREAD, noise: radFromDeg(0.15) })
      if (r.kind !== 'lean') throw new Error(r.kind)
      const miss = degFromRad(r.north) - lean * Math.cos(radFromDeg(toward))
      within += Math.abs(miss) <= 2 * degFromRad(r.sigma) ? 1 : 0
      square += miss * miss
      stated += degFromRad(r.sigma)
    }
    const rms = Math.sqrt(square / trials)
    expect(within / trials).toBeGreaterThan(0.93)
    expect(within / trials).toBeLessThan(0.98)
    expect(stated / trials / rms).toBeLessThan(1.3)
  })
})
