/** Before building: what a planned mount would reach of the Moon. No station is needed. */
import type { WillReachJson, WillReachWish } from '../core/plan/willreachjson.ts'
import type { Answer } from '../core/records/answer.ts'
import { type Asked, askWorker } from '../worker/ask.ts'
import { type Told, toldOf } from './ask.ts'

/** @param variant  two are asked beside each other, and do not overtake each other */
export async function askReach(wish: WillReachWish, variant: 'a' | 'b'): Promise<Told<WillReachJson>> {
  return toldOf((await askWorker('willReach', [wish], `reach ${variant}`)) as Asked<Answer<WillReachJson>>)
}
