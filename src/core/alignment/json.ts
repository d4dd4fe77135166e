/** The guided alignment as plain JSON: degrees, millimetres, seconds, readings. */
import { type Answered, solutionJson } from '../fit/solution.ts'
import { type AlignmentStep, type CarriedNumbers, carriedNumbers } from '../records/alignment.ts'
import type { StationRecord } from '../records/fieldbook.ts'
import { msFromUtc } from '../records/instant.ts'
import { degFromRad } from '../units.ts'
import { alignmentAt } from './alignment.ts'
import type { Limit, Need, StepReport, StepState, Value, ValueUnit } from './step.ts'

type UnitJson = 'deg' | Exclude<ValueUnit, 'rad'>
type Out<T> = T extends { unit: ValueUnit } ? Omit<T, 'unit'> & { unit: UnitJson } : never

/** Angles in degrees; the rest as within. */
export type AlignmentValueJson = Out<Value>
export type AlignmentLimitJson = Out<Limit>

export interface AlignmentStepJson {
  id: AlignmentStep
  state: StepState
  needs: Need[]
  values: AlignmentValueJson[]
  limits: AlignmentLimitJson[]
}

export interface AlignmentJson {
  feed: string
  /** What may be off altogether over the Moon's path, and what one step may use of it. */
  toleranceDeg: number
  shareDeg: number
  echoLossDb: number
  beamwidthDeg: number
  steps: AlignmentStepJson[]
  next: AlignmentStep | null
  /** The numbers as they would be carried over now; empty before there is a sighting. */
  numbers: CarriedNumbers
}

const of = (unit: ValueUnit, x: number | null): number | null => (unit === 'rad' && x !== null ? degFromRad(x) : x)
const unitOut = (unit: ValueUnit): UnitJson => (unit === 'rad' ? 'deg' : unit)

const valueOut = (v: Value): AlignmentValueJson => ({
  ...v,
  value: of(v.unit, v.value),
  sigma: of(v.unit, v.sigma),
  tolerance: of(v.unit, v.tolerance),
  sigmaWanted: of(v.unit, v.sigmaWanted),
  unit: unitOut(v.unit),
})

const stepOut = ({ id, state, needs, values, limits }: StepReport): AlignmentStepJson => ({
  id,
  state,
  needs,
  values: values.map(valueOut),
  limits: limits.map(l => ({ ...l, limit: of(l.unit, l.limit)!, unit: unitOut(l.unit) })),
})

/**
 * @param record  as it stands: the solved station's own may be older in what the fit does not look at
 * @param nowUtc  as it was asked for
 */
export function alignmentJson(answered: Answered, record: StationRecord, nowUtc: string): AlignmentJson {
  const { budget, steps, next } = alignmentAt(answered, record, msFromUtc(nowUtc))
  const isSighted = answered.solved.fit.kept.includes(1)
  return {
    feed: answered.feed.id,
    toleranceDeg: degFromRad(budget.tolerance),
    shareDeg: degFromRad(budget.share),
    echoLossDb: answered.solved.station.tolerance.echoLossDb,
    beamwidthDeg: degFromRad(budget.hpbw),
    steps: steps.map(stepOut),
    next,
    numbers: !isSighted ? [] : carriedNumbers(solutionJson(answered, nowUtc)),
  }
}
