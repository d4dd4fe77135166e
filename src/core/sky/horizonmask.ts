/** The horizon that hills and houses make: an elevation at each azimuth. */
import { type Deg, type Rad, radFromDeg } from '../units.ts'

/** Sorted by azimuth; empty when there is none. */
export type HorizonMask = readonly { az: Rad; el: Rad }[]

/** From points in degrees, in any order. */
export const maskFromPoints = (points: readonly { azDeg: Deg; elDeg: Deg }[]): HorizonMask =>
  points.map(p => ({ az: radFromDeg(p.azDeg), el: radFromDeg(p.elDeg) })).sort((a, b) => a.az - b.az)

/** The mask's elevation at an azimuth: linear between the points, round the circle; -π/2 without a mask. */
export function maskAt(mask: HorizonMask, az: Rad): Rad {
  if (mask.length === 0) return -Math.PI / 2
  const TURN = 2 * Math.PI
  const a = az - TURN * Math.floor(az / TURN)
  let i = mask.findIndex(p => p.az > a)
  if (i < 0) i = 0
  const next = mask[i]!
  const before = mask[(i + mask.length - 1) % mask.length]!
  const span = (((next.az - before.az) % TURN) + TURN) % TURN
  const into = (((a - before.az) % TURN) + TURN) % TURN
  return span === 0 ? before.el : before.el + ((next.el - before.el) * into) / span
}
