/**
 * One page for a tracking program: the numbers to type; what it must assume for them to hold; what they leave over the
 * Moon's path. The numbers belong together. Degrees, counts, millimetres.
 */
import type { Answered } from '../fit/solution.ts'
import { setupFrom } from '../fit/solution.ts'
import { AXES, AXIS_NAMES, type Axis, type MountKind } from '../mount/names.ts'
import { trueAngle } from '../mount/readings.ts'
import { countsSteps } from '../readout/readout.ts'
import { msFromUtc } from '../records/instant.ts'
import type { Station } from '../records/station.ts'
import { moonPathDirectionsAt } from '../sky/moonpath.ts'
import type { MoonPoint } from '../sky/place.ts'
import { type Deg, degFromRad } from '../units.ts'
import { type AimPoint, type Angles, aimingBy, type Ranges } from './aiming.ts'
import { outputBy, outputOfReading, readingBy } from './axislaw.ts'
import { fitted } from './fit.ts'
import { type Formulas, formulasOf } from './formulas.ts'
import { type AxisPage, type CarryWish, type Coefficient, LAWS, type Law, type Numbers, numbersOf } from './numbers.ts'
import { type Remains, remainsOf } from './remains.ts'
import { shapeOf, unitFor } from './shapes.ts'
import { aimingNumbers, aimingsOf } from './told.ts'

/** The mount as entered: what the program must have, whatever else it is given. */
export interface PaperNumbers {
  kind: MountKind
  latDeg: Deg
  lonDeg: Deg
  heightM: number
  /** az-over-el and x-y. */
  headingDeg: Deg | null
  /** az-over-el: above the swing plane. */
  dishOffsetDeg: Deg | null
  /** -1: the upper reading counts against the usual sense. */
  upperSense: 1 | -1
}

export interface CarryPage {
  station: string
  feed: { id: string; name: string }
  madeUtc: string
  /** The last change of the setup; null before any. */
  setupFromUtc: string | null
  wish: CarryWish
  paper: PaperNumbers
  axes: Record<Axis, AxisPage>
  numbers: Coefficient[]
  /** Those of the other way, which must not be taken for them. */
  otherWay: Coefficient[]
  formulas: Formulas
  remains: Remains
  toleranceDeg: Deg
  allowedLossDb: number
}

/** What a program of that kind can take on this mount. */
export function lawsOf(station: Station): Law[] {
  const isJack = AXES.some(axis => station.model[axis].readout.type === 'jack')
  return LAWS.filter(law => isJack || (law !== 'jack' && law !== 'table'))
}

/** True where degrees and counts are two things. */
export const hasUnits = (station: Station): boolean => AXES.some(axis => countsSteps(station.model[axis].readout))

const two = (x: number): number => Number(x.toFixed(2)) + 0

/** An axis's angle within its limits, as built; by the readout as entered where no triangle closes there. */
function rangeOf({ solved: { station }, built }: Answered, axis: Axis): Ranges[Axis] {
  const { minReading, maxReading } = station.model[axis]
  const ends = [minReading, maxReading].map(reading => {
    const at = trueAngle(station.model, built, axis, reading)
    return at.kind === 'angle' ? degFromRad(at.angle) : Number.NaN
  })
  const known = ends.filter(Number.isFinite)
  return known.length < 2
    ? { fromDeg: -180, toDeg: 180 }
    : { fromDeg: two(Math.min(...known)), toDeg: two(Math.max(...known)) }
}

/** The Moon's path as something to aim at. */
export const looksOf = (path: readonly MoonPoint[]): AimPoint[] =>
  path.map(p => ({ direction: p.direction, from: site => moonPathDirectionsAt([p], site)[0]! }))

/** An aiming with its numbers, and what it makes of the Moon's path: the same for every law. */
export interface Aimed {
  numbers: Coefficient[]
  ranges: Ranges
  angles: (Angles | null)[]
}

export function aimedBy(answered: Answered, aiming: CarryWish['aiming']): Aimed {
  const { station } = answered.solved
  const numbers = aimingNumbers(answered, aiming)
  const ranges = { lower: rangeOf(answered, 'lower'), upper: rangeOf(answered, 'upper') }
  const aim = aimingBy(station, aiming, numbersOf(numbers), ranges)
  return { numbers, ranges, angles: looksOf(answered.sky.points.map(p => p.moon)).map(aim) }
}

