/**
 * What can be told to tracking software, from the most that it may take to the least, each with what remains over the
 * Moon's path: the systematic error alone, in degrees and as loss on echoes. Degrees out.
 */
import { echoLossDb } from '../dish/optics.ts'
import { type ErrorOverSky, offsetAtReadings, summary } from '../fit/skyerror.ts'
import type { SkyPoint } from '../fit/skypoint.ts'
import type { Answered } from '../fit/solution.ts'
import { solvePositive } from '../matrices.ts'
import { aim, midRange } from '../mount/aim.ts'
import { lowerAxisTurn } from '../mount/asbuilt.ts'
import { type Built, onPaper, SLOT } from '../mount/slots.ts'
import type { Station } from '../records/station.ts'
import { apply } from '../rotations.ts'
import { type Deg, degFromRad } from '../units.ts'
import { azElFromEnu, scale } from '../vectors.ts'

export interface Remains {
  rmsDeg: Deg
  p95Deg: Deg
  /** On one's own echoes, at p95. */
  echoLossDb: number
}

/** (a): the directions of the axes, and what lies between them. The readouts go with it as counts tables. */
export interface Geometry {
  /**
   * Where the lower axis points: az-over-el its right-hand end, x-y its forward end, ha-dec the end that points up,
   * el-over-az its upper end.
   */
  lowerAxis: { azDeg: Deg; elDeg: Deg }
  /** az-over-el and x-y: which way the mount faces, from true north through east. Null for the others. */
  headingDeg: Deg | null
  /** The dish against the upper axis as the beam sees it; az-over-el: the whole offset above the swing plane. */
  dishOffsetDeg: Deg
  /** To add to each axis's reading angle. */
  lowerZeroDeg: Deg
  upperZeroDeg: Deg
  remains: Remains
}

export interface SoftwareAnswer {
  /** Id of the feed that it is for. */
  feed: string
  geometry: Geometry
  /** Null for an hour-angle mount, which has `pole` instead. */
  virtualSite: Remains | null
  pole: Remains | null
  slopeOffset: Remains
  /** With everything applied that the solution knows: what no knowledge takes away (not yet known, counts, play). */
  whole: Remains
}

/** What a program knows that is told the geometry and the readouts. */
const TOLD = [
  SLOT.axisA,
  SLOT.axisB,
  SLOT.lowerZero,
  SLOT.upperZero,
  SLOT.lowerScale,
  SLOT.upperScale,
  SLOT.lowerBaseArm,
  SLOT.lowerRodArm,
  SLOT.upperBaseArm,
  SLOT.upperRodArm,
  // In the counts table, which goes with the geometry.
  SLOT.lowerShift,
  SLOT.upperShift,
  SLOT.collimation,
] as const
/** What it can be told otherwise than found, so that a feed off the axis does the least harm. */
const TUNED = [SLOT.lowerZero, SLOT.upperZero, SLOT.collimation] as const

/** Misses of the beam when a program aims with what it was told; null where it finds no readings. */
const missesOf = (station: Station, built: Built, told: Built, points: readonly SkyPoint[]) => {
  const mid = midRange(station.model, told)
  return points.map(p => {
    const at = aim(station.model, told, 'beam', p.moon.direction, mid)
    return at === null ? null : offsetAtReadings(station, built, p.moon, at)
  })
}

/** Zeros and dish offset for the least error over the path: Gauss-Newton by differences, two steps do. */
export function toldGeometry(
  station: Station,
  built: Built,
  points: readonly SkyPoint[],
): { told: Built; remaining: ErrorOverSky } {
  const told = onPaper()
  for (const slot of TOLD) told[slot] = built[slot]!
  let misses = missesOf(station, built, told, points)
  const STEP = 1e-4
  for (let pass = 0; pass < 3; pass++) {
    const columns = TUNED.map(slot => {
      const nudged = Float64Array.from(told)
      nudged[slot]! += STEP
      return missesOf(station, built, nudged, points)
    })
    const H = { n: 3, a: new Float64Array(9) }
    const g = new Float64Array(3)
    misses.forEach((miss, k) => {
      const at = columns.map(c => c[k] ?? null)
      if (miss === null || at.some(c => c === null)) return
      for (const row of [0, 1] as const) {
        const slope = at.map(c => (c![row] - miss[row]) / STEP)
        for (let i = 0; i < 3; i++) {
          g[i]! += slope[i]! * miss[row]
          for (let j = 0; j < 3; j++) H.a[3 * i + j]! += slope[i]! * slope[j]!
        }
      }
    })
    // A hair of ridge: zero and offset of one axis are all but one thing on some mounts.
    for (let i = 0; i < 3; i++) H.a[4 * i]! += 1e-6 * points.length + 1e-9
    const step = solvePositive(H, g)
    if (step === null) break
    TUNED.forEach((slot, i) => {
      told[slot]! -= step[i]!
    })
    misses = missesOf(station, built, told, points)
  }
  return { told, remaining: summary(misses.flatMap(m => (m === null ? [] : [m[0] ** 2 + m[1] ** 2]))) }
}

export function softwareOf(answered: Answered): SoftwareAnswer {
  const { solved, built, feed, sky } = answered
  const { station } = solved
  const { model } = station
  const remains = (e: ErrorOverSky): Remains => ({
    rmsDeg: degFromRad(e.rms),
    p95Deg: degFromRad(e.p95),
    echoLossDb: echoLossDb(e.p95, feed.hpbw),
  })
  const { told, remaining } = toldGeometry(station, built, sky.points)
  const { R } = lowerAxisTurn(model.paper, built[SLOT.axisA]!, built[SLOT.axisB]!)
  const axis = apply(R, model.paper.a1)
  // In the south the pole that a polar mount's axis is named for lies below the horizon.
  const end = azElFromEnu(model.kind === 'ha-dec' && model.latitude < 0 ? scale(axis, -1) : axis)
  const heading = degFromRad(model.heading + built[SLOT.axisA]!)
  return {
    feed: feed.id,
    geometry: {
      lowerAxis: { azDeg: degFromRad(end.az), elDeg: degFromRad(end.el) },
      headingDeg: model.paper.headed ? heading - 360 * Math.floor(heading / 360) : null,
      dishOffsetDeg: degFromRad(model.offset + told[SLOT.collimation]!),
      lowerZeroDeg: degFromRad(told[SLOT.lowerZero]!),
      upperZeroDeg: degFromRad(told[SLOT.upperZero]!),
      remains: remains(remaining),
    },
    virtualSite: answered.virtual && remains(answered.virtual.fit.remaining),
    pole: answered.pole && remains(answered.pole.fit.remaining),
    slopeOffset: remains(answered.slopeOffset.remaining),
    whole: remains(sky.after),
  }
}
