/**
 * Where the arms of a jack are guesses the objective has several valleys: the triangle is bent far more than a tape's error
 * bends it. The fit is tried from other arms too, the zero moved so that the middle of the readings stays where it was, and the
 * cheapest counts. Millimetres, radians.
 */
import { AXES } from '../mount/names.ts'
import { AXIS_SLOTS, trueAngle } from '../mount/readings.ts'
import type { Axis } from '../records/fieldbook.ts'
import { isArmGuessed } from '../records/guesses.ts'
import type { Station } from '../records/station.ts'
import type { Problem } from './map.ts'
import { cost, type Fitted, refine, rejectFrom } from './reject.ts'
import { builtAt } from './residuals.ts'

/** Arms tried, in σ of the guess. */
const TRIES = [-0.8, 0, 0.8]

/** The fit, or the better one that other arms lead to. */
export function overGuessedArms(station: Station, problem: Problem, found: Fitted): Fitted {
  let best = found
  for (const axis of AXES)
    if (isArmGuessed(station.record, axis))
      for (const start of startsOf(problem, axis, found.values)) {
        const from = refine(problem, start)
        const fit = rejectFrom(problem, from.values, new Float64Array(problem.sightings.length).fill(1))
        if (cost(fit) < cost(best) - 1e-6) best = fit
      }
  return best
}

function startsOf(problem: Problem, axis: Axis, values: Float64Array): Float64Array[] {
  const { sightings, model, priorValue, priorSigma } = problem
  if (sightings.length === 0) return []
  const slots = AXIS_SLOTS[axis]
  const [first] = sightings
  const at = (slot: number): number => first!.slots[slot]!
  const [base, rod, zero] = [at(slots.base), at(slots.rod), at(slots.zero)]
  if (base < 0 || rod < 0) return []
  const middle = sightings.reduce((sum, s) => sum + s.record[axis], 0) / sightings.length
  const angle = (v: Float64Array): number | null => {
    const told = trueAngle(model, builtAt(v, first!.slots), axis, middle)
    return told.kind === 'angle' ? told.angle : null
  }
  const before = angle(values)
  return TRIES.flatMap(b =>
    TRIES.flatMap(r => {
      const start = values.slice()
      start[base] = priorValue[base]! + b * priorSigma[base]!
      start[rod] = priorValue[rod]! + r * priorSigma[rod]!
      const now = angle(start)
      if (now === null) return []
      if (before !== null && zero >= 0) start[zero]! += before - now
      return [start]
    }),
  )
}
