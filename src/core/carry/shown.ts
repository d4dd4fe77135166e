/**
 * What programs show for targets: what they put out for both axes, how well that can be known of what a person types, and how far two
 * programs are apart there. Degrees and counts out.
 */
import { AXES, type Axis } from '../mount/names.ts'
import type { TargetRecord } from '../records/fieldbook.ts'
import type { Station } from '../records/station.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { apparentPlace } from '../sky/targets.ts'
import { DEG, type Rad, type UtcMs } from '../units.ts'
import { add, cross, scale, unit, type Vec3 } from '../vectors.ts'
import { type AimPoint, type Angles, aimingBy } from './aiming.ts'
import { outputBy } from './axislaw.ts'
import { type Carried, carriedOf, type Mistake } from './mistakes.ts'
import type { AxisPage, Numbers } from './numbers.ts'
import type { CarryPage } from './page.ts'

/** 1 σ of an almanac and a marked time, rad; a direction that is typed is exact. */
const BODY: Rad = 0.05 * DEG
const DIRECTION: Rad = 0.005 * DEG
/** How far the numbers of a page that is worked out again may differ, rad. */
const LOOSE: Rad = 0.1 * DEG

/** A target as something to aim at, at an instant. */
export function aimPointAt({ site }: Station, target: TargetRecord, utcMs: UtcMs): AimPoint {
  const core = targetFromRecord(target)
  const direction = apparentPlace(core, utcMs, site, 'radio').direction
  return {
    direction,
    from: from => (core.type === 'landmark' ? direction : apparentPlace(core, utcMs, from, 'radio').direction),
  }
}

export type Outputs = Record<Axis, number> | null

/** What a program puts out, made once for many places. */
export function outputsBy(station: Station, carried: Carried): (look: AimPoint) => Outputs {
  const aim = aimingBy(station, carried.aiming, carried.numbers, carried.axes)
  const law = lawBy(carried.axes, carried.numbers)
  return look => law(aim(look))
}

function lawBy(axes: Record<Axis, AxisPage>, numbers: Numbers): (angles: Angles | null) => Outputs {
  const lower = outputBy('lower', axes.lower, numbers)
  const upper = outputBy('upper', axes.upper, numbers)
  return angles => {
    if (angles === null) return null
    const [l, u] = [lower(angles.lower), upper(angles.upper)]
    return l === null || u === null ? null : { lower: l, upper: u }
  }
}

/** The same place, off by a small vector. */
const moved = (look: AimPoint, by: Vec3): AimPoint => ({
  direction: unit(add(look.direction, by)),
  from: site => unit(add(look.from(site), by)),
})

/** Two unit vectors square to a direction and to one another. */
function across(t: Vec3): [Vec3, Vec3] {
  const a = unit(cross(t, Math.abs(t[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]))
  return [a, cross(t, a)]
}

/** Of degrees a whole turn is no difference. */
export const difference = (page: AxisPage, a: number, b: number): number => {
  const d = a - b
  return page.unit === 'degrees' ? d - 360 * Math.round(d / 360) : d
}

export interface Point {
  look: AimPoint
  expected: Outputs
  sigma: Record<Axis, number>
  /** What the typing and the printing round. */
  rounding: Record<Axis, number>
  /** The same place, a little off on two sides, as an almanac and a marked time may be; and as a page made again may. */
  moved: AimPoint[]
  loose: AimPoint[]
}

/** What a page should make a program show at a target, and how well that can be known. */
export function pointOf(
  station: Station,
  page: CarryPage,
  target: TargetRecord,
  utcMs: UtcMs,
  decimals: Record<Axis, number>,
): Point {
  const look = aimPointAt(station, target, utcMs)
  const by = target.type === 'landmark' ? DIRECTION : BODY
  const sides = (off: Rad): AimPoint[] => across(look.direction).map(side => moved(look, scale(side, off)))
  const rounded = (axis: Axis): number =>
    Math.hypot(10 ** -decimals[axis] / Math.sqrt(12), page.axes[axis].unit === 'counts' ? 0.1 : 0.004)
  const rounding = { lower: rounded('lower'), upper: rounded('upper') }
  const outputs = outputsBy(station, carriedOf(page))
  const expected = outputs(look)
  const near = sides(by)
  return {
    look,
    expected,
    rounding,
    sigma: sigmaOf(page, expected, near.map(outputs), rounding),
    moved: near,
    loose: sides(LOOSE),
  }
}

/** σ of both outputs, from their values a little beside the place. */
function sigmaOf(
  page: CarryPage,
  at: Outputs,
  beside: readonly Outputs[],
  rounding: Record<Axis, number>,
): Record<Axis, number> {
  const of = (axis: Axis): number => {
    const square = beside.reduce(
      (sum, there) =>
        sum + (there === null || at === null ? 0 : difference(page.axes[axis], there[axis], at[axis]) ** 2),
      0,
    )
    return Math.hypot(Math.sqrt(square), rounding[axis])
  }
  return { lower: of('lower'), upper: of('upper') }
}
/** How far two outputs are apart at the targets, χ²; an output that is not there is far. */
export const FAR = 1e6
export function chi2(
  page: CarryPage,
  sigmas: readonly Record<Axis, number>[],
  of: readonly Outputs[],
  to: readonly Outputs[],
): number {
  return sigmas.reduce((sum, sigma, k) => {
    const [a, b] = [of[k]!, to[k]!]
    if (a === null || b === null) return sum + (a === b ? 0 : FAR)
    return sum + AXES.reduce((s, axis) => s + (difference(page.axes[axis], a[axis], b[axis]) / sigma[axis]) ** 2, 0)
  }, 0)
}

/** The angles that programs compute for some places; slips of an axis do not change the aiming, which is worked out once. */
export function anglesOf(station: Station, looks: readonly AimPoint[]): (carried: Carried) => (Angles | null)[] {
  const known = new Map<string, (Angles | null)[]>()
  return carried => {
    const told = Object.entries(carried.numbers).filter(([id]) => !id.includes('.'))
    const key = JSON.stringify([carried.aiming, told])
    const angles = known.get(key) ?? looks.map(aimingBy(station, carried.aiming, carried.numbers, carried.axes))
    known.set(key, angles)
    return angles
  }
}

/** What a slip would show at some places, and how well that is known: a program with a steep curve shows a small offset large. */
export interface ShownBy {
  outputs: Outputs[]
  sigmas: Record<Axis, number>[]
}

export function shownByProgram(
  station: Station,
  page: CarryPage,
  mistakes: readonly Mistake[],
  points: readonly Point[],
): ShownBy[] {
  const at = anglesOf(
    station,
    points.map(p => p.look),
  )
  const near = anglesOf(
    station,
    points.flatMap(p => p.moved),
  )
  const loose = anglesOf(
    station,
    points.flatMap(p => p.loose),
  )
  return mistakes.map(m => {
    const law = lawBy(m.carried.axes, m.carried.numbers)
    const outputs = at(m.carried).map(law)
    const beside = (m.loose ? loose : near)(m.carried).map(law)
    const sigmas = points.map((p, k) => {
      const own = sigmaOf(page, outputs[k]!, beside.slice(2 * k, 2 * k + 2), p.rounding)
      return { lower: Math.max(own.lower, p.sigma.lower), upper: Math.max(own.upper, p.sigma.upper) }
    })
    return { outputs, sigmas }
  })
}
