/**
 * The noon check: how high the Sun stands at its transit or any other time, what both axes should read, and where the feed's shadow
 * should fall then; from where it really fell to a sighting, and several of them averaged. Dish frame as seen from behind;
 * radians, millimetres, true UTC.
 */
import { dishFromOffset, type Offset, shadowFromSun, sunFromShadow } from '../dish/shadow.ts'
import { type FacePoint, type ShadowShape, shadowShape } from '../dish/shadowshape.ts'
import { SHADOW_READ } from '../fit/methods.ts'
import { offsetPartials } from '../fit/residuals.ts'
import { builtFor } from '../fit/solution.ts'
import type { Solved } from '../fit/solved.ts'
import { aim, midRange } from '../mount/aim.ts'
import { poseAt } from '../mount/asbuilt.ts'
import { trueAngle } from '../mount/readings.ts'
import { type Built, SLOTS } from '../mount/slots.ts'
import { countsSteps } from '../readout/readout.ts'
import { type Feed, isHighEnough, type Station } from '../records/station.ts'
import { lineOffsetAt } from '../scan/dishtrack.ts'
import { apparentPlace } from '../sky/targets.ts'
import { nextTransit } from '../sky/transit.ts'
import type { Mm, Rad, UtcMs } from '../units.ts'

const SUN = { type: 'sun' } as const

/** A pose and the Sun in it. */
export interface NoonPose {
  utcMs: UtcMs
  az: Rad
  el: Rad
  lower: number
  upper: number
  /** Within both axes' limits, and the Sun above mask and floor. */
  inside: boolean
  /** By how much the UP mark stands clockwise of the vertical as seen from behind; null when the dish looks straight up. */
  roll: Rad | null
  /** The shadow as it should fall; null when the Sun does not shine into the bowl. */
  shadow: ShadowShape | null
  /** σ of the shadow's place by the solution, right and up. */
  sigmaRight: Mm
  sigmaUp: Mm
}

const shown = (station: Station, axis: 'lower' | 'upper', reading: number): number =>
  countsSteps(station.model[axis].readout) ? Math.round(reading) : Math.round(reading * 100) / 100

/** The pose that puts the feed's beam on the Sun at a time, in readings that can be shown; null: no pose does. */
export function noonPose(solved: Solved, feed: Feed, utcMs: UtcMs): NoonPose | null {
  const { station } = solved
  const { built } = builtFor(solved, utcMs, feed)
  const radio = apparentPlace(SUN, utcMs, station.site, 'radio')
  const reach = aim(station.model, built, 'beam', radio.direction, midRange(station.model, built))
  if (reach === null) return null
  const at = { lower: shown(station, 'lower', reach.lower), upper: shown(station, 'upper', reach.upper) }
  return poseWith(solved, feed, utcMs, at, reach.inside && isHighEnough(station, feed, radio.az, radio.el))
}

/** The same at readings as they stand. Null when a jack's triangle does not close there. */
export function poseWith(
  solved: Solved,
  feed: Feed,
  utcMs: UtcMs,
  at: { lower: number; upper: number },
  inside = true,
): NoonPose | null {
  const { station } = solved
  const { model } = station
  const { built, covariance } = builtFor(solved, utcMs, feed)
  const { direction, az, el } = apparentPlace(SUN, utcMs, station.site, 'optical')
  const T = trueAngle(model, built, 'lower', at.lower)
  const S = trueAngle(model, built, 'upper', at.upper)
  const offset = lineOffsetAt(model, built, 'shadow', at, direction)
  if (T.kind !== 'angle' || S.kind !== 'angle' || offset === null) return null
  const pose = poseAt(model, built, T.angle, S.angle, 'shadow')
  const f = model.focalLength
  const J = new Float64Array(2 * SLOTS)
  offsetPartials(model, built, 'shadow', direction, at.lower, at.upper, 0, 0, J)
  return {
    utcMs,
    az,
    el,
    ...at,
    inside,
    // Where the vertical stands from the mark, clockwise, is atan2(r_z, u_z); the mark stands the other way from the vertical.
    roll: Math.hypot(pose.r[2], pose.u[2]) < 0.05 ? null : -Math.atan2(pose.r[2], pose.u[2]),
    shadow: shadowShape(
      f,
      500 * station.diameterM,
      [0, 0, f],
      station.record.dish.feedDiameterMm ?? 0,
      dishFromOffset(offset),
    ),
    sigmaRight: f * sigmaOf(J, 0, covariance),
    sigmaUp: f * sigmaOf(J, 1, covariance),
  }
}

