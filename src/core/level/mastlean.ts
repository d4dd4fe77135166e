/**
 * The lean of a mast from an inclinometer held to its side at several headings: reading = bias + lean · cos(heading - h0).
 * A reading is + when the top leans toward the heading. Radians; headings from true north through east. Small leans: the
 * difference between an angle and its part in a plane is below 0.01° up to a lean of 2°.
 */
import { wrapTurn } from '../angles.ts'
import { inverse3 } from '../matrices.ts'
import type { Rad } from '../units.ts'
import { add, dot, scale, type Vec3 } from '../vectors.ts'
import { levelSigma, type Spread } from './sigma.ts'

export interface LeanReading {
  heading: Rad
  reading: Rad
}

export type MastLean =
  | {
      kind: 'lean'
      /** The top leans so far toward north and east. */
      north: Rad
      east: Rad
      /** Size, and toward which heading, [0, 2π). */
      lean: Rad
      toward: Rad
      /** What the instrument shows on a plumb mast, the mast's own taper included. */
      bias: Rad
      /** Horizontal run per metre of height, mm. */
      mmPerMetre: number
      /** Root mean square of what is left, with n - 3 in the denominator; null with three readings, which always fit. */
      misfit: Rad | null
      /** 1 σ of north and of east, the larger. */
      sigma: Rad
      /** 1 σ of the heading; null when the lean is within 2 σ of nothing and has no direction. */
      towardSigma: Rad | null
    }
  | { kind: 'too-few'; have: number; need: 3 }
  /** All headings lie in a part of the circle too narrow to tell lean from bias. */
  | { kind: 'too-close' }

/** Headings are too close together when they make the noise of one reading this many times larger. */
const MOST_GROWTH = 3

/** @param spread  of one reading; `bias`: what a turn round the mast does not remove (dents, weld, taper) */
export function mastLean(readings: readonly LeanReading[], spread: Spread): MastLean {
  const n = readings.length
  if (n < 3) return { kind: 'too-few', have: n, need: 3 }
  const rows = readings.map((r): Vec3 => [Math.cos(r.heading), Math.sin(r.heading), 1])
  const right = rows.reduce((a, row, k) => add(a, scale(row, readings[k]!.reading)), [0, 0, 0] as Vec3)
  const inverse = inverse3(rows)
  if (inverse === null) return { kind: 'too-close' }
  const x = inverse.map(row => dot(row, right))
  // The largest of the leans' two variances, whichever way the axes lie.
  const mean = (inverse[0][0] + inverse[1][1]) / 2
  const worst = mean + Math.hypot((inverse[0][0] - inverse[1][1]) / 2, inverse[0][1])
  if (!(Math.sqrt(worst) <= MOST_GROWTH)) return { kind: 'too-close' }
  const [north, east, bias] = [x[0]!, x[1]!, x[2]!]
  const left = rows.reduce((a, row, k) => {
    const miss = readings[k]!.reading - (row[0] * north + row[1] * east + bias)
    return a + miss * miss
  }, 0)
  const misfit = n > 3 ? Math.sqrt(left / (n - 3)) : null
  // A misfit larger than the stated noise replaces it; a smaller one may be chance.
  const noise = Math.max(spread.noise, misfit ?? 0)
  const sigma = levelSigma({ ...spread, noise: noise * Math.sqrt(worst) })
  const lean = Math.hypot(north, east)
  return {
    kind: 'lean',
    north,
    east,
    lean,
    toward: wrapTurn(Math.atan2(east, north)),
    bias,
    mmPerMetre: 1000 * Math.tan(lean),
    misfit,
    sigma,
    towardSigma: lean > 2 * sigma ? sigma / lean : null,
  }
}
