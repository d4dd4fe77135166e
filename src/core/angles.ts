/** Angles on the circle, radians. */
import type { Rad } from './units.ts'

const TURN = 2 * Math.PI

/** The same angle in [-π, π). */
export const wrapPi = (a: Rad): Rad => a - TURN * Math.floor((a + Math.PI) / TURN)

/** The same angle in [0, 2π). */
export const wrapTurn = (a: Rad): Rad => {
  const w = a - TURN * Math.floor(a / TURN)
  return w >= TURN ? 0 : w
}
