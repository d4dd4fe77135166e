/**
 * What a person did, as data: the kind of act, the place where it was done, and what it was done to. Undo, the notices of
 * what is not kept yet, and the outbox carry steps; `ui/kit/stepwords.ts` makes the sentences, and nothing looks at those.
 */
import type { AlignmentStep } from '../core/records/alignment.ts'
import type { Axis, TargetRecord, Use } from '../core/records/fieldbook.ts'
import type { RecordKind } from '../core/records/kinds.ts'
import { isLoose } from '../core/records/loose.ts'
import type { TapMark } from '../core/records/scans.ts'
import type { Suspect } from '../core/records/solution.ts'

/** The places whose screens offer to undo only their own steps. */
export type StepPlace = 'sight' | 'scan' | 'noise' | 'mount' | 'dish' | 'correct' | 'book' | 'align'

/** One for each kind of a union, so that the kind determines the subject's type. */
type Of<Kind extends string, Place extends StepPlace, Subject> = Kind extends string
  ? { kind: Kind; place: Place; subject: Subject }
  : never

/** A record with its id and, where the sentence names it, its instant. */
interface Timed {
  id: string
  utcMs: number
}
type ScanKind = 'drift' | 'cross'
interface SignalLevel {
  scan: string
  level: number
  scale: 'dB' | 'linear'
}
interface OfStation {
  station: string
  name: string
}

export type MountRecordKind = 'level' | 'reference' | 'change'

export type UndoStep =
  // A sighting, from its stamp to its verdict.
  | Of<'stamp', 'sight', Timed & { target: TargetRecord }>
  | Of<'readings', 'sight', Timed>
  | Of<'join', 'sight', Timed & { stamped?: string }>
  | Of<'throw-away', 'sight', Timed>
  | Of<'make-sighting', 'sight', Timed & { target: TargetRecord }>
  | Of<'edit-sighting', 'sight', Timed>
  | Of<'use', 'sight', Timed & { use: Use }>
  | Of<'delete-sighting', 'sight', Timed>
  | Of<'storm-check', 'sight', { id: string }>
  // How an axis is driven, and where the dish is stowed.
  | Of<'set-drive', 'sight', { station: string; axis: Axis }>
  | Of<'set-stow', 'sight', { station: string }>
  // What a spanner can turn.
  | Of<'set-adjuster', 'correct', { station: string; id: string }>
  // Scans.
  | Of<'begin-scan', 'scan', { id: string; what: ScanKind }>
  | Of<'keep-log', 'scan', { id: string }>
  | Of<'signal-level', 'scan', SignalLevel>
  | Of<'tap', 'scan', { scan: string; mark: TapMark['mark']; utcMs: number }>
  | Of<'one-side', 'scan', { scan: string; axis: Axis; reading: number; unit: 'degrees' | 'counts' }>
  | Of<'gap', 'scan', { scan: string }>
  | Of<'centre', 'scan', { scan: string }>
  | Of<'leave-out-level', 'scan', SignalLevel>
  | Of<'take-in-level', 'scan', SignalLevel>
  | Of<'sighting-from-scan', 'scan', { scan: string; what: ScanKind }>
  | Of<'delete-scan', 'scan', { id: string; what: ScanKind }>
  // Noise.
  | Of<'keep-noise' | 'change-noise' | 'remove-noise', 'noise', { id: string }>
  | Of<'take-temperature', 'noise', { feed: string }>
  // The mount: levels, marks, changes, instruments, calibration, heading, clock.
  | Of<'keep-record' | 'remove-record', 'mount', { record: MountRecordKind; id: string }>
  | Of<'keep-instrument' | 'keep-bias' | 'remove-instrument', 'mount', { id: string }>
  | Of<'calibrate', 'mount', { axis: Axis }>
  | Of<'rough-heading', 'mount', { deg: number }>
  | Of<'check-clock' | 'count-backward' | 'remove-clock-check', 'mount', { id: string }>
  // The dish, by tape.
  | Of<'measure-bowl' | 'measure-strings', 'dish', { station: string }>
  | Of<'measure-rim', 'dish', { station: string; feed: string }>
  // What the fit suspects.
  | Of<'accept' | 'dismiss' | 'look-again', 'correct', { suspect: Suspect['kind'] }>
  // The guided alignment.
  | Of<'leave-out-step' | 'take-up-step' | 'set-by-hand' | 'carry-over', 'align', { id: string; step: AlignmentStep }>
  // The book.
  | Of<'make-station' | 'change-station' | 'delete-station', 'book', OfStation>
  /** `called`: what the record was called when it was restored. */
  | Of<'bring-back', 'book', { record: RecordKind; id: string; called: string }>
  | Of<'bring-in', 'book', { records: number }>
  | Of<'open-demo', 'book', { station: string }>
  // A rehearsal's own acts.
  | Of<'begin-rehearsal' | 'move-feed' | 'turn-adjuster', 'book', OfStation>
  | Of<'take-over', 'book', { records: number }>
  /** From a version that kept only the sentence over a reload. */
  | Of<'earlier', 'book', { sentence: string }>
  /** Kept over a reload without a step that can be read: what was written with it is kept all the same. */
  | Of<'unknown', 'book', object>

export type StepKind = UndoStep['kind']

/** Whether the step is of these kinds; narrows it. */
export const isStep = <K extends StepKind>(
  step: UndoStep | null,
  ...kinds: readonly K[]
): step is Extract<UndoStep, { kind: K }> => step !== null && (kinds as readonly StepKind[]).includes(step.kind)

/** A step as it was kept over a reload; what is no step is 'unknown'. Whether it can be put into words is asked there. */
export function stepFrom(x: unknown): UndoStep {
  if (typeof x === 'string') return { kind: 'earlier', place: 'book', subject: { sentence: x } }
  if (isLoose(x) && typeof x.kind === 'string' && typeof x.place === 'string' && isLoose(x.subject))
    return x as unknown as UndoStep
  return { kind: 'unknown', place: 'book', subject: {} }
}

/** The ids in a step's subject: of the record, and of what it belongs to. */
const idsOf = ({ subject }: UndoStep): unknown[] => {
  const named = subject as { id?: string; stamped?: string; scan?: string; station?: string; feed?: string }
  return [named.id, named.stamped, named.scan, named.station, named.feed]
}

/**
 * Whether the screens of a place offer to undo it: what was done there, and the sighting that a scan has made.
 *
 * @param ids  only what was done to one of these records; without them, to any of the place
 */
export const isStepOf = (step: UndoStep, place: StepPlace, ids?: readonly (string | undefined)[]): boolean =>
  (step.place === place || (place === 'sight' && step.kind === 'sighting-from-scan')) &&
  (ids === undefined || idsOf(step).some(id => id !== undefined && ids.includes(id as string)))
