/**
 * Check points after carrying over: what the program shows for some targets against what it should by its page, and which slip would
 * make it show that. "Agrees" counts only as far as a slip that matters would have been seen at these targets.
 */
import { echoLossDb } from '../dish/optics.ts'
import type { Answered } from '../fit/solution.ts'
import { AXES, type Axis } from '../mount/names.ts'
import type { TargetRecord } from '../records/fieldbook.ts'
import { msFromUtc } from '../records/instant.ts'
import { carriedOf, type Mistake, type MistakeKind } from './mistakes.ts'
import type { CarryPage } from './page.ts'
import { chi2, difference, FAR, type Outputs, outputsBy, type Point, pointOf, shownByProgram } from './shown.ts'
import { missesOver, type Weighed, weighed } from './weighed.ts'

/** What the program shows for one target: what it puts out for both axes, with the decimals that were typed. */
export interface ShownOutput {
  utc: string
  target: TargetRecord
  lower: number
  upper: number
  decimals: Record<Axis, number>
}

export interface FoundMistake {
  cause: MistakeKind
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

/** Two explanations this near, in χ², are not told apart: three σ. */
const MARGIN = 9

/** The value that χ² with n degrees of freedom exceeds by chance once in a thousand. Source: Wilson & Hilferty 1931. */
export const chiSquareLimit = (n: number): number => n * (1 - 2 / (9 * n) + 3.090232 * Math.sqrt(2 / (9 * n))) ** 3
/** True where a difference of that χ² could not have passed for agreement, 99 in 100. */
export const wouldShow = (distance2: number, rows: number): boolean =>
  Math.sqrt(distance2) > Math.sqrt(chiSquareLimit(rows)) + 2.33

/** Penalty of each cause in χ², against the likeliest one. */
const PRICE: Readonly<Record<MistakeKind, number>> = {
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
const isTurned = (cause: MistakeKind): boolean => cause === 'convention' || cause === 'other-way'

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
  const slips = shownByProgram(station, page, mistakes, points)
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
      // A page that is worked out again is as imprecise as its slip; what that hides, no check sees.
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

/** One number that has some other value: each tried by itself, fitted as near as possible. */
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
