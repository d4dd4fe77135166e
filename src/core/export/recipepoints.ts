/**
 * The worked check points of a recipe: ten directions, as far apart as the Moon's reached sky allows, each with what the axes
 * read there. Azimuth and elevation are rounded first, so that the printed place is the one that was computed.
 */
import { midRange, type Reach, reachesOf } from '../mount/aim.ts'
import { axesAt, poseAt } from '../mount/asbuilt.ts'
import { trueAngle } from '../mount/readings.ts'
import type { Built } from '../mount/slots.ts'
import type { Station } from '../records/station.ts'
import { airlessElevation } from '../sky/refraction.ts'
import { type Deg, degFromRad, radFromDeg } from '../units.ts'
import { angleBetween, azElFromEnu, enuFromAzEl, type Vec3 } from '../vectors.ts'

export const CHECK_POINTS = 10

export interface CheckPoint {
  /** Apparent: as the dish sees it, air included. */
  azDeg: Deg
  elDeg: Deg
  /** The same place without air. */
  airlessElDeg: Deg
  lowerTrueDeg: Deg
  upperTrueDeg: Deg
  lower: number
  upper: number
  /** False: the Moon does not come there in the coming month, but the mount does. */
  onMoonPath: boolean
}

interface Candidate {
  t: Vec3
  azDeg: Deg
  elDeg: Deg
  reach: Reach
}

/** This near an end of the lower axis a thousandth of a degree on the sky is a large turn; rad. */
const NEAR_AXIS = radFromDeg(0.5)
/** Two poses whose distances from mid-range differ by less than this: no rule chooses between them; rad. */
const TIE = 1e-6

/** A direction to three decimals with the pose to take; null where there is none inside the limits, or two equally good. */
function candidateAt(station: Station, built: Built, direction: Vec3): Candidate | null {
  const { model } = station
  const { az, el } = azElFromEnu(direction)
  const azDeg = Number(degFromRad(az).toFixed(3)) % 360
  const elDeg = Number(degFromRad(el).toFixed(3))
  if (Math.abs(elDeg) > 89.9) return null
  const t = enuFromAzEl(radFromDeg(azDeg), radFromDeg(elDeg))
  const toAxis = angleBetween(t, axesAt(model, built, 0).lower)
  if (Math.min(toAxis, Math.PI - toAxis) < NEAR_AXIS) return null
  const mid = midRange(model, built)
  const costOf = (r: Reach) => Math.hypot(r.T - mid.T, r.S - mid.S)
  const [first, second] = reachesOf(model, built, 'beam', t, mid.T)
    .filter(r => r.inside)
    .sort((a, b) => costOf(a) - costOf(b))
  if (!first || (second && costOf(second) - costOf(first) < TIE)) return null
  return { t, azDeg, elDeg, reach: first }
}

const GRID = 12

/** Where the beam points over the whole of both ranges. */
function wholeRange({ model }: Station, built: Built): Vec3[] {
  const out: Vec3[] = []
  const readingOf = (axis: 'lower' | 'upper', k: number): number =>
    model[axis].minReading + ((model[axis].maxReading - model[axis].minReading) * (k + 0.5)) / GRID
  for (let i = 0; i < GRID; i++)
    for (let j = 0; j < GRID; j++) {
      const T = trueAngle(model, built, 'lower', readingOf('lower', i))
      const S = trueAngle(model, built, 'upper', readingOf('upper', j))
      if (T.kind === 'angle' && S.kind === 'angle') out.push(poseAt(model, built, T.angle, S.angle, 'beam').b)
    }
  return out
}

/**
 * Ten, or fewer where the mount itself reaches none (a jack whose triangle closes nowhere): from the Moon's path first, then from
 * what else the mount reaches above the horizon, then below. In order of azimuth.
 */
export function checkPointsOf(station: Station, built: Built, moonPath: readonly Vec3[]): CheckPoint[] {
  const chosen: (Candidate & { onMoonPath: boolean })[] = []
  const takeFrom = (directions: readonly Vec3[], onMoonPath: boolean) => {
    let left = directions.flatMap(d => candidateAt(station, built, d) ?? [])
    while (chosen.length < CHECK_POINTS && left.length > 0) {
      // The furthest from all those taken; the first is the highest.
      const apart = (c: Candidate) =>
        chosen.length === 0 ? c.elDeg : Math.min(...chosen.map(other => angleBetween(c.t, other.t)))
      const [best] = left.reduce<[Candidate | null, number]>(
        (so, c) => (apart(c) > so[1] ? [c, apart(c)] : so),
        [null, -Infinity],
      )
      chosen.push({ ...best!, onMoonPath })
      left = left.filter(c => c.azDeg !== best!.azDeg || c.elDeg !== best!.elDeg)
    }
  }
  takeFrom(moonPath, true)
  if (chosen.length < CHECK_POINTS) {
    const reached = wholeRange(station, built)
    takeFrom(
      reached.filter(d => d[2] >= 0),
      false,
    )
    takeFrom(
      reached.filter(d => d[2] < 0),
      false,
    )
  }
  return chosen
    .sort((a, b) => a.azDeg - b.azDeg || a.elDeg - b.elDeg)
    .map(({ azDeg, elDeg, reach, onMoonPath }) => ({
      azDeg,
      elDeg,
      airlessElDeg: degFromRad(airlessElevation(radFromDeg(elDeg), station.site.air, 'radio')),
      lowerTrueDeg: degFromRad(reach.T),
      upperTrueDeg: degFromRad(reach.S),
      lower: reach.lower,
      upper: reach.upper,
      onMoonPath,
    }))
}
