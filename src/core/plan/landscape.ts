/**
 * The sky as this mount sees it, for the drawings: today's paths, what can be reached, what was sighted, where in
 * the Moon's month error is left. Degrees and dB out: these are figures for screens.
 */
import { echoLossDb } from '../dish/optics.ts'
import { bandOf } from '../fit/methods.ts'
import { drawnErrors } from '../fit/skydraws.ts'
import { variancePart } from '../fit/skyerror.ts'
import { type Answered, sigmasEnough } from '../fit/solution.ts'
import { aim, midRange } from '../mount/aim.ts'
import type { ParameterId } from '../records/fieldbook.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { siteFrame, topocentric } from '../sky/earthfixed.ts'
import { maskAt } from '../sky/horizonmask.ts'
import { apparentDirection } from '../sky/refraction.ts'
import { apparentPlace } from '../sky/targets.ts'
import { bodyTrack } from '../sky/track.ts'
import { DAY_MS, degFromRad, type Rad, radFromDeg, type UtcMs } from '../units.ts'
import { azElFromEnu, enuFromAzEl } from '../vectors.ts'

export interface PathPoint {
  utcMs: UtcMs
  azDeg: number
  elDeg: number
}

export type Third = 'east' | 'middle' | 'west'

/** p95 of the echo loss in a part of the Moon's sky, nine chances in ten; null where the Moon gives no point. */
export interface SkyCell {
  third: Third
  half: 'low' | 'high'
  points: number
  beforeDb: number | null
  afterDb: number | null
}

export interface Landscape {
  sun: PathPoint[]
  moon: PathPoint[]
  /** Cells of 5° in elevation, 5° in azimuth: [az index][el index], true where the mount reaches the cell's centre. */
  reach: boolean[][]
  cellDeg: number
  mask: { azDeg: number; elDeg: number }[]
  sightings: { id: string; azDeg: number; elDeg: number }[]
  cells: SkyCell[]
  /** Where the worst point of the month is; null when nothing is reached. */
  worst: PathPoint | null
  /**
   * What the rms after correction is made of: what the sightings leave open (√ mean tr(J C Jᵀ)), and the floor of counts
   * and play. Squares add up; nothing systematic that is known is left after correction.
   */
  made: { openDeg: number; floorDeg: number }
  /** 1 σ up to which each parameter counts as known well enough, in its own unit; none where it does not affect the sky. */
  enough: { id: ParameterId; feed: string | null; sigma: number }[]
}

const CELL = 5
const PATH_STEP_MS = 900_000

/**
 * The pass that is on at an index, else the next: from the point before the rise to the one after the set. A body that does not set in
 * these days: half a day before and after; one that does not rise within a day: that day.
 */
export function passOf(points: readonly PathPoint[], at: number): PathPoint[] {
  const isUp = (k: number) => points[k]!.elDeg >= 0
  const last = points.length - 1
  const day = DAY_MS / PATH_STEP_MS
  let from = at
  while (from < last && from <= at + day && !isUp(from)) from++
  if (!isUp(from)) return points.slice(at, at + day + 1)
  let to = from
  while (to < last && isUp(to)) to++
  while (from > 0 && isUp(from)) from--
  if (isUp(from) && isUp(to)) return points.slice(at - day / 2, at + day / 2 + 1)
  return points.slice(from, to + 1)
}

export function landscapeOf(answered: Answered, now: UtcMs): Landscape {
  const { solved, built, feed, sky } = answered
  const { station } = solved
  const { model } = station
  const frame = siteFrame(station.site)
  const path = (body: 'sun' | 'moon'): PathPoint[] => {
    const track = bodyTrack(body, now - DAY_MS, now + 2 * DAY_MS)
    const day: PathPoint[] = []
    for (let utcMs = now - DAY_MS; utcMs <= now + 2 * DAY_MS; utcMs += PATH_STEP_MS) {
      const { az, el } = azElFromEnu(
        apparentDirection(topocentric(track(utcMs), frame).direction, station.site.air, 'radio'),
      )
      day.push({ utcMs, azDeg: degFromRad(az), elDeg: degFromRad(el) })
    }
    return passOf(day, DAY_MS / PATH_STEP_MS)
  }
  const mid = midRange(model, built)
  const reach: boolean[][] = []
  for (let a = 0; a < 360 / CELL; a++) {
    const column: boolean[] = []
    for (let e = 0; e < 90 / CELL; e++) {
      const t = enuFromAzEl(radFromDeg((a + 0.5) * CELL), radFromDeg((e + 0.5) * CELL))
      column.push(aim(model, built, 'beam', t, mid)?.inside ?? false)
    }
    reach.push(column)
  }
  const loss = (e: Rad) => echoLossDb(e, feed.hpbw)
  let worstAt = -1
  sky.afterByPoint.forEach((e, k) => {
    if (worstAt < 0 || e > sky.afterByPoint[worstAt]!) worstAt = k
  })
  return {
    sun: path('sun'),
    moon: path('moon'),
    reach,
    cellDeg: CELL,
    mask: Array.from({ length: 73 }, (_, k) => ({
      azDeg: 5 * k,
      elDeg: Math.max(0, degFromRad(maskAt(station.mask, radFromDeg(5 * k)))),
    })),
    sightings: solved.sightings.map(s => {
      const { az, el } = apparentPlace(
        targetFromRecord(s.record.target),
        s.utcMs,
        station.site,
        bandOf(s.record.method),
      )
      return { id: s.record.id, azDeg: degFromRad(az), elDeg: degFromRad(el) }
    }),
    cells: cellsOf(answered, loss),
    made: {
      openDeg: degFromRad(
        Math.sqrt(
          sky.points.reduce((a, p) => a + variancePart(p.partials, answered.covariance), 0) /
            Math.max(1, sky.points.length),
        ),
      ),
      floorDeg: degFromRad(sky.floor),
    },
    enough: sigmasEnough(answered, now),
    worst:
      worstAt < 0
        ? null
        : {
            utcMs: sky.points[worstAt]!.moon.utcMs,
            azDeg: degFromRad(sky.points[worstAt]!.moon.az),
            elDeg: degFromRad(sky.points[worstAt]!.moon.el),
          },
  }
}

/** Six parts: east, middle, west by the hour (thirds of what is reached), low and high declination. */
function cellsOf(answered: Answered, loss: (e: Rad) => number): SkyCell[] {
  const { sky } = answered
  const { lat } = answered.solved.station.site
  // East and west of the meridian, 30° of azimuth about it being the middle, on the side where the Moon culminates.
  const middle = lat >= 0 ? Math.PI : 0
  const thirdOf = (az: Rad): Third => {
    const off = ((az - middle + 3 * Math.PI) % (2 * Math.PI)) - Math.PI
    const eastward = lat >= 0 ? -off : off
    return eastward > radFromDeg(30) ? 'east' : eastward < radFromDeg(-30) ? 'west' : 'middle'
  }
  const out: SkyCell[] = []
  for (const half of ['high', 'low'] as const)
    for (const third of ['east', 'middle', 'west'] as const) {
      const at = sky.points
        .map((_, k) => k)
        .filter(k => {
          const { moon } = sky.points[k]!
          return thirdOf(moon.az) === third && (moon.declination >= 0 ? 'high' : 'low') === half
        })
      const points = at.map(k => sky.points[k]!)
      const { after, before } = drawnErrors(points, answered.covariance, sky.floor)
      out.push({
        third,
        half,
        points: at.length,
        afterDb: points.length === 0 ? null : loss(after.p95),
        beforeDb: points.every(p => p.before === null) ? null : loss(before.p95),
      })
    }
  return out
}
