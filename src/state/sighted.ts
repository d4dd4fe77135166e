/** Whether any sighting counts at a station: asked by every screen that would say what a solution says. */
import type { StationRecord } from '../core/records/fieldbook.ts'
import { answer } from './answer.ts'

/** Whether any sighting counts at a station, and if not, why; `count` is of the sightings that do not. */
export type Sighted =
  | { kind: 'some' | 'none' }
  | { kind: 'left-out' | 'set-aside'; count: number }
  /** Only the solution will show it. */
  | { kind: 'not-known' }

/**
 * An empty list, and one of which the person left out all, are known before the solution comes: a screen that changed under the finger
 * would take its press.
 */
export function sightedAt({ sightings }: Pick<StationRecord, 'sightings'>): Sighted {
  if (sightings.length === 0) return { kind: 'none' }
  if (sightings.every(s => s.use === 'never')) return { kind: 'left-out', count: sightings.length }
  const fit = answer.value.solution?.fit
  if (fit === undefined) return { kind: 'not-known' }
  return fit.used > 0 ? { kind: 'some' } : { kind: 'set-aside', count: fit.outliers }
}

/** Nothing is known of the mount but what was entered. */
export const isOnlyEntered = ({ kind }: Sighted): boolean =>
  kind === 'none' || kind === 'left-out' || kind === 'set-aside'
