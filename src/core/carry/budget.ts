/**
 * The budget of a tracking program: its own limits inside the mount's, how near it must come, how often it moves, from which side. From
 * the Moon's path of the coming month, the tolerance, and what the station's records say of the drives. Degrees and readings out.
 *
 * A quarter of the tolerance goes to half a step and a quarter to the dead bands: added in squares that is a sixteenth more each.
 */
import type { Answered } from '../fit/solution.ts'
import { aimer } from '../mount/aim.ts'
import { AXES, AXIS_NAMES, type Axis, type Side } from '../mount/names.ts'
import { AXIS_SLOTS, trueAngle } from '../mount/readings.ts'
import { countsSteps } from '../readout/readout.ts'
import type { StationRecord } from '../records/fieldbook.ts'
import { isLimitGuessed } from '../records/guesses.ts'
import { apparentPlace } from '../sky/targets.ts'
import { type Deg, degFromRad, type Rad } from '../units.ts'
import { angleBetween } from '../vectors.ts'

export interface AxisBudget {
  name: string
  unit: 'counts' | 'degrees'
  /** The limits in the book, and whether nobody measured them. */
  hard: { min: number; max: number; isGuessed: boolean }
  /** Where the program should stop by itself: inside by twice the overrun, half a degree at least. */
  soft: { min: number; max: number }
  /** What the Moon asks of it this month; null where the Moon is never reached. */
  asked: { min: number; max: number } | null
  /** How fast the axis follows the Moon: at its fastest and where, and in 95 % of the time; readings a minute. */
  fastestPerMin: number
  usualPerMin: number
  fastestAt: { azDeg: Deg; elDeg: Deg } | null
  /** As measured; null: nobody has. */
  drivePerMin: number | null
  overrun: number | null
  /** Half the width: it moves when it is further off. `most`: what the tolerance allows; `least`: below it the axis hunts. */
  deadBand: { half: number; most: number; least: number; hunts: boolean }
  /** In the book; else null, and `goes` is the way that the Moon goes most. */
  arriveFrom: Side | null
  goes: Side
  /** Share of the time that it goes the other way. */
  otherWay: number
  /** Lost motion as found; 0: none known. */
  playDeg: Deg
}

export interface DriveBudget {
  feed: string
  axes: Record<Axis, AxisBudget>
  toleranceDeg: Deg
  /** Between moves, seconds; and by how much the aim leads: half of it. */
  everyS: number
  leadS: number
  halfStepDeg: Deg
  /** Hours of the Moon in the month that the soft limits take. */
  cutHours: number
  moonHours: number
}

/** Shares of the tolerance. */
const STEP_SHARE = 0.25
const BAND_SHARE = 0.25
const LEAST_MARGIN: Deg = 0.5
/** The rates are taken over a minute. */
const HALF_MIN_MS = 30_000

interface Pace {
  lower: number
  upper: number
  sky: Rad
  az: Rad
  el: Rad
}

/** The speed of each axis at every point of the path, readings a minute. */
function pacesOf({ solved, built, sky }: Answered): Pace[] {
  const { model, site } = solved.station
  const onto = aimer(model, built, 'beam')
  return sky.points.flatMap(({ moon, reach }) => {
    const at = (ms: number) => apparentPlace({ type: 'moon' }, ms, site, 'radio').direction
    const [before, after] = [at(moon.utcMs - HALF_MIN_MS), at(moon.utcMs + HALF_MIN_MS)]
    const [from, to] = [onto(before, reach), onto(after, reach)]
    if (from === null || to === null) return []
    return [
      {
        lower: to.lower - from.lower,
        upper: to.upper - from.upper,
        sky: angleBetween(before, after),
        az: moon.az,
        el: moon.el,
      },
    ]
  })
}

const share = <T>(list: readonly T[], is: (x: T) => boolean): number =>
  list.length === 0 ? 0 : list.filter(is).length / list.length

/** Readings in a degree at a reading; by the middle of the range where no triangle closes. */
function perDegree({ solved: { station }, built }: Answered, axis: Axis, reading: number): number {
  const at = trueAngle(station.model, built, axis, reading)
  return at.kind === 'angle' ? Math.abs(1 / degFromRad(at.perReading)) : Number.NaN
}

