/** What a wrong clock costs: the sky turns on meanwhile. */
import type { Rad } from '../units.ts'

/** A turn of the sky, s of UTC: the mean sidereal day. Source: IERS conventions, from memory. */
const SIDEREAL_DAY_S = 86_164.1

/** By how much a body on the celestial equator moves in that time, rad; elsewhere it is less. */
export const skyTurn = (seconds: number): Rad => (2 * Math.PI * seconds) / SIDEREAL_DAY_S
