import { describe, expect, it } from 'vitest'
import { type HeardValue, stepIn } from '../../../src/core/noise/noisetrend.ts'
import { chance } from '../../helpers/random.ts'

const row = (values: readonly number[], sigma = 0.2): HeardValue[] =>
  values.map((db, k) => ({ id: `n${k}`, utc: new Date(Date.UTC(2026, 0, 1 + k)).toISOString(), db, sigma }))

describe('stepIn', () => {
  it('finds the drop of a storm where it was, and how large', () => {
    const step = stepIn(row([10.1, 9.9, 10, 10.2, 8.5, 8.7]))!
    expect(step).toMatchObject({ id: 'n4', before: 4, after: 2 })
    expect(step.db).toBeCloseTo(8.6 - 10.05, 9)
    expect(step.sigma).toBeCloseTo(0.2 * Math.sqrt(1 / 4 + 1 / 2), 9)
  })

  it('needs no order, tells a rise from a fall, and says nothing of one value or of scatter within σ', () => {
    expect(stepIn(row([8, 10, 10]).reverse())).toMatchObject({ id: 'n1', before: 1 })
    expect(stepIn(row([8, 10, 10]))!.db).toBeCloseTo(2, 9)
    expect(stepIn(row([10]))).toBeNull()
    expect(stepIn([])).toBeNull()
    expect(stepIn(row([10, 10.3, 9.8, 10.1]))).toBeNull()
  })

  it('sees a step in fewer than 1 in 100 rows of ten without one, and in 95 of 100 with 0.6 dB half way', () => {
    const random = chance(77)
    let [false_, seen] = [0, 0]
    for (let k = 0; k < 2000; k++) {
      const noise = Array.from({ length: 10 }, () => random.normal(0.2))
      if (stepIn(row(noise)) !== null) false_ += 1
      if (stepIn(row(noise.map((x, i) => (i < 5 ? x : x - 0.6)))) !== null) seen += 1
    }
    expect(false_ / 2000).toBeLessThan(0.01)
    expect(seen / 2000).toBeGreaterThan(0.85)
  })
})