/** A wish that this mount cannot have is replaced by the next that it can. */
export function wishFor(station: Station, wish: CarryWish): CarryWish {
  const aimings = aimingsOf(station)
  const laws = lawsOf(station)
  return {
    ...wish,
    aiming: aimings.includes(wish.aiming) ? wish.aiming : aimings.includes('pole') ? 'pole' : 'paper',
    law: laws.includes(wish.law) ? wish.law : 'line',
    unit: hasUnits(station) ? wish.unit : 'degrees',
  }
}

export interface MadeNumbers {
  axes: Record<Axis, AxisPage>
  numbers: Coefficient[]
}

/** The numbers of one law behind an aiming. */
export function madeBy(answered: Answered, aimed: Aimed, wish: CarryWish): MadeNumbers {
  const { solved, built, sky } = answered
  const { station } = solved
  const frameOf = (axis: Axis): Omit<AxisPage, 'form'> => {
    const unit = unitFor(station, axis, wish)
    const { readout, minReading, maxReading } = station.model[axis]
    const ends = [minReading, maxReading].map(reading => outputOfReading(readout, unit, reading) ?? reading)
    return {
      name: AXIS_NAMES[station.model.kind][axis],
      unit,
      ...aimed.ranges[axis],
      leastOutput: Math.min(...ends),
      mostOutput: Math.max(...ends),
      entered: station.record.mount[axis].readout,
    }
  }
  const frames = { lower: frameOf('lower'), upper: frameOf('upper') }
  const shapes = {
    lower: shapeOf(station, built, 'lower', frames.lower, wish),
    upper: shapeOf(station, built, 'upper', frames.upper, wish),
  }
  const p = fitted(station, built, sky.points, aimed.angles, frames, shapes)
  const done = { lower: shapes.lower.finish(p.lower), upper: shapes.upper.finish(p.upper) }
  return {
    axes: {
      lower: { ...frames.lower, form: done.lower.form },
      upper: { ...frames.upper, form: done.upper.form },
    },
    numbers: [...aimed.numbers, ...done.lower.coefficients, ...done.upper.coefficients],
  }
}

/** The readings to which a program sends both axes for its angles. */
export function readingsBy(
  axes: Record<Axis, AxisPage>,
  numbers: Numbers,
): (angles: Angles | null) => { lower: number; upper: number } | null {
  const way = (axis: Axis) => {
    const output = outputBy(axis, axes[axis], numbers)
    const reading = readingBy(axes[axis])
    return (angle: Deg): number | null => {
      const out = output(angle)
      return out === null ? null : reading(out)
    }
  }
  const ways = { lower: way('lower'), upper: way('upper') }
  return angles => {
    if (angles === null) return null
    const lower = ways.lower(angles.lower)
    const upper = ways.upper(angles.upper)
    return lower === null || upper === null ? null : { lower, upper }
  }
}

/** What it leaves over the Moon's path, by its numbers as printed. */
export const remainsBy = (answered: Answered, aimed: Aimed, { axes, numbers }: MadeNumbers): Remains =>
  remainsOf(answered, aimed.angles.map(readingsBy(axes, numbersOf(numbers))))

export function paperOfStation({ model, site }: Station): PaperNumbers {
  return {
    kind: model.kind,
    latDeg: degFromRad(site.lat),
    lonDeg: degFromRad(site.lon),
    heightM: site.heightM,
    headingDeg: model.paper.headed ? degFromRad(model.heading) : null,
    dishOffsetDeg: model.kind === 'az-over-el' ? degFromRad(model.offset) : null,
    upperSense: model.upperSense ?? 1,
  }
}

/** @param nowUtc  as it was asked for, echoed */
export function pageOf(answered: Answered, asked: CarryWish, nowUtc: string): CarryPage {
  const { solved, feed, sky } = answered
  const { station } = solved
  const wish = wishFor(station, asked)
  const aimed = aimedBy(answered, wish.aiming)
  const made = madeBy(answered, aimed, wish)
  // For a fitted curve the other way is another fit; for all else it is the same numbers.
  const other = madeBy(answered, aimed, { ...wish, way: wish.way === 'command' ? 'reading' : 'command' })
  return {
    station: station.record.name,
    feed: { id: feed.id, name: feed.name },
    madeUtc: nowUtc,
    setupFromUtc: setupFrom(station, msFromUtc(nowUtc)),
    wish,
    paper: paperOfStation(station),
    axes: made.axes,
    numbers: made.numbers,
    otherWay: other.numbers,
    formulas: formulasOf(made, other),
    remains: remainsBy(answered, aimed, made),
    toleranceDeg: degFromRad(sky.tolerance),
    allowedLossDb: station.tolerance.echoLossDb,
  }
}
