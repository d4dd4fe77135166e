/**
 * What the air does to an elevation. The lift is apparent minus airless elevation, always upwards, in the vertical
 * plane; a is the *apparent* elevation. Lift = N·1e-6·cot(a + 7.31°/(a + 4.4)), a in degrees within the argument
 * (Bennett 1982's shape), N the refractivity at the ground: radio with its water vapour (ITU-R P.453), or light.
 */
import { DEG, type Metres, type Rad } from '../units.ts'
import type { Vec3 } from '../vectors.ts'
import type { Air, Band } from './place.ts'

/** The standard atmosphere at a height, 50 % humidity. @param heightM -500 to 9000 */
export const defaultAir = (heightM: Metres): Air => ({
  pressureHPa: 1013.25 * (1 - 2.25577e-5 * heightM) ** 5.25588,
  temperatureC: 15 - 0.0065 * heightM,
  humidity: 0.5,
})

/** A site record's air, each missing figure filled from the height. humidityPct is 0 to 100. */
export function airFrom(
  heightM: Metres,
  record: { pressureHPa?: number; temperatureC?: number; humidityPct?: number } = {},
): Air {
  const standard = defaultAir(heightM)
  return {
    pressureHPa: record.pressureHPa ?? standard.pressureHPa,
    temperatureC: record.temperatureC ?? standard.temperatureC,
    humidity: record.humidityPct === undefined ? standard.humidity : record.humidityPct / 100,
  }
}

/**
 * Refractivity N, parts per million.
 * Source: radio ITU-R P.453, 77.6 (P + 4810 e/T)/T with e from its water-vapour formula; light at 0.55 µm 79.0 P/T.
 */
export function refractivity(air: Air, band: Band): number {
  const t = air.temperatureC
  const kelvin = t + 273.15
  if (band === 'optical') return (79.0 * air.pressureHPa) / kelvin
  const e = air.humidity * 6.1121 * Math.exp((17.502 * t) / (240.97 + t))
  return (77.6 * (air.pressureHPa + (4810 * e) / kelvin)) / kelvin
}

/** Below this apparent elevation the formula is not used: it turns round at -1.7° and has a pole at -4.4°. */
const LOWEST = -1 * DEG

/** Lift for N = 1e6, and its slope, at and above LOWEST. Not below zero: the formula is -0.1″ at the zenith. */
function unitLift(a: Rad): { lift: number; slope: number } {
  const d = a / DEG + 4.4
  const g = a + (7.31 / d) * DEG
  const lift = 1 / Math.tan(g)
  if (!(lift > 0)) return { lift: 0, slope: 0 }
  return { lift, slope: -(1 + lift * lift) * (1 - 7.31 / (d * d)) }
}

const LIFT_AT_LOWEST = unitLift(LOWEST).lift
/** From LOWEST in a straight line to 0 at the nadir: no ray comes from there, but the function must stay continuous and rising. */
const FADE = 1 / (LOWEST + Math.PI / 2)

/**
 * The lift at an apparent elevation, ≥ 0, radians.
 *
 * The formula holds from -1° up. Below, where the ground is, the lift fades in a straight line to 0 at the nadir:
 * a convention, so that everything stays continuous and in order. Accuracy: 0.003° against ERFA above 8°, 0.006° in hot
 * and humid air; 0.008° too little at 5° against ray bending. Lower down the real air differs by more than that from day to day.
 *
 * @param a apparent elevation, -π/2 to π/2
 */
export const liftAtApparent = (a: Rad, air: Air, band: Band): Rad =>
  refractivity(air, band) *
  1e-6 *
  (a >= LOWEST ? unitLift(a).lift : LIFT_AT_LOWEST * Math.max(0, a + Math.PI / 2) * FADE)

/** Airless elevation of an apparent one, -π/2 to π/2: exact inverse of apparentElevation. */
export const airlessElevation = (apparent: Rad, air: Air, band: Band): Rad =>
  apparent - liftAtApparent(apparent, air, band)

/** Apparent elevation of an airless one, -π/2 to π/2: rising with it, to 1e-12 rad. */
export const apparentElevation = (airless: Rad, air: Air, band: Band): Rad =>
  apparentFrom(airless, refractivity(air, band) * 1e-6)

function apparentFrom(airless: Rad, n: number): Rad {
  const atLowest = n * LIFT_AT_LOWEST
  if (airless <= LOWEST - atLowest) return (airless + atLowest * FADE * (Math.PI / 2)) / (1 - atLowest * FADE)
  // a - lift(a) is concave and rising: Newton's steps from below the root never pass it.
  let a = Math.max(airless, LOWEST)
  for (let i = 0; i < 30; i++) {
    const { lift, slope } = unitLift(a)
    const step = (airless - a + n * lift) / (1 - n * slope)
    a += step
    if (Math.abs(step) < 1e-13) break
  }
  return a
}

/** The unit vector lifted in its vertical plane. The zenith and the nadir stay where they are. */
export function apparentDirection(direction: Vec3<'Enu'>, air: Air, band: Band): Vec3<'Enu'> {
  return liftedDirection(direction, refractivity(air, band))
}

/** As apparentDirection, with the refractivity already worked out, for long series. @param n parts per million */
export function liftedDirection(direction: Vec3<'Enu'>, n: number): Vec3<'Enu'> {
  const level = Math.hypot(direction[0], direction[1])
  if (level === 0) return direction
  const a = apparentFrom(Math.atan2(direction[2], level), n * 1e-6)
  const k = Math.cos(a) / level
  return [direction[0] * k, direction[1] * k, Math.sin(a)]
}

/** The unit vector as it would be without air: inverse of apparentDirection. */
export function airlessDirection(direction: Vec3<'Enu'>, air: Air, band: Band): Vec3<'Enu'> {
  const level = Math.hypot(direction[0], direction[1])
  if (level === 0) return direction
  const h = airlessElevation(Math.atan2(direction[2], level), air, band)
  const k = Math.cos(h) / level
  return [direction[0] * k, direction[1] * k, Math.sin(h)]
}
