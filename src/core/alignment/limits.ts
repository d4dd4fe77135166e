/** What this dish can bear of each step of its alignment, each in its own unit. Radians, millimetres, seconds, readings. */
import { skyTurn } from '../clock/cost.ts'
import { AXES } from '../mount/names.ts'
import type { ParameterId } from '../mount/parameters.ts'
import { AXIS_SLOTS } from '../mount/readings.ts'
import { SLOT, slotOf } from '../mount/slots.ts'
import { angleFromReading, countsSteps } from '../readout/readout.ts'
import type { AlignmentStep } from '../records/alignment.ts'
import type { Axis, MountKind } from '../records/fieldbook.ts'
import { isOffsetFed } from '../records/guesses.ts'
import { isLevelFitted, type LevelWhat } from '../records/levelkinds.ts'
import type { Mm, Rad } from '../units.ts'
import { LOWER_AXIS } from './budget.ts'
import type { AlignmentCase, Limit } from './step.ts'

/** What sets the direction that the mount faces: the heading, the azimuth's zero, the pole's offset to the east. */
export const HEADED_BY = {
  'el-over-az': 'lowerZero',
  'ha-dec': 'poleEast',
  'az-over-el': 'heading',
  'x-y': 'heading',
} as const satisfies Record<MountKind, ParameterId>

/** How far the numbers may have moved since they were carried over: half of the tolerance, a quarter of the loss. */
const CARRIED = 0.5

/** 1 σ of peaking by ear or meter, as a share of the beamwidth: as the methods have it. */
const PEAK = 0.1

const kindOf = (c: AlignmentCase): MountKind => c.answered.solved.station.model.kind

export const clockLimit = ({ budget }: AlignmentCase): number => budget.share / skyTurn(1)
export const leanLimit = ({ budget }: AlignmentCase): Rad => budget.share / budget.perUnit(...LOWER_AXIS)
export const zeroLimit = ({ budget }: AlignmentCase, axis: Axis): Rad =>
  budget.share / budget.perUnit(AXIS_SLOTS[axis].zero)
/** Good enough when the beam finds the Sun without a search. */
export const headingLimit = (c: AlignmentCase): Rad =>
  c.budget.hpbw / c.budget.perUnit(slotOf(HEADED_BY[kindOf(c)], kindOf(c))!)
export const carriedLimit = ({ budget }: AlignmentCase): Rad => CARRIED * budget.tolerance

/** An error found at the upper axis may lie in how it sits on the lower one or in the lower one's zero: whichever costs more. */
export function levelLimit(c: AlignmentCase, level: LevelWhat): Rad {
  const { budget } = c
  if (level === 'lower-axis-elevation') return budget.share / budget.perUnit(SLOT.axisB)
  const squareness = budget.perUnit(SLOT.squareness)
  const isCarried = kindOf(c) !== 'el-over-az'
  return budget.share / (isCarried ? Math.max(squareness, budget.perUnit(SLOT.lowerZero)) : squareness)
}

/** An angle of an axis in its own readings, about a reading; null where no triangle closes there. */
export function inReadings(c: AlignmentCase, axis: Axis, angle: Rad, reading?: number): number | null {
  const { readout, minReading, maxReading } = c.answered.solved.station.model[axis]
  const at = angleFromReading(readout, reading ?? (minReading + maxReading) / 2)
  return at.kind === 'angle' && at.perReading !== 0 ? angle / Math.abs(at.perReading) : null
}

export const isCounted = (c: AlignmentCase, axis: Axis): boolean =>
  countsSteps(c.answered.solved.station.model[axis].readout)

/** The axes whose angle gravity can tell: not that of an upright one. */
export const gravityAxes = (c: AlignmentCase): Axis[] =>
  AXES.filter(axis => !(axis === 'lower' && kindOf(c) === 'el-over-az'))

/** The levels that tell of both axes. */
export const axesLevels = (c: AlignmentCase): LevelWhat[] =>
  (['lower-axis-elevation', 'upper-axis-elevation'] as const).filter(what => isLevelFitted(kindOf(c), what))

const counted = (c: AlignmentCase, of: 'mark' | 'readout', axis: Axis): Limit[] => {
  const limit = isCounted(c, axis) ? inReadings(c, axis, zeroLimit(c, axis)) : null
  return limit === null ? [] : [{ of, axis, limit, unit: 'reading' }]
}

/** Empty where the step is not for this mount or dish. */
export function limitsOf(c: AlignmentCase, step: AlignmentStep): Limit[] {
  const { budget } = c
  const rad = (
    of: Extract<Limit['of'], 'site' | 'lean' | 'heading' | 'sighting' | 'beam' | 'error' | 'carried'>,
    limit: Rad,
  ): Limit => ({
    of,
    limit,
    unit: 'rad',
  })
  switch (step) {
    case 'site-clock':
      return [{ of: 'clock', limit: clockLimit(c), unit: 's' }, rad('site', budget.share)]
    case 'mast':
      return isLevelFitted(kindOf(c), 'mast-lean') ? [rad('lean', leanLimit(c))] : []
    case 'axes':
      return axesLevels(c).map(level => ({ of: 'level', level, limit: levelLimit(c, level), unit: 'rad' }))
    case 'references':
      return AXES.flatMap(axis => counted(c, 'mark', axis))
    case 'readouts':
      return gravityAxes(c).flatMap((axis): Limit[] => [
        { of: 'readout', axis, limit: zeroLimit(c, axis), unit: 'rad' },
        ...counted(c, 'readout', axis),
      ])
    case 'heading':
      return [rad('heading', headingLimit(c))]
    case 'feed':
      return isOffsetFed(c.record) ? [] : [{ of: 'feed', limit: budget.feed satisfies Mm, unit: 'mm' }]
    case 'search':
      return [rad('beam', budget.hpbw)]
    case 'sightings':
      return [rad('sighting', PEAK * budget.hpbw)]
    case 'carry':
      return [rad('carried', carriedLimit(c))]
    default:
      return [rad('error', budget.tolerance)]
  }
}
