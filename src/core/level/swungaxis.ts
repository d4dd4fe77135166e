/** A swing on a mount: which way the axis turns about its named end, and the level that the book keeps. */
import type { PaperVectors } from '../mount/kinds.ts'
import type { Axis, MountKind } from '../records/fieldbook.ts'
import { isLevelFitted, type LevelWhat, levelKinds } from '../records/levelkinds.ts'
import type { Rad } from '../units.ts'
import type { Swung } from './swing.ts'

/** +1 where the axis turns right-handed about its named end when its angle grows. */
export const swingSense = (paper: Pick<PaperVectors, 's1' | 's2'>, axis: Axis): 1 | -1 =>
  axis === 'lower' ? paper.s1 : paper.s2

/** The level that a swing of this axis gives; null where the mount has none of that kind, or the solution does not use it. */
export function levelOfSwing(kind: MountKind, axis: Axis): LevelWhat | null {
  const what = axis === 'lower' ? 'lower-axis-elevation' : 'upper-axis-elevation'
  return levelKinds(kind).includes(what) && isLevelFitted(kind, what) ? what : null
}

/**
 * The elevation as the book counts it: az-over-el right-hand end, x-y forward end, ha-dec the end that points up; of an
 * upper axis the end that points up.
 */
export function bookElevation(
  kind: MountKind,
  latitude: Rad,
  axis: Axis,
  swung: Pick<Swung, 'elevation' | 'nearVertical'>,
): Rad {
  if (axis === 'upper') return Math.abs(swung.elevation)
  return kind === 'ha-dec' && latitude < 0 && !swung.nearVertical ? -swung.elevation : swung.elevation
}
