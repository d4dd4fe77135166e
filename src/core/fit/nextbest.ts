/**
 * The next best sighting: of the Sun and the Moon in the coming three days, every ten minutes, what can be reached and
 * heard or seen with what this station has, the ones that shrink the sky error most. Radians inside.
 */
import { aimer, midRange } from '../mount/aim.ts'
import { chainOf } from '../mount/asbuilt.ts'
import { type Built, SLOTS } from '../mount/slots.ts'
import { moonRiseDb } from '../noise/noise.ts'
import type { Method } from '../records/fieldbook.ts'
import { isOffsetFed } from '../records/guesses.ts'
import { type Feed, isHighEnough, type Station } from '../records/station.ts'
import { siteFrame, topocentric } from '../sky/earthfixed.ts'
import { apparentDirection } from '../sky/refraction.ts'
import { bodyTrack } from '../sky/track.ts'
import type { Rad, UtcMs } from '../units.ts'
import { azElFromEnu, type Vec3 } from '../vectors.ts'
import { bandOf, lineOf, methodSigma, usualSigma } from './methods.ts'
import { partialsIn } from './residuals.ts'

export interface Proposal {
  target: 'sun' | 'moon'
  method: Method
  utcMs: UtcMs
  az: Rad
  el: Rad
  lower: number
  upper: number
  /** rms over the Moon's path after such a sighting. */
  rmsAfter: Rad
}

const STEP_MS = 600_000
const DAYS = 3
const MOST = 5
/** Two proposals of one body and method closer than this are one. */
const APART_MS = 3 * 3_600_000
const HEARD_DB = 0.3

/** The Moon is worth peaking on when its own noise can be heard, or its echoes are. */
export const canHearMoon = (station: Station, feed: Feed): boolean =>
  feed.hearsMoonEchoes ||
  moonRiseDb(feed.frequencyMHz, station.diameterM, feed.hpbw, feed.systemTemperatureK) >= HEARD_DB

/** What this station can do: each body with its methods and σ. */
function waysOf(station: Station, feed: Feed): { target: 'sun' | 'moon'; method: Method; sigma: Rad }[] {
  const usual = (method: Method): Rad =>
    usualSigma(station.record.sightings, method, methodSigma(method, station, feed))
  const ways: { target: 'sun' | 'moon'; method: Method; sigma: Rad }[] = []
  const add = (target: 'sun' | 'moon', method: Method) => ways.push({ target, method, sigma: usual(method) })
  add('sun', 'signal-peak')
  if (!isOffsetFed(station.record)) add('sun', 'shadow')
  if (station.record.sightings.some(s => s.method === 'optical')) {
    add('sun', 'optical')
    add('moon', 'optical')
  }
  if (canHearMoon(station, feed)) add('moon', 'signal-peak')
  return ways
}

/**
 * @param C      SLOTS × SLOTS covariance of the mount now
 * @param M      mean over the Moon's path of JᵀJ (skyerror.ts)
 * @param floor  what no fit goes below
 */
export function nextBest(
  station: Station,
  feed: Feed,
  built: Built,
  C: Float64Array,
  M: Float64Array,
  floor: Rad,
  now: UtcMs,
): Proposal[] {
  const { model } = station
  const frame = siteFrame(station.site)
  const end = now + DAYS * 86_400_000
  const tracks = { sun: bodyTrack('sun', now, end), moon: bodyTrack('moon', now, end) }
  const CM = product(C, M)
  const base = trace(CM)
  const G = product(CM, C)
  const mids = midRange(model, built)
  const partials = new Float64Array(2 * SLOTS)
  const all: Proposal[] = []
  for (const way of waysOf(station, feed)) {
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
      const gained = gain(partials, C, G, way.sigma)
      all.push({
        target: way.target,
        method: way.method,
        utcMs,
        az,
        el,
        lower: reach.lower,
        upper: reach.upper,
        rmsAfter: Math.sqrt(Math.max(0, base - gained) + floor * floor),
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

/** By how much the mean square shrinks: tr((σ² I + A C Aᵀ)⁻¹ A C M C Aᵀ), G = C M C. */
function gain(A: Float64Array, C: Float64Array, G: Float64Array, sigma: Rad): number {
  const s = form(A, C)
  const g = form(A, G)
  const a = s[0] + sigma * sigma
  const d = s[2] + sigma * sigma
  const det = a * d - s[1] * s[1]
  return (d * g[0] - 2 * s[1] * g[1] + a * g[2]) / det
}

/** A Q Aᵀ for a symmetric Q: [11, 12, 22]. */
function form(A: Float64Array, Q: Float64Array): [number, number, number] {
  let xx = 0
  let xy = 0
  let yy = 0
  for (let i = 0; i < SLOTS; i++) {
    let qx = 0
    let qy = 0
    for (let j = 0; j < SLOTS; j++) {
      const q = Q[i * SLOTS + j]!
      qx += q * A[j]!
      qy += q * A[SLOTS + j]!
    }
    xx += A[i]! * qx
    xy += A[i]! * qy
    yy += A[SLOTS + i]! * qy
  }
  return [xx, xy, yy]
}

function product(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(SLOTS * SLOTS)
  for (let i = 0; i < SLOTS; i++)
    for (let k = 0; k < SLOTS; k++) {
      const x = a[i * SLOTS + k]!
      if (x === 0) continue
      for (let j = 0; j < SLOTS; j++) out[i * SLOTS + j]! += x * b[k * SLOTS + j]!
    }
  return out
}

function trace(a: Float64Array): number {
  let sum = 0
  for (let i = 0; i < SLOTS; i++) sum += a[i * SLOTS + i]!
  return sum
}
