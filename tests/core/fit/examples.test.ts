/**
 * Six stations simulated from outside the project (tests/examples/README.md: astropy and ERFA for the sky, the written
 * equations for the mount, scipy for the reference fit), judged as that README says: the readings of the target table are
 * put through the true mount.
 */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { solve, targets } from '../../../src/core/questions.ts'
import type { FieldBook, TargetRecord } from '../../../src/core/records/fieldbook.ts'
import { answered } from '../../helpers/answered.ts'
import { rmsOf } from '../../helpers/judged.ts'
import { someOf } from '../../helpers/some.ts'
import { apartDeg, type Truth, trueMount } from '../../helpers/truemount.ts'

interface TruthFile {
  par: Truth
  now: string
  blunders: string[]
  feed: string
  checkFrom: string
  checkTarget: TargetRecord
  checkHours: number
  rows: { utc: string; enu: [number, number, number]; lower: number; upper: number }[]
  reference: { rms: number; worst: number }
}

const read = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../examples/${name}`, import.meta.url), 'utf8'))
const NAMES = ['azel-wild-heading', 'blunders', 'bolts-turned', 'equatorial-south', 'tilting-polar', 'two-jacks']

describe.each(NAMES)('the example %s', name => {
  const book = read(`${name}.fieldbook.json`) as FieldBook
  const truth = read(`${name}.truth.json`) as TruthFile
  const solution = answered(solve(book, { now: truth.now }))
  const mount = trueMount(book.stations[0]!, truth.par)

  it('has true readings that put the true beam on the target within 0.001°, so the judge is right', () => {
    // The rows' readings are rounded to four decimals, counts to fewer: a thousandth of a degree at most.
    for (const row of someOf(truth.rows))
      expect(apartDeg(mount.pose(row.lower, row.upper, 'beam', truth.feed).b, row.enu)).toBeLessThan(0.001)
  })

  it('points within 1.05 × the reference + 0.01°', () => {
    const csv = answered(
      targets(book, {
        now: truth.now,
        target: truth.checkTarget,
        fromUtc: truth.checkFrom,
        hours: truth.checkHours,
        stepS: 1800,
        feed: truth.feed,
      }),
    )
    const byUtc = new Map(
      csv
        .trim()
        .split('\r\n')
        .slice(1)
        .map(line => [line.split(',')[0]!, line.split(',')]),
    )
    const misses = truth.rows.map(row => {
      const [, , , , lower, upper, reachable] = byUtc.get(row.utc)!
      expect(reachable).toBe('true')
      return apartDeg(mount.pose(Number(lower), Number(upper), 'beam', truth.feed).b, row.enu)
    })
    const rms = rmsOf(misses)
    const { outliers, misfit, iterations } = solution.fit
    console.log(
      `${name}: rms ${rms.toFixed(4)}°, reference ${truth.reference.rms.toFixed(4)}°, worst ${Math.max(...misses).toFixed(3)}°; stated ${solution.sky.after.rmsDeg.toFixed(3)}°, outliers ${outliers}, misfit ${misfit.toFixed(2)}, steps ${iterations}, suspects ${solution.suspects.map(s => s.kind).join(' ') || 'none'}`,
    )
    expect(rms).toBeLessThanOrEqual(1.05 * truth.reference.rms + 0.01)
  })

  it('finds every blunder above 8 σ and accuses no good sighting beyond one', () => {
    const accused = solution.sightings.filter(s => s.status === 'outlier').map(s => s.id)
    expect(accused.filter(id => !truth.blunders.includes(id)).length).toBeLessThanOrEqual(1)
    // All the blunders of these books are above 8 σ: by how much is in the true mount's own words.
    for (const id of truth.blunders) expect(accused).toContain(id)
  })

  it('suspects nothing, as nothing of the kind is wrong', () => {
    expect(solution.suspects).toEqual([])
  })
})
