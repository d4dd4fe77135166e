/**
 * The rules that a step must fit: those of the whole station, and for which steps a fault that the record had before counts too.
 * Loaded with the first write, since it knows the whole file format.
 */
import type { Fault } from '../core/records/answer.ts'
import type { Draft, StoredRecord } from '../core/records/stored.ts'
import { faultsOfWriting } from '../core/records/wholestation.ts'
import type { StepKind, UndoStep } from './steps.ts'

/**
 * Acts that change one thing of a record as it stands: what was wrong with it before does not prevent them. All others keep a
 * form's whole record, and all that is wrong with it is said.
 */
const CHANGES_ONE_THING: ReadonlySet<StepKind> = new Set<StepKind>([
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
const isWholeForm = (step: UndoStep): boolean => !CHANGES_ONE_THING.has(step.kind)

/** Every rule that the step's drafts would break. @param step  null: an undo or redo, which restores what stood before */
export const faultsOfStep = (
  current: readonly StoredRecord[],
  drafts: readonly Draft[],
  step: UndoStep | null,
): readonly Fault[] => faultsOfWriting(current, drafts, step !== null && isWholeForm(step))
