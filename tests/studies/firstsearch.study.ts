/**
 * First searches on 600 drawn mounts of all kinds, off by up to 10° in zeros or heading, beams of 1.2° to 6°, the Sun moving on: share
 * found, steps and minutes (15 s a step, 0.5° a second), against a plain raster over the same extent. `twoSigma`: share of coordinates, when
 * the Sun is first heard (1 dB above cold sky, on the skirts too), within 2 σ as the sighting states.
 */

import { MOUNT_KINDS } from '../../src/core/mount/names.ts'
import { type SearchTrial, searchTrial } from '../helpers/searchtrials.ts'

const TRIALS = 600

const rounded = (x: number, d = 1): number => Number(x.toFixed(d))
const at = (list: readonly number[], share: number): number =>
  rounded([...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(share * list.length))] ?? 0)

function figures(trials: readonly SearchTrial[]) {
  const of = (way: 'search' | 'raster') => {
    const found = trials.filter(t => t[way].found)
    const steps = found.map(t => t[way].steps)
    const minutes = found.map(t => t[way].minutes)
    return {
      found: rounded(found.length / trials.length, 3),
      steps: { median: at(steps, 0.5), ninth: at(steps, 0.9) },
      minutes: { median: at(minutes, 0.5), ninth: at(minutes, 0.9) },
    }
  }
  const heard = trials.filter(t => t.search.firstHeardDeg !== null)
  return {
    trials: trials.length,
    errorDeg: {
      median: at(
        trials.map(t => t.errorDeg),
        0.5,
      ),
      most: at(
        trials.map(t => t.errorDeg),
        1,
      ),
    },
    search: of('search'),
    raster: of('raster'),
    twoSigma: rounded(heard.filter(t => t.search.firstHeardDeg! <= 2 * t.sigmaDeg).length / heard.length, 3),
  }
}

export default async () => {
  const trials: SearchTrial[] = []
  for (let seed = 40_000; trials.length < TRIALS; seed++) {
    const made = searchTrial(seed)
    if (made !== null) trials.push(made)
  }
  return {
    all: figures(trials),
    byKind: Object.fromEntries(MOUNT_KINDS.map(kind => [kind, figures(trials.filter(t => t.kind === kind))])),
    narrowBeams: figures(trials.filter(t => t.hpbwDeg < 2.5)),
  }
}
