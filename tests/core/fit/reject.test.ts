/** Hard rejection: what the studentised χ² means, that it settles, and what is never thrown out or let in. */
import { describe, expect, it } from 'vitest'
import { levenbergMarquardt, posterior } from '../../../src/core/fit/map.ts'
import { OUTLIER, studentised } from '../../../src/core/fit/reject.ts'
import { fitOf, trialScene } from '../../helpers/paired.ts'

const seeds = (n: number, from: number) => Array.from({ length: n }, (_, k) => from + k)

describe('studentised', () => {
  it('gives a kept sighting the χ² that it would have against a fit without it (leave one out, exact when linear)', () => {
    let looked = 0
    for (const seed of seeds(8, 4100)) {
      const made = trialScene(seed, 12, 0)
      if (!made) continue
      const { problem, fit } = fitOf(made.scene.record, made.sightings)
      const inside = studentised(problem, fit.values, fit.kept, fit.covariance)
      for (let k = 0; k < problem.sightings.length; k++) {
        // Two of one minute share an error (repeats.ts): then the one is not judged by the other as a stranger.
        if (fit.kept[k] === 0 || problem.sightings[k]!.crowd !== 1) continue
        const without = Float64Array.from(fit.kept)
        without[k] = 0
        const { values } = levenbergMarquardt(problem, fit.values, without)
        const outside = studentised(problem, values, without, posterior(problem, values, without))
        // The mounts are a few degrees off, so linear to a few per cent; both sides of one decision.
        expect(Math.abs(outside[k]! - inside[k]!)).toBeLessThan(0.05 + 0.1 * inside[k]!)
        looked++
      }
    }
    expect(looked).toBeGreaterThan(70)
  })
})

describe('fitRobustly', () => {
  it('keeps no sighting that is above the line and rejects none below it, with a quarter wrong', () => {
    let looked = 0
    for (const seed of seeds(24, 4200)) {
      const made = trialScene(seed, 14, 0.25)
      if (!made) continue
      const { problem, fit } = fitOf(made.scene.record, made.sightings)
      const d2 = studentised(problem, fit.values, fit.kept, fit.covariance)
      const onWrongSide = [...d2].filter((d, k) => (fit.kept[k] === 1 ? d > OUTLIER : d <= OUTLIER)).length
      // A set that cannot settle is left with the cheapest: at most one sighting then stands on the wrong side.
      expect(onWrongSide, `seed ${seed}`).toBeLessThanOrEqual(1)
      looked++
    }
    expect(looked).toBeGreaterThan(15)
  })

  it('never leaves a sighting marked always, and never lets in one marked never', () => {
    const made = trialScene(4300, 12, 0.25)!
    const [wrong] = [...made.wrong]
    const marked = made.sightings.map(s =>
      s.id === wrong ? { ...s, use: 'always' as const } : made.wrong.has(s.id) ? { ...s, use: 'never' as const } : s,
    )
    const { problem, fit } = fitOf(made.scene.record, marked)
    expect(problem.sightings.some(s => s.use === 'never')).toBe(false)
    expect(fit.kept[problem.sightings.findIndex(s => s.record.id === wrong)]).toBe(1)
  })

  it('rejects nothing of three sightings, one of them plain wrong', () => {
    const made = trialScene(4301, 12, 0.25)!
    const few = made.sightings.filter(s => made.wrong.has(s.id)).slice(0, 1)
    const { fit } = fitOf(made.scene.record, [...few, ...made.sightings.filter(s => !made.wrong.has(s.id)).slice(0, 2)])
    expect([...fit.kept]).toEqual([1, 1, 1])
  })
})

describe('a book of many sightings', () => {
  it('of 700, a quarter wrong, is fitted like the fit that is told, though its starts come from 400', () => {
    const made = trialScene(4401, 700, 0.25, { kind: 'az-over-el' }, { days: 60 })!
    const { problem, fit } = fitOf(made.scene.record, made.sightings)
    const accused = problem.sightings.filter((_, k) => fit.kept[k] === 0).map(s => s.record.id)
    expect(new Set(accused)).toEqual(made.wrong)
    const told = Float64Array.from(problem.sightings, s => (made.wrong.has(s.record.id) ? 0 : 1))
    const { values } = levenbergMarquardt(problem, fit.values, told)
    values.forEach((v, i) => {
      expect(Math.abs(v - fit.values[i]!) / problem.priorSigma[i]!).toBeLessThan(1e-6)
    })
  })
})