function sigmaOf(J: Float64Array, row: number, C: Float64Array): Rad {
  let sum = 0
  for (let i = 0; i < SLOTS; i++)
    for (let j = 0; j < SLOTS; j++) sum += J[row * SLOTS + i]! * C[i * SLOTS + j]! * J[row * SLOTS + j]!
  return Math.sqrt(Math.max(0, sum))
}

interface NoonDay {
  /** The transit within half a day of now, past or to come. */
  transitUtcMs: UtcMs
  /** Apparent, at transit. */
  el: Rad
  /** True when the Sun crosses north of the zenith. */
  north: boolean
  /** Every ten minutes of the day about the transit that the Sun is up: whether it can be reached. */
  times: { utcMs: UtcMs; el: Rad; inside: boolean }[]
}

/** The day's Sun for a station. */
export function noonDay(solved: Solved, feed: Feed, now: UtcMs): NoonDay {
  const { station } = solved
  const transit = nextTransit('sun', station.site, now - 43_200_000)
  const { built } = builtFor(solved, now, feed)
  const mid = midRange(station.model, built)
  const times: NoonDay['times'] = []
  for (let k = -72; k <= 72; k++) {
    const utcMs = transit.utcMs + k * 600_000
    const place = apparentPlace(SUN, utcMs, station.site, 'radio')
    if (place.el < 0) continue
    const reach = aim(station.model, built, 'beam', place.direction, mid)
    times.push({
      utcMs,
      el: place.el,
      inside: reach?.inside === true && isHighEnough(station, feed, place.az, place.el),
    })
  }
  return {
    transitUtcMs: transit.utcMs,
    el: apparentPlace(SUN, transit.utcMs, station.site, 'optical').el,
    north: transit.north,
    times,
  }
}

/** One shadow as it was read. */
export interface ShadowReading extends FacePoint {
  utcMs: UtcMs
  lower: number
  upper: number
}

interface ShadowsAnswer {
  /** The Sun's offset from the shadow line by each reading, and by how much that differs from the mount as built. */
  readings: { sun: Offset; miss: Offset }[]
  /** All together: the mean difference, σ of each coordinate of the mean, and of one reading. */
  miss: Offset
  sigma: Rad
  sigmaEach: Rad
  /** One reading that stands for all: at the middle one's time and readings. */
  mean: ShadowReading
  /**
   * How fast the shadow wandered against the Sun's own pace: 1 is right. Null with fewer than three readings, or too short a time
   * to tell (σ above 0.5).
   */
  pace: { ratio: number; sigma: number; isRight: boolean } | null
  /** The pace is wrong as typed but right with right and left swapped: perhaps read from the other side. */
  looksMirrored: boolean
}

/**
 * Several shadows within an hour or so, against the mount as built. @param sigmaMm of one reading, each way
 * @returns null when a jack's triangle does not close
 */
