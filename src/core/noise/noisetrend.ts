/** Whether what a dish hears has fallen (or risen) at some time: one step in a row of values with their σ, in dB. */
import { instantMs } from '../records/instant.ts'

export interface HeardValue {
  id: string
  utc: string
  db: number
  /** 1 σ, > 0. */
  sigma: number
}

export interface NoiseStep {
  /** The first value after the step. */
  id: string
  utc: string
  /** Mean after minus mean before; `before` and `after` count the values. */
  db: number
  sigma: number
  before: number
  after: number
  meanBefore: number
  meanAfter: number
}

/** A step this many σ high is reported; with one chance for each value that is one false alarm in about 400 rows of ten. */
const SAID_SIGMAS = 3.5

const weighted = (values: readonly HeardValue[]): { mean: number; variance: number } => {
  const weight = values.reduce((a, v) => a + 1 / v.sigma ** 2, 0)
  return { mean: values.reduce((a, v) => a + v.db / v.sigma ** 2, 0) / weight, variance: 1 / weight }
}

/** The surest step, or null when chance explains them all. @param values  in any order */
export function stepIn(values: readonly HeardValue[]): NoiseStep | null {
  const row = [...values].sort((a, b) => instantMs(a.utc) - instantMs(b.utc))
  let best: NoiseStep | null = null
  for (let k = 1; k < row.length; k++) {
    const before = weighted(row.slice(0, k))
    const after = weighted(row.slice(k))
    const sigma = Math.sqrt(before.variance + after.variance)
    const db = after.mean - before.mean
    if (Math.abs(db) < SAID_SIGMAS * sigma) continue
    if (best !== null && Math.abs(db) / sigma <= Math.abs(best.db) / best.sigma) continue
    const means = { meanBefore: before.mean, meanAfter: after.mean }
    best = { id: row[k]!.id, utc: row[k]!.utc, db, sigma, before: k, after: row.length - k, ...means }
  }
  return best
}
