/**
 * What an inclinometer shows that is laid on a place, as the form of a level wants it typed. Turned end over end it gives the other
 * end's sign; the form counts both readings for the same end, and so do these. Degrees as text.
 */
import type { LevelPlace } from '../../core/rehearse/mount.ts'
import type { Hands, World } from '../../core/rehearse/world.ts'
import { fixed } from '../kit/format.ts'

/** @param ms  the true time, Unix ms */
export function laidTexts(world: World, hands: Hands, ms: number, place: LevelPlace): { laid: string; turned: string } {
  return {
    laid: fixed(world.inclined(hands, ms, place, false), 1),
    turned: fixed(-world.inclined(hands, ms, place, true), 1),
  }
}
