/**
 * What is reported of one step of the alignment: its state, the values behind it, and what this dish needs. Angles in radians here, degrees in
 * `json.ts`.
 */
import type { Answered } from '../fit/solution.ts'
import { isRenewedBy, type ParameterId } from '../mount/parameters.ts'
import type { AlignmentStep } from '../records/alignment.ts'
import type { Axis, ChangeRecord, StationRecord } from '../records/fieldbook.ts'
import { msFromUtc } from '../records/instant.ts'
import type { LevelWhat } from '../records/levelkinds.ts'
import type { WhyNot } from '../records/solution.ts'
import type { UtcMs } from '../units.ts'
import type { ErrorBudget, Inside } from './budget.ts'

/** The station solved, and what its steps are held to. */
export interface AlignmentCase {
  answered: Answered
  record: StationRecord
  budget: ErrorBudget
  /** Why the solution is not within tolerance; empty where it is. */
  whyNot: readonly WhyNot[]
  now: UtcMs
}

/** What is still wanted, `n` times; null where the number is not known. */
export type Need = { n: number | null } & (
  | { what: 'clock-check' }
  /** The readings of one kind of level; `again`: two of them disagree. */
  | { what: 'level'; level: LevelWhat; again: boolean }
  /** A first reading of a mark; `again`: one more, after the axis was driven. */
  | { what: 'mark'; axis: Axis; mark: string | null; again: boolean }
  /** Measured, and not finely enough to tell on which side of the limit it lies. */
  | { what: 'finer'; value: ValueKind }
  /** Say what the axis shows. */
  | { what: 'readout'; axis: Axis }
  | { what: 'calibration'; axis: Axis }
  | { what: 'heading' }
  | { what: 'rim' }
  | { what: 'shadow' }
  /** Heard once. */
  | { what: 'signal' }
  | { what: 'sighting' }
  /** An earlier step has to come first. */
  | { what: 'step'; step: AlignmentStep }
  | { what: 'verdict'; whyNot: WhyNot }
  | { what: 'turn' }
  /** Sightings of another day. */
  | { what: 'visit' }
  | { what: 'carry' }
)

export type ValueKind =
  | { of: 'clock' }
  | { of: 'lean' }
  | { of: 'level'; level: LevelWhat }
  | { of: 'mark'; axis: Axis; mark: string }
  | { of: 'readout'; axis: Axis }
  | { of: 'heading' }
  | { of: 'feed' }
  | { of: 'search' }
  | { of: 'sightings' }
  | { of: 'error' }
  | { of: 'as-entered' }
  | { of: 'unseen' }
  | { of: 'carried' }

/** `rad` becomes degrees in the JSON; `reading` is in the axis's own readings. */
export type ValueUnit = 'rad' | 'mm' | 's' | 'reading' | 'sightings'

export type Value = ValueKind & {
  /** Null: only its σ is known. */
  value: number | null
  sigma: number | null
  unit: ValueUnit
  /** What this dish needs, in the same unit; null where there is no limit. */
  tolerance: number | null
  /** Null where there is no tolerance. */
  inside: Inside | null
  /** Where that cannot be told: the 1 σ that would settle it, or null where measuring finer would not. */
  sigmaWanted: number | null
  utc: string | null
}

/** What this dish can bear of a step, in the step's own unit. */
export type Limit = { limit: number; unit: ValueUnit } & (
  | { of: 'site' | 'clock' | 'lean' | 'heading' | 'feed' | 'sighting' | 'beam' | 'error' | 'carried' }
  | { of: 'level'; level: LevelWhat }
  | { of: 'mark' | 'readout'; axis: Axis }
)

/** What of a step a later event has undone. */
export type UndoneBy =
  | { kind: 'change'; id: string; utc: string; what: string[] }
  /** The solution has moved away from what was carried over. */
  | { kind: 'numbers' }
  /** A clock check counts for a day. */
  | { kind: 'age' }

export type NotFor =
  /** The axis itself is levelled: the mast's lean is in it. */
  | 'mast-in-axis'
  /** No axis counts pulses. */
  | 'no-counts'
  /** No shadow of an offset feed falls in the dish, and its rim says nothing of the focus. */
  | 'offset-fed'

