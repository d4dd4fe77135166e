/** What the guided alignment says of a station, asked as the screens ask it. */
import type { AlignmentJson, AlignmentStepJson } from '../../src/core/alignment/json.ts'
import { alignment } from '../../src/core/questions.ts'
import type { AlignmentStep } from '../../src/core/records/alignment.ts'
import type { StationRecord } from '../../src/core/records/fieldbook.ts'
import { NOW } from './aligned.ts'
import { answered } from './answered.ts'
import { bookOf } from './stations.ts'

/** What was asked before is not worked out again: a whole station takes a second. */
const asked = new Map<string, AlignmentJson>()

export function told(station: StationRecord, now = NOW): AlignmentJson {
  const key = `${now} ${JSON.stringify(station)}`
  const known = asked.get(key)
  if (known !== undefined) return known
  const answer = answered(alignment(bookOf(station), { now }))
  asked.set(key, answer)
  return answer
}

export const stepOf = (a: AlignmentJson, id: AlignmentStep): AlignmentStepJson => a.steps.find(s => s.id === id)!

/** The state of every step by its word. */
export const states = (station: StationRecord, now = NOW): Record<AlignmentStep, string> =>
  Object.fromEntries(told(station, now).steps.map(s => [s.id, s.state.kind])) as Record<AlignmentStep, string>
