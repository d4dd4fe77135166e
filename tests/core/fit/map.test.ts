/** The plain fit's algebra: two ways to one step, and a gradient that vanishes at the answer. */
import { describe, expect, it } from 'vitest'
import { fewRowsStep, levenbergMarquardt, normalEquations, objective, step } from '../../../src/core/fit/map.ts'
import { fitOf, trialScene } from '../../helpers/paired.ts'

const made = (seed: number) => {
  const { scene, sightings } = trialScene(seed, 12, 0)!
  return fitOf(scene.record, sightings)
}

describe('fewRowsStep', () => {
  it('is the Gauss-Newton step of the normal equations, for three sightings and two dozen parameters, to 1e-8 σ', () => {
    for (const seed of [5001, 5002, 5003, 5004]) {
      const { problem } = made(seed)
      const weights = new Float64Array(problem.sightings.length)
      weights.set([1, 0.4, 1])
      const eq = normalEquations(problem, problem.priorValue, weights)
      const whole = step(problem, problem.priorValue, eq.H, eq.g, 0)!.values
      const few = fewRowsStep(problem, problem.priorValue, weights)!
      few.forEach((x, i) => {
        expect(Math.abs(x - whole[i]!) / problem.priorSigma[i]!).toBeLessThan(1e-8)
      })
    }
  })
})

describe('levenbergMarquardt', () => {
  it('ends where the gradient vanishes and every step aside costs more', () => {
    const { problem, fit } = made(5005)
    const { values } = levenbergMarquardt(problem, problem.priorValue.slice(), fit.kept)
    const { g, objective: least } = normalEquations(problem, values, fit.kept)
    expect(Math.max(...g.map(Math.abs))).toBeLessThan(1e-5)
    values.forEach((x, i) => {
      for (const side of [-1, 1]) {
        const aside = Float64Array.from(values)
        aside[i] = x + side * 1e-3 * problem.priorSigma[i]!
        expect(objective(problem, aside, fit.kept)).toBeGreaterThan(least)
      }
    })
  })
})