export function shadowsTogether(
  solved: Solved,
  feed: Feed,
  readings: readonly ShadowReading[],
  sigmaMm: Mm = SHADOW_READ,
): ShadowsAnswer | null {
  if (readings.length === 0) throw new RangeError('shadowsTogether: at least one reading is needed')
  const { station } = solved
  const f = station.model.focalLength
  const { built } = builtFor(solved, readings[0]!.utcMs, feed)
  const list = [...readings].sort((a, b) => a.utcMs - b.utcMs)
  const modelled: Offset[] = []
  for (const r of list) {
    const spot = sunSpot(station, built, r, r.utcMs)
    if (spot === null) return null
    modelled.push(spot)
  }
  const suns = list.map(r => sunFromShadow(f, r.rightMm, r.upMm))
  const misses = suns.map((s, i) => ({ right: s.right - modelled[i]!.right, up: s.up - modelled[i]!.up }))
  const n = list.length
  const mean = (of: (m: Offset) => number) => misses.reduce((a, m) => a + of(m), 0) / n
  const miss = { right: mean(m => m.right), up: mean(m => m.up) }
  const stated = sigmaMm / f
  const spread =
    n < 2
      ? 0
      : Math.sqrt(misses.reduce((a, m) => a + (m.right - miss.right) ** 2 + (m.up - miss.up) ** 2, 0) / (2 * (n - 1)))
  const sigmaEach = Math.max(stated, n < 4 ? 0 : spread)
  const pace = paceOf(station, built, list, misses, stated)
  const swapped = list.map((r, i) => {
    const s = sunFromShadow(f, -r.rightMm, r.upMm)
    return { right: s.right - modelled[i]!.right, up: s.up - modelled[i]!.up }
  })
  const other = paceOf(station, built, list, swapped, stated)
  const middle = (n - 1) >> 1
  const at = list[middle]!
  const sun = { right: modelled[middle]!.right + miss.right, up: modelled[middle]!.up + miss.up }
  const place = shadowFromSun(f, dishFromOffset(sun))
  return {
    readings: suns.map((s, i) => ({ sun: s, miss: misses[i]! })),
    miss,
    sigma: sigmaEach / Math.sqrt(n),
    sigmaEach,
    mean: { ...at, ...(place === 'sun-behind-dish' ? {} : place) },
    pace,
    looksMirrored: pace !== null && !pace.isRight && other?.isRight === true,
  }
}

const sunSpot = (station: Station, built: Built, at: { lower: number; upper: number }, utcMs: UtcMs): Offset | null =>
  lineOffsetAt(station.model, built, 'shadow', at, apparentPlace(SUN, utcMs, station.site, 'optical').direction)

/** The straight line through the misses along the Sun's way: its slope is what the pace is wrong by. */
function paceOf(
  station: Station,
  built: Built,
  list: readonly ShadowReading[],
  misses: readonly Offset[],
  sigma: Rad,
): ShadowsAnswer['pace'] {
  const n = list.length
  if (n < 3) return null
  const first = list[0]!
  const last = list[n - 1]!
  const a = sunSpot(station, built, first, first.utcMs)
  const b = sunSpot(station, built, first, last.utcMs)
  if (a === null || b === null || last.utcMs === first.utcMs) return null
  const way = Math.hypot(b.right - a.right, b.up - a.up)
  if (way === 0) return null
  const e = { right: (b.right - a.right) / way, up: (b.up - a.up) / way }
  // In units of the whole way: x from 0 to 1, the slope then is the ratio's excess.
  const x = list.map(r => (r.utcMs - first.utcMs) / (last.utcMs - first.utcMs))
  const y = misses.map(m => (m.right * e.right + m.up * e.up) / way)
  const mx = x.reduce((s, v) => s + v, 0) / n
  const my = y.reduce((s, v) => s + v, 0) / n
  const sxx = x.reduce((s, v) => s + (v - mx) ** 2, 0)
  const slope = x.reduce((s, v, i) => s + (v - mx) * (y[i]! - my), 0) / sxx
  const sigmaRatio = sigma / way / Math.sqrt(sxx)
  if (!(sigmaRatio <= 0.5)) return null
  return { ratio: 1 + slope, sigma: sigmaRatio, isRight: Math.abs(slope) < 3 * sigmaRatio }
}
