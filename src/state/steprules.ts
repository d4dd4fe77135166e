/**
 * The rules that a step must fit, and for which steps a fault that the record had before counts too.
 * Loaded with the first write, since it knows the whole file format.
 */
import type { Fault } from '../core/records/answer.ts'
import type { Draft, StoredRecord } from '../core/records/stored.ts'
import { faultsOfWriting } from '../core/records/wholestation.ts'
import type { StepKind, UndoStep } from './steps.ts'

/**
 * Steps that what was wrong with the record before does not prevent: acts that change one thing of it without a form, and the form of a
 * station, which does not show all that a station's record holds. All others say all that is wrong with what they keep.
 */
const OLD_FAULTS_STAND: ReadonlySet<StepKind> = new Set<StepKind>([
  'use',
  'join',
  'count-backward',
  'keep-bias',
  'accept',
  'dismiss',
  'look-again',
  'take-temperature',
  'change-station',
  'bring-back',
  'move-feed',
  'turn-adjuster',
  // Checked when they were made, by the version that made them.
  'earlier',
  'unknown',
])
/** Whether a fault that the record had before refuses the step too. */
const mustBeWhole = (step: UndoStep): boolean => !OLD_FAULTS_STAND.has(step.kind)

/** Every rule that the step's drafts would break. @param step  null: an undo or redo, which restores what stood before */
export const faultsOfStep = (
  current: readonly StoredRecord[],
  drafts: readonly Draft[],
  step: UndoStep | null,
): readonly Fault[] => faultsOfWriting(current, drafts, step !== null && mustBeWhole(step))
