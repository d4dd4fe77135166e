/**
 * Levels alone, and levels with one to three sightings: does the fit find the deepest valley? 200 stations each, all kinds
 * and readouts, half with counters whose zeros are 1.5 σ off, against the best of 80 starts drawn all over the priors.
 */
import { type FewTrial, fewTrial } from '../helpers/fewstarts.ts'

const STATIONS = 200

export default async () => {
  const out: Record<string, unknown> = {}
  for (const n of [0, 1, 2, 3]) {
    const all: FewTrial[] = []
    for (let seed = 20_000; all.length < STATIONS; seed++) {
      const t = fewTrial(seed, n, 80)
      if (t !== null) all.push(t)
    }
    const ms = all.map(t => t.ms).sort((a, b) => a - b)
    out[`${n} sightings`] = {
      stations: all.length,
      worseBy001: all.filter(t => t.found > t.brute + 0.01).length,
      worst: Math.max(...all.map(t => t.found - t.brute)),
      betterThanBruteForce: all.filter(t => t.found < t.brute - 0.01).length,
      msMedian: Number(ms[Math.floor(ms.length / 2)]!.toFixed(1)),
    }
  }
  return out
}