function axisBudget(answered: Answered, record: StationRecord, axis: Axis, paces: readonly Pace[]): AxisBudget {
  const { solved, built, sky } = answered
  const { station } = solved
  const { minReading: min, maxReading: max, readout } = station.model[axis]
  const { drive } = record.mount[axis]
  const overrun = drive?.overrun ?? null
  const finite = (x: number, otherwise: number) => (Number.isFinite(x) ? x : otherwise)
  const slopes = Array.from({ length: 41 }, (_, k) => perDegree(answered, axis, min + ((max - min) * k) / 40)).filter(
    Number.isFinite,
  )
  const middle = slopes[Math.floor(slopes.length / 2)] ?? 1
  const margin = (reading: number): number =>
    Math.min(
      (max - min) / 4,
      Math.max(2 * (overrun ?? 0), LEAST_MARGIN * finite(perDegree(answered, axis, reading), middle)),
    )
  const rates = paces.map(p => p[axis])
  const sorted = rates.map(Math.abs).sort((a, b) => a - b)
  const fastest = paces.reduce<Pace | null>(
    (a, p) => (a === null || Math.abs(p[axis]) > Math.abs(a[axis]) ? p : a),
    null,
  )
  const goes: Side = share(rates, r => r > 0) >= 0.5 ? '+' : '-'
  const readings = sky.points.map(p => p.reach[axis])
  // Both axes' bands together are the share; a degree of axis is a degree of sky at most.
  const bandDeg = (BAND_SHARE * degFromRad(sky.tolerance)) / Math.SQRT2
  const most = bandDeg * Math.min(...(slopes.length > 0 ? slopes : [middle]))
  const least = (overrun ?? 0) / 2 + (countsSteps(readout) ? 0.5 : 0)
  return {
    name: AXIS_NAMES[station.model.kind][axis],
    unit: countsSteps(readout) ? 'counts' : 'degrees',
    hard: { min, max, isGuessed: isLimitGuessed(record, axis) },
    soft: { min: min + margin(min), max: max - margin(max) },
    asked: readings.length === 0 ? null : { min: Math.min(...readings), max: Math.max(...readings) },
    fastestPerMin: fastest === null ? 0 : Math.abs(fastest[axis]),
    usualPerMin: sorted[Math.ceil(0.95 * sorted.length) - 1] ?? 0,
    fastestAt: fastest && { azDeg: degFromRad(fastest.az), elDeg: degFromRad(fastest.el) },
    drivePerMin: drive === undefined ? null : 60 * drive.readingsPerS,
    overrun,
    deadBand: { half: Math.max(most, least), most, least, hunts: least > most },
    arriveFrom: drive?.arriveFrom ?? null,
    goes,
    otherWay: share(rates, r => (goes === '+' ? r < 0 : r > 0)),
    playDeg: degFromRad(built[AXIS_SLOTS[axis].play]!),
  }
}

/** @param record  the station as it is now: what was solved does not look at how its axes are driven */
export function driveBudgetOf(answered: Answered, record: StationRecord): DriveBudget {
  const { sky, feed } = answered
  const paces = pacesOf(answered)
  const axes = {
    lower: axisBudget(answered, record, 'lower', paces),
    upper: axisBudget(answered, record, 'upper', paces),
  }
  const halfStep = STEP_SHARE * sky.tolerance
  // A quarter of a degree a minute where the Moon is never reached: a turn in a day.
  const fastest = paces.reduce((a, p) => Math.max(a, p.sky), 0) || (2 * Math.PI) / 1440
  const everyS = (60 * 2 * halfStep) / fastest
  const isCut = (p: (typeof sky.points)[number]) =>
    AXES.some(axis => p.reach[axis] < axes[axis].soft.min || p.reach[axis] > axes[axis].soft.max)
  return {
    feed: feed.id,
    axes,
    toleranceDeg: degFromRad(sky.tolerance),
    everyS,
    leadS: everyS / 2,
    halfStepDeg: degFromRad(halfStep),
    cutHours: sky.points.filter(isCut).length / 2,
    moonHours: sky.points.length / 2,
  }
}
