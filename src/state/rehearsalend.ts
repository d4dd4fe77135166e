/** The end of a rehearsal: the core's answers for the station as it is now, judged on the rehearsal's real dish. */
import type { StationRecord } from '../core/records/fieldbook.ts'
import { type Outcome, outcomeOf, rowsOfTable } from '../core/rehearse/outcome.ts'
import { MOON_PATH_POINTS, MOON_PATH_STEP_MS } from '../core/sky/moonpath.ts'
import { HOUR_S } from '../core/units.ts'
import { ask, isoOf, trueNowMs, valueTold } from './ask.ts'
import { feedHere } from './chosenfeed.ts'
import { clockMs } from './now.ts'
import { rehearsal } from './rehearse.ts'

/** The points of the number that matters: 27.3 days of Moon every half hour. */
const STEP_S = MOON_PATH_STEP_MS / 1000
const HOURS = (MOON_PATH_POINTS * STEP_S) / HOUR_S

/** Null: no solution, or no rehearsal. */
export async function judgedRehearsal(station: StationRecord): Promise<Outcome | null> {
  const world = rehearsal.world.peek()
  if (world === null) return null
  const nowMs = clockMs()
  const feed = feedHere(station)
  const at = isoOf(trueNowMs(station, nowMs))
  const wish = { feed, target: { type: 'moon' }, fromUtc: at, hours: HOURS, stepS: STEP_S } as const
  const solution = await ask(station, 'solve', { feed }, { topic: 'rehearsal solve', at })
  const table = await ask(station, 'targets', wish, { topic: 'rehearsal table', at })
  const moved = await ask(station, 'hasMoved', { feed }, { topic: 'rehearsal moved', at })
  if (solution?.kind !== 'told' || table?.kind !== 'told') return null
  return outcomeOf(world, station, solution.value, rowsOfTable(table.value), nowMs, valueTold(moved))
}
