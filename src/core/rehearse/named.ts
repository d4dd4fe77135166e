/**
 * Whether the book names what is wrong with a dish beyond its ordinary deviations: from what the app itself says of the station, its
 * suspects, its marks, its clock checks, what it makes of "has it moved", and the numbers that it found.
 */
import { compareMark } from '../level/marks.ts'
import type { HasMovedJson } from '../plan/hasmovedjson.ts'
import type { CauseKind } from '../plan/stormmoves.ts'
import { clockChecksOf } from '../records/clockchecks.ts'
import type { Axis, StationRecord } from '../records/fieldbook.ts'
import type { Solution, SuspectKind } from '../records/solution.ts'
import type { Drive } from './drives.ts'
import type { HardFault, WrongStop } from './faults.ts'

/** First or alone; beside another that explains as much; not at all. */
export type Naming = 'named' | 'rival' | 'not'

/** What the app says of a station. */
export interface AppSaid {
  station: StationRecord
  solution: Solution
  moved: HasMovedJson | null
}

interface Of {
  axis?: Axis
  feed?: string
  /** What the clock is really off by; left out: any clock that a check finds wrong. */
  seconds?: number
}

/** A clock error below this moves the sky by less than a tenth of a degree. */
export const CLOCK_S = 20

/** Found: so many σ from nothing. */
const FOUND = 3

/** Suspects of a kind, on an axis where it has one: in the first place, or as another explanation. */
function suspected({ suspects }: Solution, kind: SuspectKind, axis?: Axis): Naming {
  const is = (s: { kind: SuspectKind; axis?: Axis }): boolean =>
    s.kind === kind && (axis === undefined || s.axis === undefined || s.axis === axis)
  if (suspects.some(is)) return 'named'
  return suspects.some(s => s.rivals.some(is)) ? 'rival' : 'not'
}

/** What moved, by "has it moved". */
function movedBy(moved: HasMovedJson | null, kind: CauseKind): Naming {
  if (moved?.verdict !== 'moved') return 'not'
  const list = moved.check?.explanations ?? []
  if (list[0]?.kinds.includes(kind)) return 'named'
  return list.some(e => e.kinds.includes(kind)) ? 'rival' : 'not'
}

/** Readings of a mark on that axis that no longer agree. */
const marksDiffer = (station: StationRecord, axis: Axis): boolean =>
  (station.references ?? []).some(r => r.axis === axis && compareMark(station, r).kind === 'differs')

const found = ({ parameters }: Solution, id: string, feed?: string): boolean =>
  parameters.some(p => p.id === id && p.feed === feed && Math.abs(p.value) > FOUND * p.sigma)

/** A clock check that found it, or where nobody says what it is, one that found the clock wrong at all. */
const checked = (station: StationRecord, seconds: number | undefined): boolean =>
  clockChecksOf(station).some(c =>
    seconds === undefined ? Math.abs(c.offsetS) >= CLOCK_S : Math.abs(c.offsetS - seconds) < CLOCK_S,
  )

/** A limit in the book lies at most this share of the axis's way beyond where the drive stops. */
const SAME_STOP = 0.02

/**
 * Whether the book has a stop where it really is. Nothing that is measured shows it, so the app names it to nobody: whoever drives to both
 * ends types the counter into the station's limits.
 */
export function knowsStop(
  station: Pick<StationRecord, 'mount'>,
  paper: Pick<StationRecord, 'mount'>,
  drives: Readonly<Record<Axis, Drive>>,
  { axis, end }: Pick<WrongStop, 'axis' | 'end'>,
): boolean {
  const { minReading, maxReading } = station.mount[axis]
  const beyond = end === 'low' ? drives[axis].low - minReading : maxReading - drives[axis].high
  const label = paper.mount[axis]
  return beyond < SAME_STOP * (label.maxReading - label.minReading)
}

/** The better of two. */
const best = (...all: readonly Naming[]): Naming =>
  all.includes('named') ? 'named' : all.includes('rival') ? 'rival' : 'not'

/** All but a stop that its label puts elsewhere (`knowsStop`). */
export function namingOf(fault: Exclude<HardFault, 'stop'>, { station, solution, moved }: AppSaid, of: Of): Naming {
  const { axis } = of
  switch (fault) {
    case 'slip':
      return best(
        suspected(solution, 'counter-step', axis),
        axis !== undefined && marksDiffer(station, axis) ? 'named' : 'not',
        axis === undefined ? 'not' : movedBy(moved, `${axis}-zero`),
      )
    case 'clock':
      return best(suspected(solution, 'clock-or-longitude'), checked(station, of.seconds) ? 'named' : 'not')
    case 'feed':
      return found(solution, 'feedRight', of.feed) ? 'named' : 'not'
    case 'storm':
      return movedBy(moved, 'mount')
    case 'backlash':
      return best(
        suspected(solution, 'lost-motion', axis),
        axis !== undefined && found(solution, `${axis}Play`) ? 'named' : 'not',
      )
  }
}
