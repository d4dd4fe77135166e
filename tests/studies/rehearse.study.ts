/**
 * Rehearsals from their seed to their end, by a practised hand with the meter: in how many the truth confirms what was claimed.
 * Twelve numbers of every mount, a beginner's and ordinary; in a hard case what is suspected by the app.
 */
import { solve } from '../../src/core/questions.ts'
import type { Difficulty } from '../../src/core/rehearse/setup.ts'
import { type Ended, rehearsed } from '../helpers/practised.ts'
import { KINDS } from '../helpers/simulate.ts'
import { bookOf } from '../helpers/stations.ts'

const SEEDS = 12
const DAYS = 5

const shareOf = (list: readonly boolean[]) => `${list.filter(Boolean).length} of ${list.length}`

function figures(difficulty: Difficulty) {
  const ended: Ended[] = KINDS.flatMap(kind => {
    const some = Array.from({ length: SEEDS }, (_, k) => rehearsed(kind, k + 1, difficulty, DAYS))
    console.error(
      `rehearse: ${difficulty} ${kind}: the claim holds in ${shareOf(some.map(e => e.outcome.holds === true))}`,
    )
    return some
  })
  const outcomes = ended.map(e => e.outcome).filter(o => o.holds !== null)
  const suspects = ended.map(({ station }) => {
    const solved = solve(bookOf(station), { now: '2026-05-06T06:00:00Z' })
    return solved.ok ? solved.value.suspects.map(s => s.kind) : []
  })
  return {
    holds: shareOf(outcomes.map(o => o.holds!)),
    within: shareOf(outcomes.map(o => o.claimed.within)),
    withinAndTrue: shareOf(outcomes.filter(o => o.claimed.within).map(o => o.holds!)),
    wrongNotCaught: outcomes.reduce((sum, o) => sum + o.wrong.filter(w => !w.isCaught).length, 0),
    accused: outcomes.reduce((sum, o) => sum + o.accused.length, 0),
    sightings: outcomes.reduce((sum, o) => sum + o.sightings, 0),
    suspected: shareOf(suspects.map(s => s.length > 0)),
    suspects: Object.fromEntries(
      [...new Set(suspects.flat())].sort().map(kind => [kind, suspects.filter(s => s.includes(kind)).length]),
    ),
  }
}

export default async () => ({ beginner: figures('beginner'), ordinary: figures('ordinary'), hard: figures('hard') })
