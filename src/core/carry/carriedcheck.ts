/**
 * Check points after carrying over: what the program shows for some targets against what it should by its page, and which slip would
 * make it show that. "Agrees" counts only as far as a slip that matters would have been seen at these targets.
 */
import { echoLossDb } from '../dish/optics.ts'
import type { Answered } from '../fit/solution.ts'
import type { Axis } from '../mount/names.ts'
import type { TargetRecord } from '../records/fieldbook.ts'
import { msFromUtc } from '../records/instant.ts'
import type { Station } from '../records/station.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { apparentPlace } from '../sky/targets.ts'
import type { Rad, UtcMs } from '../units.ts'
import { add, cross, scale, unit, type Vec3 } from '../vectors.ts'
import { type Angles, aimingBy, type Look } from './aiming.ts'
import { outputBy } from './axislaw.ts'
import { type Carried, type Cause, carriedOf, type Mistake, mistakesOf } from './mistakes.ts'
import type { AxisPage, Numbers } from './numbers.ts'
import { type CarryPage, looksOf, readingsBy } from './page.ts'
import { missesAt } from './remains.ts'

/** What the program shows for one target: what it puts out for both axes, with the decimals that were typed. */
export interface ShownOutput {
  utc: string
  target: TargetRecord
  lower: number
  upper: number
  decimals: Record<Axis, number>
}

export interface FoundMistake {
  cause: Cause
  id: string | null
  axis: Axis | null
  /** What is printed on the page, and what the program seems to have. */
  printed: string | null
  text: string | null
  /** Over the Moon's path with it: at p95 on own echoes. */
  echoLossDb: number
}

export interface CarriedCheck {
  verdict: 'agrees' | 'mistake' | 'several' | 'none'
  /** What explains it, best first; empty where it agrees, or nothing does. */
  fits: FoundMistake[]
  /** What should be shown, by target. */
  expected: ({ lower: number; upper: number } | null)[]
  /** How far what was typed is from it, in σ: the larger of both axes. */
  offSigma: (number | null)[]
  /** Slips that would cost something and would not have shown here. */
  unseen: Pick<FoundMistake, 'cause' | 'id' | 'axis'>[]
}

const DEG = Math.PI / 180
const AXES: readonly Axis[] = ['lower', 'upper']
/** What an almanac and a marked time are off by; a direction that is typed is exact. */
const BODY: Rad = 0.05 * DEG
const DIRECTION: Rad = 0.005 * DEG
/** By this the numbers of a page made again may differ. */
const LOOSE: Rad = 0.1 * DEG
/** Two explanations this near, in χ², are not told apart: three σ. */
const MARGIN = 9
/** A slip is none to look for that costs less than this of what the person allows, or the page leaves anyway, in decibels: by the square. */
const HARM = 0.25
/** Of the Moon's path so many points tell what a slip costs. */
const HARM_POINTS = 80

/** A target as something to aim at, at an instant. */
export function lookAt({ site }: Station, target: TargetRecord, utcMs: UtcMs): Look {
  const core = targetFromRecord(target)
  const direction = apparentPlace(core, utcMs, site, 'radio').direction
  return {
    direction,
    from: from => (core.type === 'landmark' ? direction : apparentPlace(core, utcMs, from, 'radio').direction),
  }
}

export type Outputs = Record<Axis, number> | null

