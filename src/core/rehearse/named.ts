/**
 * Whether the book names what is wrong with a dish beyond its ordinary deviations: from what the app itself says of the station, its
 * suspects, its marks, what it makes of "has it moved", and the numbers that it found.
 */
import { compareMark } from '../level/marks.ts'
import type { HasMovedJson } from '../plan/hasmovedjson.ts'
import type { CauseKind } from '../plan/stormmoves.ts'
import type { Axis, StationRecord } from '../records/fieldbook.ts'
import type { Solution, SuspectKind } from '../records/solution.ts'
import type { HardFault } from './faults.ts'

/** First or alone; beside another that explains as much; not at all. */
export type Naming = 'named' | 'rival' | 'not'

/** What the app says of a station. */
export interface Said {
  station: StationRecord
  solution: Solution
  moved: HasMovedJson | null
}

interface Of {
  axis?: Axis
  feed?: string
}

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

/** The better of two. */
const best = (...all: readonly Naming[]): Naming =>
  all.includes('named') ? 'named' : all.includes('rival') ? 'rival' : 'not'

/** A stop that its label puts elsewhere shows in nothing that is measured: only the station's own limits say that it is known. */
export function namingOf(fault: Exclude<HardFault, 'stop'>, { station, solution, moved }: Said, of: Of): Naming {
  const { axis } = of
  switch (fault) {
    case 'slip':
      return best(
        suspected(solution, 'counter-step', axis),
        axis !== undefined && marksDiffer(station, axis) ? 'named' : 'not',
        axis === undefined ? 'not' : movedBy(moved, `${axis}-zero`),
      )
    case 'clock':
      return suspected(solution, 'clock-or-longitude')
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
