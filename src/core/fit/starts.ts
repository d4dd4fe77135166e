/**
 * Where to start when there is little to start from: levels alone, or fewer than four sightings. Gravity sees an axis's zero
 * as a sine, one sighting sees heading and zeros as a sum, so the objective has several valleys, and the prior's own is
 * not always the deepest. A grid over zeros and heading within their priors, a few damped steps from each point, the
 * best of them followed to the end, and each wide unknown tried once more by itself.
 */
import { radFromDeg } from '../units.ts'
import { levenbergMarquardt, objective, type Problem } from './map.ts'

/** An angle whose prior is narrower than this has one valley. */
const WIDE = radFromDeg(8)
const TURN = 2 * Math.PI
/** Steps from each point of the grid; points followed to the end; rounds of one unknown at a time. */
const FIRST_STEPS = 3
const FOLLOWED = 6
const ROUNDS = 3

interface Found {
  values: Float64Array
  objective: number
}

/** The wide unknowns by what they are: a zero that was changed twice is three of a kind. */
function wideOnes(problem: Problem): number[][] {
  const kinds = new Map<string, number[]>()
  // Gravity does not see which way a mount is turned; without sightings its heading is the prior's.
  const seen = problem.sightings.length > 0 ? ['heading', 'lowerZero', 'upperZero'] : ['lowerZero', 'upperZero']
  for (const p of problem.parameters.list) {
    if (p.id === null || !seen.includes(p.id) || problem.priorSigma[p.index]! < WIDE) continue
    kinds.set(p.id, [...(kinds.get(p.id) ?? []), p.index])
  }
  return [...kinds.values()]
}

/** Where an unknown of this σ is tried: within 1.5 σ, not more than 30° apart, at most once round. */
function triesOf(sigma: number): number[] {
  const reach = Math.min(1.5 * sigma, TURN / 2)
  const step = Math.min(reach, TURN / 12)
  const most = Math.ceil(reach / step - 1e-9)
  const out = [0]
  for (let k = 1; k <= most; k++) {
    const at = (reach * k) / most
    out.push(at)
    // Half a turn either way is the same angle.
    if (at < TURN / 2 - 1e-9) out.push(-at)
  }
  return out
}

/**
 * The best fit of all these starts, nothing rejected.
 * @param known starts found otherwise, looked at too
 */
export function fitFromMany(
  problem: Problem,
  known: readonly Float64Array[],
): { values: Float64Array; iterations: number } {
  const all = new Float64Array(problem.sightings.length).fill(1)
  let iterations = 0
  const from = (start: Float64Array, steps: number): Found => {
    const fit = levenbergMarquardt(problem, start, all, steps)
    iterations = Math.max(iterations, fit.iterations)
    return { values: fit.values, objective: objective(problem, fit.values, all) }
  }
  const wide = wideOnes(problem)
  let grid: Float64Array[] = [problem.priorValue.slice()]
  for (const indices of wide)
    grid = grid.flatMap(values =>
      triesOf(problem.priorSigma[indices[0]!]!).map(by => {
        const moved = values.slice()
        for (const i of indices) moved[i]! += by
        return moved
      }),
    )
  const starts = [...known, ...grid].map(start => from(start, FIRST_STEPS))
  const isNew = (list: Found[], f: Found) =>
    list.every(x => x.values.some((v, i) => Math.abs(v - f.values[i]!) > 1e-2 * problem.priorSigma[i]!))
  const followed: Found[] = []
  for (const f of starts.sort((a, b) => a.objective - b.objective))
    if (followed.length < FOLLOWED && isNew(followed, f)) followed.push(f)
  let best = followed.map(f => from(f.values, 40)).reduce((a, b) => (b.objective < a.objective ? b : a))
  for (let round = 0; round < ROUNDS; round++) {
    const before = best.objective
    for (const i of wide.flat())
      for (const by of triesOf(problem.priorSigma[i]!)) {
        const moved = best.values.slice()
        moved[i] = problem.priorValue[i]! + by
        const tried = from(moved, 40)
        if (tried.objective < best.objective) best = tried
      }
    if (best.objective > before - 1e-6) break
  }
  return { values: best.values, iterations }
}
