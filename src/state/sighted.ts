/** Whether any sighting counts at a station: asked by every screen that would say what a solution says. */
import type { StationRecord } from '../core/records/fieldbook.ts'
import type { Solution } from '../core/records/solution.ts'
import { answer, hasNoneInUse } from './answer.ts'

/** Whether any sighting counts at a station, and if not, why; `count` is of the sightings that do not. */
export type Sighted =
  | { kind: 'some' | 'none' }
  /** There is one, but the solution is still that of before. */
  | { kind: 'computing' }
  | { kind: 'left-out' | 'set-aside'; count: number }
  /** Only the solution will show it. */
  | { kind: 'not-known' }

/**
 * That the list is empty, or that the person left out every one, is known before the solution comes: a screen that changes under the
 * finger loses its press.
 */
export function sightedAt(
  station: Pick<StationRecord, 'sightings'>,
  solution: { fit: Pick<Solution['fit'], 'used' | 'outliers'> } | null = answer.value.solution,
): Sighted {
  const { sightings } = station
  if (hasNoneInUse(station))
    return sightings.length === 0 ? { kind: 'none' } : { kind: 'left-out', count: sightings.length }
  if (solution === null) return { kind: 'not-known' }
  const { fit } = solution
  if (fit.used > 0) return { kind: 'some' }
  // A solution of before the first sighting stays until the new one is there.
  return fit.outliers > 0 ? { kind: 'set-aside', count: fit.outliers } : { kind: 'computing' }
}

/** Nothing is known of the mount but what was entered. */
export const isOnlyEntered = ({ kind }: Sighted): boolean => kind !== 'some' && kind !== 'not-known'
