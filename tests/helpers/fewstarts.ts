/**
 * Stations with little to start from (levels alone, or a few sightings with them), fitted by the method and by brute force:
 * from hundreds of starts drawn all over the priors.
 */
import { levenbergMarquardt, objective, type Problem } from '../../src/core/fit/map.ts'
import { solveStation } from '../../src/core/fit/solution.ts'
import { stationFromRecord } from '../../src/core/records/station.ts'
import { type Chance, chance } from './random.ts'
import { dishLevels, drawScene, KINDS, START_MS, sightMany, trueLevelDeg } from './simulate.ts'

export interface FewTrial {
  seed: number
  kind: string
  sightings: number
  levels: number
  found: number
  brute: number
  ms: number
}

/** The least objective from so many starts drawn within 2.5 σ of the wide priors (half a turn at most). */
function bruteForce(problem: Problem, c: Chance, starts: number): number {
  const all = new Float64Array(problem.sightings.length).fill(1)
  let best = Infinity
  for (let k = 0; k < starts; k++) {
    const start = Float64Array.from(problem.priorValue, (v, i) => {
      const { id } = problem.parameters.list[i]!
      const isAngle = id === 'heading' || id === 'lowerZero' || id === 'upperZero'
      return isAngle ? v + Math.min(2.5 * problem.priorSigma[i]!, Math.PI) * c.between(-1, 1) : v
    })
    const { values } = levenbergMarquardt(problem, start, all)
    best = Math.min(best, objective(problem, values, all))
  }
  return best
}

/** One station; null when the draw gave too little. */
export function fewTrial(seed: number, sightings: number, starts = 150): FewTrial | null {
  const scene = drawScene(seed, { kind: KINDS[seed % 4]! })
  const levels = dishLevels(scene, START_MS, 1 + (seed % 5), 0.3)
  const lower =
    scene.record.mount.kind === 'el-over-az'
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
  const brute = bruteForce(solved.problem, chance(seed + 1), starts)
  const found = solved.fit.objective
  return { seed, kind: record.mount.kind, sightings, levels: record.levels.length, found, brute, ms }
}
