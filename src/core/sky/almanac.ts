/**
 * Where Sun, Moon and fixed sources stand, airless: the only door to astronomy-engine. It throws strings and takes a
 * bare number for days since J2000, so it is given Date-made AstroTimes only and its strings become Errors.
 *
 * What is left out, all far below a dish's needs: diurnal aberration (0.3″), polar motion, UT1 - UTC (at most 15″ of
 * hour angle). The library's Moon has no light time; adding it makes the agreement with JPL DE405 worse (1.1″ rms
 * becomes 1.6″), so its theory seems to contain it. Largest differences measured: Sun 2.2″, Moon 2.3″
 * against DE405, 3.9″ against JPL Horizons.
 */
import {
  AstroTime,
  Body,
  C_AUDAY,
  DeltaT_EspenakMeeus,
  GeoVector,
  HelioState,
  KM_PER_AU,
  Rotation_EQJ_EQD,
  SetDeltaTFunction,
  SiderealTime,
} from 'astronomy-engine'
import { apply, type Rotation } from '../rotations.ts'
import { DAY_MS, type Rad, type UtcMs } from '../units.ts'
import type { Vec3 } from '../vectors.ts'
import { type EarthFixed, earthFixedFromEquator, enuFromEarthFixed, type SiteFrame, topocentric } from './earthfixed.ts'

export type BodyName = 'sun' | 'moon'

/** A fixed direction, J2000 (ICRS to 0.02″). */
export interface FixedDirection {
  readonly ra: Rad
  readonly dec: Rad
}

/** One time with all that does not depend on the body: compute once, use for every body and site. */
export interface Instant {
  readonly utcMs: UtcMs
  /** Greenwich apparent sidereal time. */
  readonly siderealTime: Rad
  /** Precession and nutation: equator of date from J2000. */
  readonly dateFromJ2000: Rotation<'OfDate', 'J2000'>
  readonly time: AstroTime
}

/**
 * TT - UTC has been 69.184 s since 2017 and changes only with a leap second (1 s moves the Moon by 0.5″). The library's
 * own polynomial predicts UT1 instead, from 2005: 6 s, or 3″ of the Moon, too much by 2026. Before 2017 it is good to 1 s.
 * Source: IERS Bulletin C (TAI - UTC = 37 s since 2017-01-01); TT = TAI + 32.184 s.
 */
const DAYS_TO_2017 = (Date.UTC(2017, 0, 1) - Date.UTC(2000, 0, 1, 12)) / DAY_MS
const deltaT = (ut: number): number => (ut >= DAYS_TO_2017 ? 69.184 : DeltaT_EspenakMeeus(ut))
SetDeltaTFunction(deltaT)

/** Runs with another TT - UTC, in seconds: for comparison with tables that assume one. Restored afterwards. */
export function withDeltaT<T>(seconds: number, run: () => T): T {
  SetDeltaTFunction(() => seconds)
  try {
    return run()
  } finally {
    SetDeltaTFunction(deltaT)
  }
}

function asking<T>(what: string, ask: () => T): T {
  try {
    return ask()
  } catch (cause) {
    throw cause instanceof Error ? cause : new Error(`${what}: ${String(cause)}`)
  }
}

/** @param utcMs milliseconds since 1970; a fraction of a millisecond is dropped. RangeError if no date has it. */
export function instantAt(utcMs: UtcMs): Instant {
  if (!(Math.abs(utcMs) <= 8.64e15)) throw new RangeError(`instantAt: utcMs must be within ±8.64e15, got ${utcMs}`)
  return asking('instantAt', () => {
    const time = new AstroTime(new Date(utcMs))
    // The library keeps matrices by columns: rot[i][j] takes component i to component j.
    const { rot } = Rotation_EQJ_EQD(time)
    const [x, y, z] = rot as [number[], number[], number[]]
    return {
      utcMs,
      time,
      siderealTime: (SiderealTime(time) * Math.PI) / 12,
      dateFromJ2000: [x[0]!, y[0]!, z[0]!, x[1]!, y[1]!, z[1]!, x[2]!, y[2]!, z[2]!],
    }
  })
}

/**
 * The body's geocentric apparent position in km in the true equator and equinox of date: x to the equinox, z to the
 * north pole. It moves slowly (the Moon 13° a day) and so can be interpolated; track.ts does.
 */
export function equatorOfDate(body: BodyName, instant: Instant): EarthFixed {
  const v = asking('equatorOfDate', () => GeoVector(body === 'sun' ? Body.Sun : Body.Moon, instant.time, true))
  const [x, y, z] = apply(instant.dateFromJ2000, [v.x, v.y, v.z])
  return { x: x * KM_PER_AU, y: y * KM_PER_AU, z: z * KM_PER_AU }
}

/** The body's geocentric apparent position in km, turning with the Earth: serves every site at that instant. */
export const bodyEarthFixed = (body: BodyName, instant: Instant): EarthFixed =>
  earthFixedFromEquator(equatorOfDate(body, instant), instant.siderealTime)

/** Unit vector towards a fixed J2000 direction, true equator and equinox of date: precession, nutation, annual aberration. */
export function sourceOfDate(source: FixedDirection, instant: Instant): EarthFixed {
  const earth = asking('sourceOfDate', () => HelioState(Body.Earth, instant.time))
  const c = Math.cos(source.dec)
  // Aberration to first order in v/c, as the library does for stars; what is left out is 0.001″.
  const seen: Vec3<'J2000'> = [
    c * Math.cos(source.ra) + earth.vx / C_AUDAY,
    c * Math.sin(source.ra) + earth.vy / C_AUDAY,
    Math.sin(source.dec) + earth.vz / C_AUDAY,
  ]
  const [x, y, z] = apply(instant.dateFromJ2000, seen)
  const r = Math.hypot(x, y, z)
  return { x: x / r, y: y / r, z: z / r }
}

/** Unit vector, EarthFixed, towards a fixed J2000 direction. No parallax. */
const sourceEarthFixed = (source: FixedDirection, instant: Instant): EarthFixed =>
  earthFixedFromEquator(sourceOfDate(source, instant), instant.siderealTime)

/** Airless topocentric apparent direction of the body's centre, and its distance at that instant. */
export const bodyAirless = (
  body: BodyName,
  instant: Instant,
  frame: SiteFrame,
): { direction: Vec3<'Enu'>; distanceKm: number } => topocentric(bodyEarthFixed(body, instant), frame)

/** Airless apparent direction of a fixed source. */
export const sourceAirless = (source: FixedDirection, instant: Instant, frame: SiteFrame): Vec3<'Enu'> =>
  enuFromEarthFixed(sourceEarthFixed(source, instant), frame)
