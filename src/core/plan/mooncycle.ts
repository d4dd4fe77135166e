/**
 * The Moon over its 18.6 years: how many hours a mount has of it each year, and how far north and south it goes. The hours follow
 * from the declination alone: a day's share in reach is worked out once for each declination, at mean distance, all hour angles
 * being equally likely; then the declinations of the years are gone through day by day. Radians.
 */
import { enuFromHaDec } from '../frames.ts'
import { equatorOfDate, instantAt } from '../sky/almanac.ts'
import type { Site } from '../sky/place.ts'
import { liftedDirection, refractivity } from '../sky/refraction.ts'
import { DAY_MS, type Rad, radFromDeg, type UtcMs } from '../units.ts'
import { azElFromEnu, type Vec3 } from '../vectors.ts'
import type { PreparedMount } from './hindrance.ts'

/** Years that hold a whole turn of the nodes, 18.61 years. */
export const CYCLE_YEARS = 19

const DEC_STEP = radFromDeg(0.5)
const FARTHEST = radFromDeg(30)
const HOUR_ANGLES = 360
/** Mean equatorial parallax of the Moon, 57′ 2.6″: at the horizon it stands lower by this than seen from the Earth's centre. */
const PARALLAX = radFromDeg(0.9507)

/** The Moon at mean distance, as it appears from a site; hour angle and declination geocentric. The Earth's flattening (0.003° of it) is left out. */
function meanMoon(site: Site, n: number, ha: Rad, dec: Rad): Vec3<'Enu'> {
  const [e, north, up] = enuFromHaDec(ha, dec, site.lat)
  const high = up - Math.sin(PARALLAX)
  const r = Math.hypot(e, north, high)
  return liftedDirection([e / r, north / r, high / r], n)
}

/** The share of a lunar day in which the outlook holds, by geocentric declination: linear between half degrees. */
export function shareByDeclination(site: Site, outlook: PreparedMount): (dec: Rad) => number {
  const n = refractivity(site.air, 'radio')
  const shares: number[] = []
  for (let dec = -FARTHEST; dec <= FARTHEST + DEC_STEP / 2; dec += DEC_STEP) {
    let count = 0
    for (let k = 0; k < HOUR_ANGLES; k++) {
      const t = meanMoon(site, n, ((k + 0.5) / HOUR_ANGLES - 0.5) * 2 * Math.PI, dec)
      const { az, el } = azElFromEnu(t)
      if (el >= outlook.lowest && outlook.isHighEnough(az, el) && outlook.isReached(t)) count++
    }
    shares.push(count / HOUR_ANGLES)
  }
  return dec => {
    const s = (dec + FARTHEST) / DEC_STEP
    const i = Math.max(0, Math.min(shares.length - 2, Math.floor(s)))
    return shares[i]! + (s - i) * (shares[i + 1]! - shares[i]!)
  }
}

export interface MoonYear {
  year: number
  hours: number
  /** The year's southernmost and northernmost declination, geocentric. */
  south: Rad
  north: Rad
}

function declinationAt(utcMs: UtcMs): Rad {
  const { x, y, z } = equatorOfDate('moon', instantAt(utcMs))
  return Math.atan2(z, Math.hypot(x, y))
}

/** Where the parabola through three equally spaced values turns, in steps from the middle one; half a step at most where the middle is the largest. */
const turningPoint = (a: number, b: number, c: number): number => {
  const curve = a - 2 * b + c
  return curve === 0 ? 0 : (a - c) / (2 * curve)
}

/** `CYCLE_YEARS` calendar years (UTC) from the first. */
export function moonYears(firstYear: number, share: (dec: Rad) => number): MoonYear[] {
  return travelFrom(firstYear).map(({ year, south, north, noons }) => ({
    year,
    hours: noons.reduce((hours, dec) => hours + 24 * share(dec), 0),
    south,
    north,
  }))
}

/** A year of the Moon by itself: how far it goes, and its declination at each noon. */
interface MoonTravel {
  year: number
  south: Rad
  north: Rad
  noons: Float64Array
}

/** The last result: it is the same for every mount, and a person tries one limit after the other. */
let last: { firstYear: number; years: MoonTravel[] } | null = null

function travelFrom(firstYear: number): MoonTravel[] {
  if (last?.firstYear !== firstYear) last = { firstYear, years: travelOf(firstYear) }
  return last.years
}

function travelOf(firstYear: number): MoonTravel[] {
  const fromMs = Date.UTC(firstYear, 0, 1)
  const days = Math.round((Date.UTC(firstYear + CYCLE_YEARS, 0, 1) - fromMs) / DAY_MS)
  const noon = (day: number) => fromMs + (day + 0.5) * DAY_MS
  const dec = Float64Array.from({ length: days }, (_, day) => declinationAt(noon(day)))
  /** The extreme declination of some days. Each month's is looked for at its own hour: one month passes another by a hundredth of a degree. */
  const farthest = (first: number, end: number, sign: 1 | -1): Rad => {
    let far = -Infinity
    for (let d = first; d < end; d++) {
      const [before, at, after] = [dec[d - 1], dec[d]!, dec[d + 1]]
      if (sign * at < sign * (before ?? at) || sign * at < sign * (after ?? at)) continue
      const turn = before === undefined || after === undefined ? 0 : turningPoint(before, at, after)
      far = Math.max(far, sign * declinationAt(noon(d) + turn * DAY_MS))
    }
    return sign * far
  }
  return Array.from({ length: CYCLE_YEARS }, (_, k) => {
    const year = firstYear + k
    const first = Math.round((Date.UTC(year, 0, 1) - fromMs) / DAY_MS)
    const end = Math.round((Date.UTC(year + 1, 0, 1) - fromMs) / DAY_MS)
    return { year, south: farthest(first, end, -1), north: farthest(first, end, 1), noons: dec.subarray(first, end) }
  })
}
