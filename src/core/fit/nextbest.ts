/**
 * The next best sighting: of the Sun and the Moon in the coming three days, every ten minutes, what can be reached and
 * heard or seen with what this station has, the ones that shrink the sky error most. Radians inside.
 */
import { bilinearForm, quadraticForm, traceOfProduct } from '../matrices.ts'
import { aimer, midRange } from '../mount/aim.ts'
import { chainOf } from '../mount/asbuilt.ts'
import { type Built, SLOTS } from '../mount/slots.ts'
import { HEARD_DB, moonRiseDb } from '../noise/noise.ts'
import type { Method } from '../records/fieldbook.ts'
import { isOffsetFed } from '../records/guesses.ts'
import { type Feed, isHighEnough, type Station } from '../records/station.ts'
import { siteFrame, topocentric } from '../sky/earthfixed.ts'
import { apparentDirection } from '../sky/refraction.ts'
import { bodyTrack } from '../sky/track.ts'
import { DAY_MS, degFromRad, HOUR_MS, type Rad, type UtcMs } from '../units.ts'
import { azElFromEnu, type Vec3 } from '../vectors.ts'
import { bandOf, lineOf, usualSigma } from './methods.ts'
import { hasTube } from './parameters.ts'
import { partialsIn } from './residuals.ts'
import { type Solved, scatterToCome } from './solved.ts'

/** A sighting that could be made: of what and how, when, where it stands then, and what the axes read. */
export interface SightingToMake {
  target: 'sun' | 'moon'
  method: Method
  utcMs: UtcMs
  az: Rad
  el: Rad
  lower: number
  upper: number
}

export interface Proposal extends SightingToMake {
  /** rms over the Moon's path after such a sighting. */
  rmsAfter: Rad
}

const STEP_MS = 600_000
const DAYS = 3
const MOST = 5
/** Two proposals of one body and method closer than this count as one. */
const APART_MS = 3 * HOUR_MS

/** The Moon is worth peaking on when its own noise can be heard, or its echoes are. */
export const canHearMoon = (station: Station, feed: Feed): boolean =>
  feed.hearsMoonEchoes ||
  moonRiseDb(feed.frequencyMHz, station.diameterM, feed.hpbw, feed.systemTemperatureK) >= HEARD_DB

/** Whether the beam is sure to find what it is put on. Only then is the Moon proposed by its own noise or echo: otherwise it would be a search. */
export const isFound = (error: Rad, feed: Feed): boolean => error < feed.hpbw

/** Whether a gain still shows once both are rounded as the screens do: hundredths of a degree below 1°, tenths below 10°. */
function isShown(before: Rad, after: Rad): boolean {
  const deg = degFromRad(before)
  const step = deg < 1 ? 0.01 : deg < 10 ? 0.1 : 1
  return Math.round(deg / step) > Math.round(degFromRad(after) / step)
}

/** A body by a method. */
export interface WayToSight {
  target: 'sun' | 'moon'
  method: Method
}

/**
 * What can be sighted with what this station has: each body with its methods. @param isSure  false where the beam may be more than its own
 * width off: then a Moon by its own noise or echo would be a search, while the Sun is too strong to miss
 */
export function waysToSight(station: Station, feed: Feed, isSure: boolean): WayToSight[] {
  const byTube: WayToSight[] = [
    { target: 'sun', method: 'optical' },
    { target: 'moon', method: 'optical' },
  ]
  return [
    { target: 'sun', method: 'signal-peak' },
    ...(isOffsetFed(station.record) ? [] : [{ target: 'sun', method: 'shadow' } as const]),
    ...(hasTube(station) ? byTube : []),
    ...(isSure && canHearMoon(station, feed) ? [{ target: 'moon', method: 'signal-peak' } as const] : []),
  ]
}

/**
 * @param C      SLOTS × SLOTS covariance of the mount now, as scaled by the misfit
 * @param M      mean over the Moon's path of JᵀJ (skyerror.ts)
 * @param floor  what no fit goes below
 * @param p95    of the present error over the Moon's path
 */
export function nextBest(
  solved: Solved,
  feed: Feed,
  built: Built,
  C: Float64Array,
  M: Float64Array,
  floor: Rad,
  p95: Rad,
  now: UtcMs,
): Proposal[] {
  const { station } = solved
  const { model } = station
  const scatter = scatterToCome(solved)
  const frame = siteFrame(station.site)
  const end = now + DAYS * DAY_MS
  const tracks = { sun: bodyTrack('sun', now, end), moon: bodyTrack('moon', now, end) }
  const base = traceOfProduct(C, M)
  const rms = (square: number): Rad => Math.sqrt(Math.max(0, square) + floor * floor)
  const mids = midRange(model, built)
  const partials = new Float64Array(2 * SLOTS)
  const all: Proposal[] = []
  for (const way of waysToSight(station, feed, isFound(p95, feed))) {
    const sigma = scatter * usualSigma(way.method, station, feed)
    const line = lineOf(way.method)
    const band = bandOf(way.method)
    const onto = aimer(model, built, line)
    const chain = chainOf(model, built, line)
    for (let utcMs = now; utcMs < end; utcMs += STEP_MS) {
      const airless = topocentric(tracks[way.target](utcMs), frame).direction
      if (airless[2] < 0) continue
      const t: Vec3 = apparentDirection(airless, station.site.air, band)
      const { az, el } = azElFromEnu(t)
      if (!isHighEnough(station, feed, az, el)) continue
      const reach = onto(t, mids)
      if (reach === null || !reach.inside) continue
      if (partialsIn(chain, t, reach.lower, reach.upper, 0, 0, partials) === null) continue
      const rmsAfter = rms(base - gain(partials, C, M, sigma))
      if (!isShown(rms(base), rmsAfter)) continue
      all.push({
        target: way.target,
        method: way.method,
        utcMs,
        az,
        el,
        lower: reach.lower,
        upper: reach.upper,
        rmsAfter,
      })
    }
  }
  all.sort((a, b) => a.rmsAfter - b.rmsAfter || a.utcMs - b.utcMs)
  const out: Proposal[] = []
  for (const p of all) {
    if (out.length === MOST) break
    const isNew = out.every(
      o => o.target !== p.target || o.method !== p.method || Math.abs(o.utcMs - p.utcMs) >= APART_MS,
    )
    if (isNew) out.push(p)
  }
  return out
}

/** By how much the mean square shrinks: tr((σ² I + A C Aᵀ)⁻¹ A C M C Aᵀ), A the two rows of a sighting. */
function gain(A: Float64Array, C: Float64Array, M: Float64Array, sigma: Rad): number {
  const s = form(A, C)
  const g = form(carried(A, C), M)
  const a = s[0] + sigma * sigma
  const d = s[2] + sigma * sigma
  return (d * g[0] - 2 * s[1] * g[1] + a * g[2]) / (a * d - s[1] * s[1])
}

/** A Q Aᵀ for a symmetric Q: [11, 12, 22]. */
const form = (A: Float64Array, Q: Float64Array): [number, number, number] => [
  quadraticForm(Q, SLOTS, A),
  bilinearForm(Q, SLOTS, A, A, 0, SLOTS),
  quadraticForm(Q, SLOTS, A, SLOTS),
]

/** A C, row by row. */
function carried(A: Float64Array, C: Float64Array): Float64Array {
  const out = new Float64Array(2 * SLOTS)
  for (const at of [0, SLOTS])
    for (let i = 0; i < SLOTS; i++) {
      const x = A[at + i]!
      if (x !== 0) for (let j = 0; j < SLOTS; j++) out[at + j]! += x * C[i * SLOTS + j]!
    }
  return out
}
