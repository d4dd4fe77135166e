/**
 * Whether what is worth doing next brings what it promises: drawn stations of all mounts and 2 to 16 sightings, the best step of the plan
 * carried out with its own noise, the station solved again. `falsePromises`: shares in which less than half of the promised gain came
 * (of the loss in dB where it stays within the parabola, else of the error), or none that would be seen; `ratio` is the median of the
 * error that was left over the error promised.
 */
import { echoLossDb, isBeamOffTarget } from '../../src/core/dish/optics.ts'
import { isSeen } from '../../src/core/plan/worth.ts'
import { type WorthTrial, worthTrial } from '../helpers/worthtrials.ts'

const STATIONS = 240
const SIZES = [2, 3, 4, 6, 8, 12, 16]

function isFalse(t: WorthTrial): boolean {
  const loss = (deg: number) => echoLossDb(deg, t.hpbwDeg)
  if (!isSeen({ p95Before: t.beforeDeg, p95After: t.broughtDeg }, t.hpbwDeg)) return true
  const scale = isBeamOffTarget(loss(t.beforeDeg)) ? (deg: number) => deg : loss
  return scale(t.beforeDeg) - scale(t.broughtDeg) < 0.5 * (scale(t.beforeDeg) - scale(t.promisedDeg))
}

function shares(trials: readonly WorthTrial[]) {
  const ratios = trials.map(t => t.broughtDeg / t.promisedDeg).sort((a, b) => a - b)
  return {
    stations: trials.length,
    falsePromises: Number((trials.filter(isFalse).length / Math.max(1, trials.length)).toFixed(3)),
    ratio: Number((ratios[ratios.length >> 1] ?? 0).toFixed(3)),
  }
}

export default async () => {
  const trials: WorthTrial[] = []
  for (let seed = 700_000; trials.length < STATIONS; seed++) {
    const made = worthTrial(seed, SIZES[seed % SIZES.length]!)
    if (made !== null) trials.push(made)
  }
  const by = (key: (t: WorthTrial) => string) =>
    Object.fromEntries([...new Set(trials.map(key))].sort().map(k => [k, shares(trials.filter(t => key(t) === k))]))
  return {
    all: shares(trials),
    fourOrMore: shares(trials.filter(t => t.sightings >= 4)),
    bySightings: by(t => String(t.sightings).padStart(2, '0')),
    byKind: by(t => t.kind),
    byStep: by(t => t.what),
  }
}
