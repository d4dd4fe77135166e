/** How far the beam of the dish that does not exist lies beside a body: what the meter shows, as a number. */
import { offsetDeg } from './mount.ts'
import type { Hands, World } from './world.ts'

/** In beamwidths. @param feed  of the paper; its first where none is named */
export function beamsBeside(world: World, hands: Hands, trueMs: number, body: 'sun' | 'moon', feed?: string): number {
  const { lowerDeg, upperDeg } = world.angles(hands, trueMs)
  const pose = world.mountAt(trueMs).poseAt(lowerDeg, upperDeg, 'beam', feed)
  return Math.hypot(...offsetDeg(pose, world.bodyAt(body, trueMs, 'radio'))) / world.receiver.hpbwDeg
}