export type StepState =
  | { kind: 'not-begun' }
  | { kind: 'needs' }
  | { kind: 'done'; utc: string | null }
  /** Measured, and outside what this dish needs. */
  | { kind: 'off'; utc: string | null }
  /** The person says so; nothing measured confirms it yet. */
  | { kind: 'entered'; utc: string | null }
  /** Not needed any more: the sightings hold the beam within the tolerance whatever this is. */
  | { kind: 'covered' }
  | { kind: 'undone'; by: UndoneBy; was: string | null }
  | { kind: 'left-out'; utc: string; note: string; id: string }
  | { kind: 'not-for'; why: NotFor }

export interface StepReport {
  id: AlignmentStep
  state: StepState
  needs: Need[]
  values: Value[]
  /** What this dish can bear, measured or not; empty where the step is not for it. */
  limits: Limit[]
}

/** Before the person's own word is looked at. */
export type StepFinding = Omit<StepReport, 'id' | 'limits'>

/** The last change at or before a time that restarts one of these; a slip counts only where it is asked for. */
export function lastChange(
  record: StationRecord,
  ids: readonly ParameterId[],
  feed: string | null,
  now: UtcMs,
  withSlips = false,
): ChangeRecord | null {
  let last: ChangeRecord | null = null
  for (const c of record.changes ?? []) {
    if (msFromUtc(c.utc) > now || (c.slipped === true && !withSlips)) continue
    if (!c.what.some(w => ids.some(id => isRenewedBy(w, id, feed)))) continue
    if (last === null || msFromUtc(c.utc) >= msFromUtc(last.utc)) last = c
  }
  return last
}

/**
 * Of records, oldest first: those since a change, and those before it. Those after `now` count: a phone that is ahead dates them so.
 */
export function spanOf<T extends { utc: string }>(
  records: readonly T[],
  change: ChangeRecord | null,
): { since: T[]; before: T[] } {
  const from = change === null ? -Infinity : msFromUtc(change.utc)
  const at = (r: T): UtcMs => msFromUtc(r.utc)
  const inOrder = [...records].sort((a, b) => at(a) - at(b))
  return { since: inOrder.filter(r => at(r) >= from), before: inOrder.filter(r => at(r) < from) }
}

export const undoneBy = (c: ChangeRecord): UndoneBy => ({ kind: 'change', id: c.id, utc: c.utc, what: [...c.what] })

/**
 * The state of a step that has all its values: off where one is outside; done where each is inside; else what could not be decided
 * is still wanted, finer.
 */
export function toldByValues(values: readonly Value[]): StepFinding {
  const utc = latest(values)
  if (values.some(v => v.inside === 'outside')) return { state: { kind: 'off', utc }, needs: [], values: [...values] }
  const needs = values
    .filter(v => v.inside === 'cannot-tell')
    .map((v): Need => ({ what: 'finer', value: ofWhat(v), n: 1 }))
  return { state: needs.length === 0 ? { kind: 'done', utc } : { kind: 'needs' }, needs, values: [...values] }
}

const ofWhat = (v: Value): ValueKind => {
  if (v.of === 'level') return { of: v.of, level: v.level }
  if (v.of === 'mark') return { of: v.of, axis: v.axis, mark: v.mark }
  return v.of === 'readout' ? { of: v.of, axis: v.axis } : { of: v.of }
}

/** The last of several dates. */
export const latest = (values: readonly Pick<Value, 'utc'>[]): string | null =>
  values.reduce<string | null>((a, v) => (v.utc !== null && (a === null || v.utc > a) ? v.utc : a), null)

/** Nothing of it yet, some of it, or undone by a change. @param had  when it was last done, before that change */
export const openState = (begun: boolean, change: ChangeRecord | null, had: string | null): StepState =>
  change !== null && had !== null
    ? { kind: 'undone', by: undoneBy(change), was: had }
    : { kind: begun ? 'needs' : 'not-begun' }
