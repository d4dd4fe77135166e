/** The focal ratio of a dish from a straight-edge across its rim and the depth below it: f = D²/16d. */
import type { Metres, Mm } from '../units.ts'

/** f/D = D/16d. @param depth  from the straight-edge to the vertex, > 0 */
export const focalRatioFromDepth = (diameter: Metres, depth: Mm): number => (1000 * diameter) / (16 * depth)
/** The depth at which a dish of that focal ratio is. */
export const depthFromFocalRatio = (diameter: Metres, focalRatio: number): Mm => (1000 * diameter) / (16 * focalRatio)
