/** What a step's subject must hold so that a sentence can be made of it: steps come back after a reload, perhaps from another version. */
import { isLoose, type Loose } from '../core/records/loose.ts'
import type { StepKind, UndoStep } from './steps.ts'

type Subject<K extends StepKind> = Extract<UndoStep, { kind: K }>['subject']
type KeysOf<S> = S extends unknown ? keyof S : never

/** What the subject of each kind holds at least. */
const SUBJECTS: { [K in StepKind]: readonly KeysOf<Subject<K>>[] } = {
  stamp: ['id', 'utcMs', 'target'],
  readings: ['id', 'utcMs'],
  join: ['id', 'utcMs'],
  'throw-away': ['id', 'utcMs'],
  'make-sighting': ['id', 'utcMs', 'target'],
  'edit-sighting': ['id', 'utcMs'],
  use: ['id', 'utcMs', 'use'],
  'delete-sighting': ['id', 'utcMs'],
  'storm-check': ['id'],
  'set-drive': ['station', 'axis'],
  'set-stow': ['station'],
  'set-adjuster': ['station', 'id'],
  'begin-scan': ['id', 'what'],
  'keep-log': ['id'],
  'signal-level': ['scan', 'level', 'scale'],
  tap: ['scan', 'mark', 'utcMs'],
  'one-side': ['scan', 'axis', 'reading', 'unit'],
  gap: ['scan'],
  centre: ['scan'],
  'leave-out-level': ['scan', 'level', 'scale'],
  'take-in-level': ['scan', 'level', 'scale'],
  'sighting-from-scan': ['scan', 'what'],
  'delete-scan': ['id', 'what'],
  'keep-noise': ['id'],
  'change-noise': ['id'],
  'remove-noise': ['id'],
  'take-temperature': ['feed'],
  'keep-record': ['record', 'id'],
  'remove-record': ['record', 'id'],
  'keep-instrument': ['id'],
  'keep-bias': ['id'],
  'remove-instrument': ['id'],
  calibrate: ['axis'],
  'rough-heading': ['deg'],
  'check-clock': ['id'],
  'count-backward': ['id'],
  'remove-clock-check': ['id'],
  'measure-bowl': ['station'],
  'measure-strings': ['station'],
  'measure-rim': ['station', 'feed'],
  accept: ['suspect'],
  dismiss: ['suspect'],
  'look-again': ['suspect'],
  'leave-out-step': ['id', 'step'],
  'take-up-step': ['id', 'step'],
  'set-by-hand': ['id', 'step'],
  'carry-over': ['id', 'step'],
  'make-station': ['station', 'name'],
  'change-station': ['station', 'name'],
  'delete-station': ['station', 'name'],
  'bring-back': ['record', 'id', 'called'],
  'bring-in': ['records'],
  import: ['records'],
  'open-demo': ['station'],
  'begin-rehearsal': ['station', 'name'],
  'move-feed': ['station', 'name'],
  'turn-adjuster': ['station', 'name'],
  'take-over': ['records'],
  earlier: ['sentence'],
  unknown: [],
}

/** All other keys are texts. */
const NUMBERS: ReadonlySet<string> = new Set(['utcMs', 'level', 'reading', 'deg', 'records'])

const isOfKey = (key: string, value: unknown): boolean =>
  key === 'target'
    ? isLoose(value) && typeof value.type === 'string'
    : typeof value === (NUMBERS.has(key) ? 'number' : 'string')

/** Whether a sentence can be made of the step: of one that came back after a reload it is not certain. */
export function isReadable({ kind, subject }: UndoStep): boolean {
  const keys: readonly string[] | null = Object.hasOwn(SUBJECTS, kind) ? SUBJECTS[kind] : null
  return keys?.every(key => isOfKey(key, (subject as Loose)[key])) ?? false
}
