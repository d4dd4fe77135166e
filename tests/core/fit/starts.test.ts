/** Little to start from: tests/studies/starts.study.ts does 200 of each. */
import { describe, expect, it } from 'vitest'
import { fewTrial } from '../../helpers/fewstarts.ts'
import { shareOf } from '../../helpers/share.ts'

describe('starts from all over the priors', () => {
  it.each([0, 1, 3])('find the deepest valley that 12 drawn starts find, with levels and %i sightings', sightings => {
    let tried = 0
    // Seeds 4 to 7 of every eight have counters with zeros 1.5 σ off.
    const seeds = shareOf([9004, 9005, 9006, 9007, 9012, 9014, 9001, 9002], 4)
    for (const seed of seeds) {
      const t = fewTrial(seed, sightings, 12)
      if (t === null) continue
      tried++
      expect(t.found, `seed ${seed}, ${t.kind}`).toBeLessThanOrEqual(t.brute + 0.01)
    }
    expect(tried).toBeGreaterThan((5 / 8) * seeds.length)
  })

  it('find the valley 43° of azimuth away from one that lies 45° from the prior: one sighting, four levels', () => {
    // With starts 45° apart the fit ended 87 above it.
    const t = fewTrial(20_012, 1, 12)!
    expect(t.found).toBeLessThanOrEqual(t.brute + 0.01)
  })
})
