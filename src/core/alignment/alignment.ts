/**
 * The guided alignment of a mount: the steps of the trade in its order, each with its state from the records and nothing else, what is
 * still wanted, the values behind it, and what this dish needs of it (`budget.ts`). "Done" is said only where the opposite would have
 * been seen; where it could not, what would settle it is said instead. Radians; degrees in `json.ts`.
 */
import type { Answered } from '../fit/solution.ts'
import { verdictOf } from '../fit/verdict.ts'
import {
  ALIGNMENT_STEPS,
  type AlignmentRecord,
  type AlignmentStep,
  alignmentOf,
  lastAct,
} from '../records/alignment.ts'
import type { StationRecord } from '../records/fieldbook.ts'
import type { UtcMs } from '../units.ts'
import { type ErrorBudget, errorBudgetOf } from './budget.ts'
import { clockCheckStep, feedStep, headingStep, readoutsStep, referencesStep } from './ground.ts'
import { axesStep, mastStep } from './levels.ts'
import { limitsOf } from './limits.ts'
import { boltsStep, carryStep, firstSearchStep, sightingsStep, solveStep, verifyStep } from './sky.ts'
import type { AlignmentCase, StepFinding, StepReport, StepState } from './step.ts'

export interface Alignment {
  budget: ErrorBudget
  steps: StepReport[]
  /** The first that is open; null where nothing is. */
  next: AlignmentStep | null
}

const TELL: Readonly<Record<AlignmentStep, (c: AlignmentCase) => StepFinding>> = {
  'site-clock': clockCheckStep,
  mast: mastStep,
  axes: axesStep,
  references: referencesStep,
  readouts: readoutsStep,
  heading: headingStep,
  feed: feedStep,
  search: firstSearchStep,
  sightings: sightingsStep,
  solve: solveStep,
  bolts: boltsStep,
  verify: verifyStep,
  carry: carryStep,
}

/** What the sky has settled once the beam is within the tolerance whatever these leave open. */
const COVERED: ReadonlySet<AlignmentStep> = new Set(['mast', 'axes', 'readouts', 'heading', 'feed'])

/** Wants something of the person. */
const OPEN: ReadonlySet<StepState['kind']> = new Set(['not-begun', 'needs', 'undone', 'off'])

export const isOpen = (state: StepState): boolean => OPEN.has(state.kind)

/** @param record  as it stands; its measurements are those that were solved */
export function alignmentAt(answered: Answered, record: StationRecord, now: UtcMs): Alignment {
  const { solved, sky } = answered
  const kept = solved.fit.kept.reduce((a: number, k: number) => a + k, 0)
  const c: AlignmentCase = {
    answered,
    record,
    budget: errorBudgetOf(answered),
    now,
    whyNot: verdictOf(record, {
      p95: sky.after.p95,
      tolerance: sky.tolerance,
      hours: sky.points.length / 2,
      used: kept,
      outliers: solved.problem.sightings.length - kept,
      suspects: answered.suspects,
    }).whyNot,
  }
  const acts = alignmentOf(record.alignment)
  const steps = ALIGNMENT_STEPS.map((id): StepReport => {
    const told = TELL[id](c)
    return { id, ...told, limits: limitsOf(c, id), state: byPerson(acts, id, byTheSky(c, id, told.state), now) }
  })
  const next = steps.find(s => isOpen(s.state) && !mayWait(s, kept > 0)) ?? steps.find(s => isOpen(s.state))
  return { budget: c.budget, steps, next: next?.id ?? null }
}

/**
 * What was measured waits where only a finer measurement would tell on which side of its limit it lies; what is outside, once there are
 * sightings: they find it.
 */
const mayWait = ({ id, state, needs }: StepReport, isSighted: boolean): boolean =>
  (state.kind === 'needs' && needs.every(n => n.what === 'finer')) ||
  (state.kind === 'off' && isSighted && COVERED.has(id))

const byTheSky = (c: AlignmentCase, id: AlignmentStep, state: StepState): StepState =>
  c.whyNot.length === 0 && COVERED.has(id) && (isOpen(state) || state.kind === 'entered') && state.kind !== 'off'
    ? { kind: 'covered' }
    : state

/** A step that is open may be left out, with the person's reason. */
function byPerson(acts: readonly AlignmentRecord[], id: AlignmentStep, state: StepState, now: UtcMs): StepState {
  const left = lastAct(acts, 'left-out', id, now)
  if (left === null || !(isOpen(state) || state.kind === 'entered')) return state
  return { kind: 'left-out', utc: left.utc, note: left.note ?? '', id: left.id }
}