/** What a program puts out, made once for many places. */
export function outputsBy(station: Station, carried: Carried): (look: Look) => Outputs {
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
const moved = (look: Look, by: Vec3): Look => ({
  direction: unit(add(look.direction, by)),
  from: site => unit(add(look.from(site), by)),
})

/** Two unit vectors square to a direction and to one another. */
function across(t: Vec3): [Vec3, Vec3] {
  const a = unit(cross(t, Math.abs(t[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]))
  return [a, cross(t, a)]
}

/** Of degrees a whole turn is no difference. */
const difference = (page: AxisPage, a: number, b: number): number => {
  const d = a - b
  return page.unit === 'degrees' ? d - 360 * Math.round(d / 360) : d
}

export interface Point {
  look: Look
  expected: Outputs
  sigma: Record<Axis, number>
  /** What the typing and the printing round. */
  rounding: Record<Axis, number>
  /** The same place, a little off on two sides, as an almanac and a marked time may be; and as a page made again may. */
  moved: Look[]
  loose: Look[]
}

/** What a page should make a program show at a target, and how well that can be known. */
export function pointOf(
  station: Station,
  page: CarryPage,
  target: TargetRecord,
  utcMs: UtcMs,
  decimals: Record<Axis, number>,
): Point {
  const look = lookAt(station, target, utcMs)
  const by = target.type === 'landmark' ? DIRECTION : BODY
  const sides = (off: Rad): Look[] => across(look.direction).map(side => moved(look, scale(side, off)))
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

/** σ of both outputs, from what they are a little beside the place. */
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

/** Of χ² with n degrees of freedom the point that chance passes once in a thousand. Source: Wilson & Hilferty 1931. */
export const chiSquareLimit = (n: number): number => n * (1 - 2 / (9 * n) + 3.090232 * Math.sqrt(2 / (9 * n))) ** 3

/** How far two outputs are apart at the targets, χ²; an output that is not there is far. */
const FAR = 1e6
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

/** What programs make of some places; slips of an axis leave the aiming as it is, and it is worked out once. */
function anglesOf(station: Station, looks: readonly Look[]): (carried: Carried) => (Angles | null)[] {
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

export function shownBy(
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

/** The 95th percentile of the miss over some of the Moon's path, rad; places without a reading count as wholly missed. */
function missesOver(answered: Answered, carried: readonly Carried[]): Rad[] {
  const { solved, sky } = answered
  const { station } = solved
  const missAt = missesAt(answered)
  const every = Math.max(1, Math.floor(sky.points.length / HARM_POINTS))
  const moons = sky.points.filter((_, k) => k % every === 0).map(p => p.moon)
  const looks = looksOf(moons)
  const angles = anglesOf(station, looks)
  return carried.map(c => {
    const set = readingsBy(c.axes, c.numbers)
    const misses = angles(c)
      .map((a, k) => {
        const miss = missAt(set(a), moons[k]!.direction)
        return miss ? Math.hypot(...miss) : Math.PI
      })
      .sort((a, b) => a - b)
    return misses[Math.ceil(0.95 * misses.length) - 1] ?? 0
  })
}

/** Slips beside what each costs over the Moon's path. */
export interface Weighed {
  mistakes: Mistake[]
  /** rad, p95. */
  misses: Rad[]
  harmful: boolean[]
}

export function weighed(answered: Answered, page: CarryPage): Weighed {
  const mistakes = mistakesOf(answered, page)
  const [own, ...misses] = missesOver(answered, [carriedOf(page), ...mistakes.map(m => m.carried)])
  return {
    mistakes,
    misses,
    harmful: misses.map(m => m * m > own! * own! + HARM * Math.max(answered.sky.tolerance, own!) ** 2),
  }
}

/** True where a difference of that χ² could not have passed for agreement, 99 in 100. */
export const wouldShow = (distance2: number, rows: number): boolean =>
  Math.sqrt(distance2) > Math.sqrt(chiSquareLimit(rows)) + 2.33

/** How much likelier a cause must be made by what is shown than the plainest. */
const PRICE: Readonly<Record<Cause, number>> = {
  nothing: 0,
  convention: 0,
  axes: 0,
  sign: 0,
  missing: 0,
  'no-aiming': 0,
  'no-law': 0,
  'other-way': 0,
  row: 0,
  decimal: 1,
  'other-page': 1,
  digit: 4,
  value: 8,
}

const keyOf = (m: Pick<Mistake, 'cause' | 'id' | 'axis'>): string => `${m.cause} ${m.id} ${m.axis}`

/** One number, however it is wrong; or the two names of one confusion. */
const isOne = ([first, ...rest]: readonly FoundMistake[]): boolean =>
  rest.every(f => (f.id !== null && f.id === first!.id) || (isTurned(f.cause) && isTurned(first!.cause)))
const isTurned = (cause: Cause): boolean => cause === 'convention' || cause === 'other-way'

/** @param typed  one target at least @param known  slips of this page that were weighed before */
export function checkCarried(
  answered: Answered,
  page: CarryPage,
  typed: readonly ShownOutput[],
  known: Weighed = weighed(answered, page),
): CarriedCheck {
  if (typed.length === 0) throw new RangeError('checkCarried: there must be at least one target')
  const { station } = answered.solved
  const points = typed.map(t => pointOf(station, page, t.target, msFromUtc(t.utc), t.decimals))
  const shown: Outputs[] = typed.map(({ lower, upper }) => ({ lower, upper }))
  const expected = points.map(p => p.expected)
  const rows = 2 * typed.length
  const limit = chiSquareLimit(rows)
  const { mistakes, misses, harmful } = known
  const slips = shownBy(station, page, mistakes, points)
  const sigmas = points.map(p => p.sigma)
  const told = (m: Mistake, k: number): FoundMistake => ({
    cause: m.cause,
    id: m.id,
    axis: m.axis,
    printed: page.numbers.find(c => c.id === m.id)?.text ?? null,
    text: m.text,
    echoLossDb: echoLossDb(misses[k]!, answered.feed.hpbw),
  })
  const offSigma = points.map((p, k) => {
    const [a, b] = [expected[k]!, shown[k]!]
    return a === null || b === null
      ? null
      : Math.max(...AXES.map(axis => Math.abs(difference(page.axes[axis], b[axis], a[axis])) / p.sigma[axis]))
  })
  const answer = (verdict: CarriedCheck['verdict'], fits: FoundMistake[], unseen: CarriedCheck['unseen'] = []) => ({
    verdict,
    fits,
    expected,
    offSigma,
    unseen,
  })

  if (chi2(page, sigmas, shown, expected) <= limit) {
    const hidden = new Map<string, CarriedCheck['unseen'][number]>()
    mistakes.forEach((m, k) => {
      // A page made again is as loose as its slip; what it hides it hides from any check.
      if (harmful[k] && !wouldShow(chi2(page, m.loose ? slips[k]!.sigmas : sigmas, slips[k]!.outputs, expected), rows))
        hidden.set(keyOf(m), { cause: m.cause, id: m.id, axis: m.axis })
    })
    return answer('agrees', [], [...hidden.values()])
  }

  const best = new Map<string, { fit: FoundMistake; price: number }>()
  mistakes.forEach((m, k) => {
    const off = chi2(page, slips[k]!.sigmas, shown, slips[k]!.outputs)
    if (off > limit) return
    const price = off + PRICE[m.cause]
    const before = best.get(keyOf(m))
    if (before === undefined || price < before.price) best.set(keyOf(m), { fit: told(m, k), price })
  })
  const fits = [...best.values()].sort((a, b) => a.price - b.price)
  if (fits.length === 0) {
    const other = otherValue(answered, page, points, shown, limit)
    return other === null ? answer('none', []) : answer(isOne(other) ? 'mistake' : 'several', other)
  }
  const near = fits.filter(f => f.price - fits[0]!.price <= MARGIN).map(f => f.fit)
  return answer(isOne(near) ? 'mistake' : 'several', near.slice(0, 6))
}

/** One number that has some other value: each by itself, brought as near as it goes. */
function otherValue(
  answered: Answered,
  page: CarryPage,
  points: readonly Point[],
  shown: readonly Outputs[],
  limit: number,
): FoundMistake[] | null {
  const { station } = answered.solved
  const own = carriedOf(page)
  const found: { fit: FoundMistake; off: number }[] = []
  const looks = points.map(p => p.look)
  const residuals = (outputs: readonly Outputs[]): number[] | null => {
    const r: number[] = []
    for (const [k, out] of outputs.entries()) {
      if (out === null) return null
      for (const axis of AXES) r.push(difference(page.axes[axis], out[axis], shown[k]![axis]) / points[k]!.sigma[axis])
    }
    return r
  }
  for (const c of page.numbers) {
    if (c.unit === 'sense') continue
    const at = (value: number) => {
      const carried = { ...own, numbers: { ...own.numbers, [c.id]: value } }
      return { carried, r: residuals(looks.map(outputsBy(station, carried))) }
    }
    let value = c.value
    for (let pass = 0; pass < 25; pass++) {
      const here = at(value).r
      const h = Math.max(1e-9, Math.abs(value) * 1e-4, Math.abs(c.value) * 1e-5)
      const next = at(value + h).r
      if (here === null || next === null) break
      let [up, down] = [0, 0]
      here.forEach((x, i) => {
        const slope = (next[i]! - x) / h
        up += slope * x
        down += slope * slope
      })
      if (down === 0) break
      value -= up / down
      if (Math.abs(up / down) < 1e-9 * Math.max(1, Math.abs(value))) break
    }
    const { carried, r } = at(value)
    const off = r?.reduce((a, x) => a + x * x, 0) ?? FAR
    if (off > limit) continue
    const [miss] = missesOver(answered, [carried])
    found.push({
      off,
      fit: {
        cause: 'value',
        id: c.id,
        axis: c.axis,
        printed: c.text,
        text: short(value),
        echoLossDb: echoLossDb(miss!, answered.feed.hpbw),
      },
    })
  }
  if (found.length === 0) return null
  found.sort((a, b) => a.off - b.off)
  return found.filter(f => f.off - found[0]!.off <= MARGIN).map(f => f.fit)
}

const short = (x: number): string => String(Number(x.toPrecision(5)))
