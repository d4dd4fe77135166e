/**
 * What a page leaves over the Moon's path: where the beam goes that is set by the page's numbers as printed, against the Moon.
 * Systematic error first; then with what the sightings leave open, nine chances in ten. Degrees out.
 */
import { echoLossDb } from '../dish/optics.ts'
import { offsetInPose } from '../fit/residuals.ts'
import { drawnErrors } from '../fit/skydraws.ts'
import { type ErrorOverSky, summary } from '../fit/skyerror.ts'
import type { SkyPoint } from '../fit/skypoint.ts'
import type { Answered } from '../fit/solution.ts'
import { chainOf, poseIn } from '../mount/asbuilt.ts'
import { trueAngle } from '../mount/readings.ts'
import { utcFromMs } from '../records/instant.ts'
import { type Deg, degFromRad, type Rad } from '../units.ts'
import type { Vec3 } from '../vectors.ts'

/** Where it is worst. */
export interface Worst {
  azDeg: Deg
  elDeg: Deg
  utc: string
}

export interface Remains {
  rmsDeg: Deg
  p95Deg: Deg
  worstDeg: Deg
  worst: Worst | null
  /** On one's own echoes, at p95 and at worst. */
  echoLossDb: number
  worstLossDb: number
  /** With what the sightings leave open, counts and play: nine chances in ten that 95 % of the Moon time has less. */
  allP95Deg: Deg
  allLossDb: number
  /** Hours of the Moon's path for which the program finds no reading. */
  lostHours: number
  /** `open`: the page itself would do, what the sightings leave open does not. `over`: the page leaves too much. */
  state: 'within' | 'open' | 'over'
}

/** A point of the path stands for half an hour. */
const HOURS = 0.5

type Readings = { lower: number; upper: number } | null

/** Where a direction stands from the beam at readings, for many of them; null outside a triangle. */
export function missesAt({ solved, built }: Answered): (set: Readings, direction: Vec3) => [Rad, Rad] | null {
  const { model } = solved.station
  const chain = chainOf(model, built, 'beam')
  return (set, direction) => {
    if (set === null) return null
    const T = trueAngle(model, built, 'lower', set.lower)
    const S = trueAngle(model, built, 'upper', set.upper)
    return T.kind === 'angle' && S.kind === 'angle' ? offsetInPose(poseIn(chain, T.angle, S.angle), direction) : null
  }
}

/** @param set  the readings to which the program sends both axes, by point */
export function remainsOf(answered: Answered, set: readonly Readings[]): Remains {
  const { covariance, sky, feed } = answered
  const missAt = missesAt(answered)
  const missed: SkyPoint[] = []
  let worst: { square: number; point: SkyPoint } | null = null
  const squares: number[] = []
  sky.points.forEach((point, k) => {
    const miss = missAt(set[k] ?? null, point.moon.direction)
    if (miss === null) return
    const square = miss[0] ** 2 + miss[1] ** 2
    squares.push(square)
    missed.push({ ...point, before: miss })
    if (worst === null || square > worst.square) worst = { square, point }
  })
  const e: ErrorOverSky = summary(squares)
  const all = drawnErrors(missed, covariance, sky.floor).before
  const at = (worst as { square: number; point: SkyPoint } | null)?.point.moon ?? null
  const lost = sky.points.length - squares.length
  const isWithin = e.p95 <= sky.tolerance && lost <= 0.05 * sky.points.length && squares.length > 0
  return {
    rmsDeg: degFromRad(e.rms),
    p95Deg: degFromRad(e.p95),
    worstDeg: degFromRad(e.worst),
    worst: at && { azDeg: degFromRad(at.az), elDeg: degFromRad(at.el), utc: utcFromMs(at.utcMs) },
    echoLossDb: echoLossDb(e.p95, feed.hpbw),
    worstLossDb: echoLossDb(e.worst, feed.hpbw),
    allP95Deg: degFromRad(all.p95),
    allLossDb: echoLossDb(all.p95, feed.hpbw),
    lostHours: lost * HOURS,
    state: !isWithin ? 'over' : all.p95 <= sky.tolerance ? 'within' : 'open',
  }
}
