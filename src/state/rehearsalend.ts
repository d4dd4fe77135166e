/** The end of a rehearsal: the core's own answers for the station as it stands, judged on the dish that does not exist. */
import type { StationRecord } from '../core/records/fieldbook.ts'
import { type Outcome, outcomeOf, rowsOfTable } from '../core/rehearse/outcome.ts'
import { ask, isoOf, trueNowMs, valueTold } from './ask.ts'
import { feedHere } from './chosenfeed.ts'
import { clockMs } from './now.ts'
import { rehearsal } from './rehearse.ts'

/** A lunation of Moon, every half hour; as the number that matters is taken. */
const HOURS = 655
const STEP_S = 1800

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
