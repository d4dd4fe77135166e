/**
 * The Sun, the Moon or a fixed source over days: the almanac is asked at nodes six hours apart and the rest interpolated, because one
 * evaluation of the lunar theory costs as much as fifty interpolations. Eight-point Lagrange on the geocentric vector
 * in the equator of date (13° a day at most, nothing faster in it than a few of those), and a straight line in sidereal
 * time; what that loses is under 0.001″ (tested).
 */
import { wrapTurn } from '../angles.ts'
import { HOUR_MS, type Rad, type UtcMs } from '../units.ts'
import { type BodyName, equatorOfDate, type Instant, instantAt } from './almanac.ts'
import { type EarthFixed, earthFixedFromEquator } from './earthfixed.ts'

const STEP_MS = 6 * HOUR_MS
const POINTS = 8

interface Node {
  v: EarthFixed
  siderealTime: Rad
}

/** 1/∏(j - m), m ≠ j: the barycentric weights of eight equally spaced points (up to a common factor). */
const WEIGHTS = [-1, 7, -21, 35, -35, 21, -7, 1]

/**
 * Geocentric apparent positions, EarthFixed km, for any instant in the span.
 *
 * @returns a function of utcMs; RangeError outside [fromUtcMs, toUtcMs]
 */
export const bodyTrack = (body: BodyName, fromUtcMs: UtcMs, toUtcMs: UtcMs): ((utcMs: UtcMs) => EarthFixed) =>
  equatorTrack(instant => equatorOfDate(body, instant), fromUtcMs, toUtcMs)

/** The same for anything that moves as slowly. @param ofDate  its vector in the equator of date, asked at the nodes */
export function equatorTrack(
  ofDate: (instant: Instant) => EarthFixed,
  fromUtcMs: UtcMs,
  toUtcMs: UtcMs,
): (utcMs: UtcMs) => EarthFixed {
  if (!(toUtcMs >= fromUtcMs))
    throw new RangeError(`equatorTrack: the span must not be negative, got ${fromUtcMs} to ${toUtcMs}`)
  // Nodes on whole milliseconds, because the almanac drops fractions; the first span lies between points 3 and 4.
  const first = Math.floor(fromUtcMs) - (POINTS / 2 - 1) * STEP_MS
  const count = Math.floor((toUtcMs - first) / STEP_MS) + POINTS / 2 + 1
  const nodes: Node[] = []
  for (let i = 0; i < count; i++) {
    const instant = instantAt(first + i * STEP_MS)
    nodes.push({ v: ofDate(instant), siderealTime: instant.siderealTime })
  }
  return utcMs => {
    if (!(utcMs >= fromUtcMs && utcMs <= toUtcMs))
      throw new RangeError(`equatorTrack: utcMs must be ${fromUtcMs} to ${toUtcMs}, got ${utcMs}`)
    const s = (utcMs - first) / STEP_MS
    const i = Math.floor(s)
    const a = nodes[i]!
    const f = s - i
    const turned = a.siderealTime + f * wrapTurn(nodes[i + 1]!.siderealTime - a.siderealTime)
    return earthFixedFromEquator(f === 0 ? a.v : between(nodes, i - (POINTS / 2 - 1), s), turned)
  }
}

/** Barycentric Lagrange through nodes[start … start + 7] at s, counted in steps from node 0; s not on a node. */
function between(nodes: readonly Node[], start: number, s: number): EarthFixed {
  let x = 0
  let y = 0
  let z = 0
  let sum = 0
  for (let j = 0; j < POINTS; j++) {
    const w = WEIGHTS[j]! / (s - start - j)
    const { v } = nodes[start + j]!
    x += w * v.x
    y += w * v.y
    z += w * v.z
    sum += w
  }
  return { x: x / sum, y: y / sum, z: z / sum }
}
