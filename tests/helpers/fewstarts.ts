/**
 * Stations with little to start from (levels alone, or a few sightings with them), fitted by the method and by brute force:
 * from hundreds of starts drawn all over the priors.
 */
import { levenbergMarquardt, objective, type Problem } from '../../src/core/fit/map.ts'
import { solveStation } from '../../src/core/fit/solution.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { type Chance, chance } from './random.ts'
import { drawScene, KINDS, START_MS, sightMany } from './simulate.ts'
import { dishLevels, trueLevelDeg } from './truelevels.ts'

export interface FewTrial {
  seed: number
  kind: string
  sightings: number
  levels: number
  found: number
  brute: number
  ms: number
}

const ZEROS = [
  [45, 0],
  [0, 45],
  [45, -45],
  [-45, 45],
] as const

/** The least objective from `starts` starts drawn within 2.5 σ of the wide priors (half a turn at most). */
function bruteForce(problem: Problem, kept: Float64Array, c: Chance, starts: number): number {
  let best = Infinity
  for (let k = 0; k < starts; k++) {
    const start = Float64Array.from(problem.priorValue, (v, i) => {
      const { id } = problem.parameters.list[i]!
      const isAngle = id === 'heading' || id === 'lowerZero' || id === 'upperZero'
      return isAngle ? v + Math.min(2.5 * problem.priorSigma[i]!, Math.PI) * c.between(-1, 1) : v
    })
    const { values } = levenbergMarquardt(problem, start, kept)
    best = Math.min(best, objective(problem, values, kept))
  }
  return best
}

/**
 * One station; null when the draw gave too little. Every second has counters on both axes, zeros 1.5 σ of their prior off:
 * that is where one start alone ends in a wrong valley (in 321 of 720 such stations, with levels alone).
 */
export function fewTrial(seed: number, sightings: number, starts = 150): FewTrial | null {
  const counts = { lower: 'linear-counts', upper: 'linear-counts', wild: false } as const
  const isOff = seed % 8 >= 4
  const scene = drawScene(seed, { kind: KINDS[seed % 4]!, ...(isOff ? counts : {}) })
  if (isOff) {
    const { truth } = scene.truths[0]!
    const [lower, upper] = ZEROS[Math.floor(seed / 8) % ZEROS.length]!
    // With sightings the mount must still see its sky: half as far off then.
    if (scene.record.mount.kind !== 'el-over-az') truth.lowerZero = sightings === 0 ? lower : lower / 2
    truth.upperZero = sightings === 0 ? upper : upper / 2
  }
  const levels = dishLevels(scene, START_MS, 2 + (seed % 5), 0.3)
  const lower =
    scene.record.mount.kind === 'el-over-az' || seed % 3 > 0
      ? []
      : [
          {
            id: 'axis',
            utc: levels[0]?.utc ?? '2026-05-01T00:00:00Z',
            what: 'lower-axis-elevation' as const,
            valueDeg: trueLevelDeg(scene, START_MS, 'lower-axis-elevation') + scene.chance.normal(0.2),
            sigmaDeg: 0.2,
          },
        ]
  const made = sightings === 0 ? [] : sightMany(scene, sightings)
  if (levels.length === 0 || made.length < sightings) return null
  const record = { ...scene.record, sightings: made, levels: [...levels, ...lower] }
  const began = performance.now()
  const solved = solveStation(stationFromRecord(record))
  const ms = performance.now() - began
  const brute = bruteForce(solved.problem, solved.fit.kept, chance(seed + 1), starts)
  const found = solved.fit.objective
  return { seed, kind: record.mount.kind, sightings, levels: record.levels.length, found, brute, ms }
}
