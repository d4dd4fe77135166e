/**
 * Drawn rows of Sun noise against a setting of the feed, with a known best: a parabola in dB, or the real thing (the dish's
 * share of the Sun's noise falls as the square of a sinc of the defocus, in dB over the receiver's own noise). Settings in mm.
 */
import { feedRow, type RowAnswer } from '../../src/core/noise/feedrow.ts'
import { chance } from './random.ts'

export interface RowTrial {
  /** Where it is best, and the row's ends. */
  best: number
  from: number
  to: number
  answer: RowAnswer
}

export type Shape = 'parabola' | 'defocus'

/** @param stated  the σ of a reading is given; else the scatter must say it */
export function rowTrial(seed: number, shape: Shape, stated: boolean): RowTrial {
  const c = chance(seed)
  const n = c.whole(5, 11)
  const step = c.between(3, 12)
  const from = c.between(-40, 40)
  const to = from + (n - 1) * step
  // From well outside on one side to well outside on the other.
  const best = c.between(from - 0.6 * (to - from), to + 0.6 * (to - from))
  const peakDb = c.between(6, 13)
  const sigma = c.one([0.03, 0.07, 0.15])
  // So wide that a row loses some tenths to some dB at its ends.
  const width = c.between(1, 3) * (to - from)
  const curve = (at: number): number => {
    const x = (at - best) / width
    if (shape === 'parabola') return peakDb - 4 * x * x
    const beta = 2.2 * x
    const share = beta === 0 ? 1 : (Math.sin(beta) / beta) ** 2
    return 10 * Math.log10(1 + (10 ** (peakDb / 10) - 1) * share)
  }
  const readings = Array.from({ length: n }, (_, k) => from + k * step).map(at => ({
    at,
    yDb: curve(at) + c.normal(sigma),
    sigmaDb: stated ? sigma : null,
  }))
  return { best, from, to, answer: feedRow(readings) }
}

export interface RowRates {
  rows: number
  /** Share of all rows in which a best is said, and of those with the best inside. */
  said: number
  saidInside: number
  /** Of the bests said: the share whose 68 % and 95 % interval holds the truth; whose truth lies outside the row. */
  holds68: number
  holds95: number
  falseBest: number
  /** Of the rows called "outside": the share whose best lies inside, or beyond the other end. */
  outside: number
  falseOutside: number
}

export function rowRates(trials: number, shape: Shape, stated: boolean, firstSeed = 1): RowRates {
  const all = Array.from({ length: trials }, (_, k) => rowTrial(firstSeed + k, shape, stated))
  const inside = all.filter(t => t.best >= t.from && t.best <= t.to)
  const said = all.flatMap(t => (t.answer.verdict.kind === 'best' ? [{ ...t, verdict: t.answer.verdict }] : []))
  const outside = all.flatMap(t => (t.answer.verdict.kind === 'outside' ? [{ ...t, verdict: t.answer.verdict }] : []))
  const share = (part: number, of: number): number => Number((of === 0 ? 0 : part / of).toFixed(4))
  return {
    rows: trials,
    said: share(said.length, trials),
    saidInside: share(said.filter(t => inside.some(i => i.best === t.best)).length, inside.length),
    holds68: share(said.filter(t => t.best >= t.verdict.low68 && t.best <= t.verdict.high68).length, said.length),
    holds95: share(said.filter(t => t.best >= t.verdict.low95 && t.best <= t.verdict.high95).length, said.length),
    falseBest: share(said.filter(t => t.best < t.from || t.best > t.to).length, said.length),
    outside: share(outside.length, trials),
    falseOutside: share(
      outside.filter(t => (t.verdict.toward === 'more' ? t.best <= t.to : t.best >= t.from)).length,
      outside.length,
    ),
  }
}
