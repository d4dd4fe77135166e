/** Whole searches on drawn mounts of all kinds that are off by up to 10°, the Sun moving on: found, and sooner than by a raster. */
import { expect, it } from 'vitest'
import { type SearchTrial, searchTrial } from '../../helpers/searchtrials.ts'

it('finds the Sun on 80 drawn mounts, in less than half of a raster’s steps, with a σ that holds where it is first heard', () => {
  const trials: SearchTrial[] = []
  for (let seed = 900; trials.length < 80; seed++) {
    const made = searchTrial(seed)
    if (made !== null) trials.push(made)
  }
  const found = trials.filter(t => t.search.found)
  expect(found.length).toBeGreaterThanOrEqual(78)
  const total = (of: (t: SearchTrial) => number) => found.reduce((sum, t) => sum + of(t), 0)
  expect(total(t => t.search.steps)).toBeLessThan(0.5 * total(t => t.raster.steps))
  expect(total(t => t.search.minutes)).toBeLessThan(0.6 * total(t => t.raster.minutes))
  for (const t of found) expect(t.search.firstHeardDeg!).toBeLessThan(2 * t.sigmaDeg)
})
