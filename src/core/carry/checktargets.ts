/**
 * Three targets to check a program by, within reach now: at which the slips that would cost something show best. The Moon and the Sun
 * where they are up, and directions typed into the program; with a virtual site radio sources, since a direction that is
 * typed bypasses the site.
 */
import type { Answered } from '../fit/solution.ts'
import { aimer, midRange } from '../mount/aim.ts'
import { chainOf, poseIn } from '../mount/asbuilt.ts'
import type { Axis } from '../mount/names.ts'
import { trueAngle } from '../mount/readings.ts'
import type { TargetRecord } from '../records/fieldbook.ts'
import { isHighEnough } from '../records/station.ts'
import { SOURCE_NAMES } from '../sky/sources.ts'
import { type Deg, degFromRad, radFromDeg, type UtcMs } from '../units.ts'
import { angleBetween, azElFromEnu, enuFromAzEl } from '../vectors.ts'
import type { CarryPage } from './page.ts'
import { aimPointAt, chi2, type Point, pointOf, shownByProgram } from './shown.ts'
import { weighed } from './weighed.ts'

export interface CheckTarget {
  target: TargetRecord
  /** Where it stands now. */
  azDeg: Deg
  elDeg: Deg
}

/** Whether the program can be given a direction, or only what is in the sky. */
export type TargetsWish = 'any' | 'bodies'

export const CHECK_TARGETS = 3
/** Two targets nearer to one another than this show the same. */
const APART = radFromDeg(25)
/** Beyond this χ² a slip is plain, and more adds nothing. */
const PLAIN = 150
const GRID = 9

/** Whole degrees over both ranges, as far as they are up. */
function directions({ solved, built }: Answered): TargetRecord[] {
  const { model } = solved.station
  const chain = chainOf(model, built, 'beam')
  const at = (axis: Axis, k: number): number | null => {
    const { minReading: min, maxReading: max } = model[axis]
    const angle = trueAngle(model, built, axis, min + ((max - min) * (k + 0.5)) / GRID)
    return angle.kind === 'angle' ? angle.angle : null
  }
  const out: TargetRecord[] = []
  for (let i = 0; i < GRID; i++)
    for (let j = 0; j < GRID; j++) {
      const [T, S] = [at('lower', i), at('upper', j)]
      if (T === null || S === null) continue
      const { az, el } = azElFromEnu(poseIn(chain, T, S).b)
      const elDeg = Math.round(degFromRad(el))
      if (elDeg >= 5 && elDeg <= 85) out.push({ type: 'landmark', azDeg: Math.round(degFromRad(az)) % 360, elDeg })
    }
  return out
}

/** What can be aimed at now, within this mount's limits. */
function candidates(answered: Answered, page: CarryPage, now: UtcMs, wish: TargetsWish): TargetRecord[] {
  const { solved, built, feed } = answered
  const { station } = solved
  const onto = aimer(station.model, built, 'beam')
  const mid = midRange(station.model, built)
  const bodies: TargetRecord[] = [
    { type: 'moon' },
    { type: 'sun' },
    ...SOURCE_NAMES.map(name => ({ type: 'source' as const, name })),
  ]
  const isIn = (target: TargetRecord): boolean => {
    const { direction } = aimPointAt(station, target, now)
    const { az, el } = azElFromEnu(direction)
    return isHighEnough(station, feed, az, el) && onto(direction, mid)?.inside === true
  }
  const told =
    wish === 'bodies' || page.wish.aiming === 'site'
      ? []
      : directions(answered).filter(t => {
          if (t.type !== 'landmark') return false
          const v = enuFromAzEl(radFromDeg(t.azDeg), radFromDeg(t.elDeg))
          return onto(v, mid)?.inside === true
        })
  const up = bodies.filter(isIn)
  // Where directions can be typed, sources are left out.
  return told.length > 0 ? [...up.filter(t => t.type !== 'source'), ...told] : up
}

/** The advantage of a body over a direction that has to be typed. */
const EASY = 1.1

/** Three at most, the most telling first; fewer where no more are within reach. */
export function checkTargetsOf(
  answered: Answered,
  page: CarryPage,
  now: UtcMs,
  wish: TargetsWish,
  known = weighed(answered, page),
): CheckTarget[] {
  const { station } = answered.solved
  const fine = (axis: Axis) => (page.axes[axis].unit === 'counts' ? 0 : 1)
  const decimals = { lower: fine('lower'), upper: fine('upper') }
  const points: { target: TargetRecord; point: Point }[] = candidates(answered, page, now, wish)
    .map(target => ({ target, point: pointOf(station, page, target, now, decimals) }))
    .filter(c => c.point.expected !== null)
  const { mistakes, harmful } = known
  const dear = mistakes.filter((_, k) => harmful[k])
  const shown = shownByProgram(
    station,
    page,
    dear,
    points.map(p => p.point),
  )
  const distance = dear.map((m, h) =>
    points.map(({ point }, k) =>
      chi2(page, [m.loose ? shown[h]!.sigmas[k]! : point.sigma], [shown[h]!.outputs[k]!], [point.expected]),
    ),
  )
  const chosen: number[] = []
  const sum = dear.map(() => 0)
  while (chosen.length < CHECK_TARGETS) {
    let best = -1
    let bestScore = -1
    points.forEach(({ target, point }, k) => {
      const isNear = chosen.some(c => angleBetween(points[c]!.point.look.direction, point.look.direction) < APART)
      if (isNear) return
      const told = dear.reduce((a, _, h) => a + Math.sqrt(Math.min(PLAIN, sum[h]! + distance[h]![k]!)), 0)
      const score = (1 + told) * (target.type === 'landmark' ? 1 : EASY)
      if (score > bestScore) [best, bestScore] = [k, score]
    })
    if (best < 0) break
    chosen.push(best)
    dear.forEach((_, h) => {
      sum[h]! += distance[h]![best]!
    })
  }
  return chosen.map(k => {
    const { target, point } = points[k]!
    const { az, el } = azElFromEnu(point.look.direction)
    return { target, azDeg: degFromRad(az), elDeg: degFromRad(el) }
  })
}
