/**
 * The steps of the alignment that gravity answers: mast, axes by level and swing. Of several levels of one kind since the last change the
 * surest counts, and only where the others agree with it. Radians.
 */
import { CLAMPING_SIGMA_DEG } from '../fit/parameters.ts'
import { levelRows } from '../fit/residuals.ts'
import type { ParameterId } from '../mount/parameters.ts'
import { lowerAxisIds, onPaper, SLOTS } from '../mount/slots.ts'
import type { ChangeRecord, LevelRecord } from '../records/fieldbook.ts'
import { isLevelFitted, type LevelWhat } from '../records/levelkinds.ts'
import { type Rad, radFromDeg } from '../units.ts'
import { insideOf, LOWER_AXIS, settlingSigma } from './budget.ts'
import { axesLevels, leanLimit, levelLimit } from './limits.ts'
import {
  type AlignmentCase,
  lastChange,
  type Need,
  openState,
  type StepFinding,
  spanOf,
  toldByValues,
  type Value,
} from './step.ts'

/** Two levels further apart than this many σ disagree: 1 in 370 by chance. */
const APART = 3

/** The row is worked out for a mount that is given, not for one that is solved. */
const NO_SLOTS = new Int16Array(SLOTS).fill(-1)

/** How far a level says that its axis is out, as entered being right; and 1 σ. Null outside a jack's triangle. */
export interface Out {
  record: LevelRecord
  out: Rad
  sigma: Rad
}

const sigmaOf = (record: LevelRecord): Rad =>
  radFromDeg(Math.hypot(record.sigmaDeg, record.clamping === undefined ? 0 : CLAMPING_SIGMA_DEG))

/** Lower axis: against its elevation as entered. Upper: against where the lower axis as known carries it, its own zero and squareness apart. */
function outOf(c: AlignmentCase, record: LevelRecord): Out | null {
  const { station } = c.answered.solved
  const { model } = station
  const sigma = sigmaOf(record)
  if (record.what === 'mast-lean') {
    return { record, out: radFromDeg(Math.hypot(record.northDeg, record.eastDeg)), sigma }
  }
  if (record.what === 'dish-elevation') return null
  const built = onPaper()
  const isUpper = record.what === 'upper-axis-elevation'
  // Known from the mast's own levels: without them nothing is taken off, and its σ is added.
  const carries = isUpper && model.kind === 'el-over-az'
  if (carries) for (const slot of LOWER_AXIS) built[slot] = c.answered.built[slot]!
  const rows = levelRows(model, { record, sigma, clamping: -1, slots: NO_SLOTS }, built)
  if (rows === null) return null
  const { residual, bySlot } = rows[0]!
  if (!carries) return { record, out: -residual * sigma, sigma }
  let carried = 0
  for (const a of LOWER_AXIS)
    for (const b of LOWER_AXIS) carried += bySlot[a]! * bySlot[b]! * c.answered.covariance[a * SLOTS + b]!
  return { record, out: -residual * sigma, sigma: Math.hypot(sigma, sigma * Math.sqrt(Math.max(0, carried))) }
}

/** The surest, the latest of equals; null where there is none. And whether another disagrees with it. */
export function surest(all: readonly Out[]): { best: Out; isAgainst: boolean } | null {
  const best = all.reduce<Out | null>((a, b) => (a === null || b.sigma <= a.sigma ? b : a), null)
  if (best === null) return null
  const isAgainst = all.some(o => Math.abs(o.out - best.out) > APART * Math.hypot(o.sigma, best.sigma))
  return { best, isAgainst }
}

interface Levelled {
  value: Value | null
  need: Need | null
  change: ChangeRecord | null
  /** When it was last levelled before the change that undid it. */
  had: string | null
}

/** One kind of level. @param ids  a change of any of these restarts it */
function levelled(c: AlignmentCase, what: LevelWhat, ids: readonly ParameterId[], tolerance: Rad): Levelled {
  const change = lastChange(c.record, ids, null, c.now)
  const { since, before } = spanOf(
    (c.record.levels ?? []).filter(l => l.what === what),
    change,
  )
  const found = surest(since.flatMap(l => outOf(c, l) ?? []))
  const had = before.at(-1)?.utc ?? null
  if (found === null) return { value: null, need: { what: 'level', level: what, again: false, n: 1 }, change, had }
  const { best, isAgainst } = found
  const inside = isAgainst ? 'cannot-tell' : insideOf(best.out, best.sigma, tolerance)
  const value: Value = {
    ...(what === 'mast-lean' ? { of: 'lean' } : { of: 'level', level: what }),
    value: best.out,
    sigma: best.sigma,
    unit: 'rad',
    tolerance,
    inside,
    sigmaWanted: inside === 'cannot-tell' && !isAgainst ? settlingSigma(best.out, tolerance) : null,
    utc: best.record.utc,
  }
  return { value, need: isAgainst ? { what: 'level', level: what, again: true, n: 1 } : null, change, had }
}

function told(all: readonly Levelled[]): StepFinding {
  const values = all.flatMap(l => l.value ?? [])
  const needs = all.flatMap(l => l.need ?? [])
  if (needs.length === 0) return toldByValues(values)
  const gone = all.find(l => l.value === null && l.change !== null && l.had !== null)
  return { state: openState(values.length > 0, gone?.change ?? null, gone?.had ?? null), needs, values }
}

/** The mast, where it is the lower axis itself; on the others its lean is in the axis that stands on it. */
export function mastStep(c: AlignmentCase): StepFinding {
  const { kind } = c.answered.solved.station.model
  if (!isLevelFitted(kind, 'mast-lean'))
    return { state: { kind: 'not-for', why: 'mast-in-axis' }, needs: [], values: [] }
  return told([levelled(c, 'mast-lean', lowerAxisIds(kind), leanLimit(c))])
}

/** Both axes: the lower one where it is not upright, the upper one as it is carried. */
export function axesStep(c: AlignmentCase): StepFinding {
  const { kind } = c.answered.solved.station.model
  const lower = lowerAxisIds(kind)
  const upper: ParameterId[] = [...lower, 'squareness', ...(kind === 'el-over-az' ? [] : (['lowerZero'] as const))]
  return told(
    axesLevels(c).map(what => levelled(c, what, what === 'lower-axis-elevation' ? lower : upper, levelLimit(c, what))),
  )
}
