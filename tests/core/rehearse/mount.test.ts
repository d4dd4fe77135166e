/**
 * The rehearsal's mount against the books simulated outside the project (tests/examples/README.md: astropy, ERFA, the written
 * equations), and against the solver's own chain, of which it shares no line.
 */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type Line, poseAt } from '../../../src/core/mount/asbuilt.ts'
import { trueAngle } from '../../../src/core/mount/readings.ts'
import type { FieldBook } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { aimed } from '../../../src/core/rehearse/aimed.ts'
import { type Truth, trueMount } from '../../../src/core/rehearse/mount.ts'
import { apartDeg, type V3 } from '../../../src/core/rehearse/turning.ts'
import { builtFromTruth, drawScene, KINDS } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'

interface TruthFile {
  par: Truth
  feed: string
  rows: { utc: string; enu: V3; lower: number; upper: number }[]
}
const read = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../examples/${name}`, import.meta.url), 'utf8'))
const NAMES = ['azel-wild-heading', 'blunders', 'bolts-turned', 'equatorial-south', 'tilting-polar', 'two-jacks']

describe.each(NAMES)('the mount of the outside example %s', name => {
  const record = (read(`${name}.fieldbook.json`) as FieldBook).stations[0]!
  const truth = read(`${name}.truth.json`) as TruthFile
  const mount = trueMount(record, truth.par)

  it('puts its beam where the example puts it, within the 0.001° of the rounded readings', () => {
    for (const row of someOf(truth.rows))
      expect(apartDeg(mount.pose(row.lower, row.upper, 'beam', truth.feed).b, row.enu)).toBeLessThan(0.001)
  })

  it('is aimed at those directions by the readings that the example gives, within 0.001° on the sky', () => {
    for (const row of someOf(truth.rows)) {
      const at = aimed(mount, 'beam', truth.feed, row.enu)
      expect(at).not.toBeNull()
      expect(apartDeg(mount.pose(at!.lower, at!.upper, 'beam', truth.feed).b, row.enu)).toBeLessThan(1e-6)
      expect(at!.lower).toBeCloseTo(row.lower, 1)
      expect(at!.upper).toBeCloseTo(row.upper, 1)
    }
  })
})

describe("the rehearsal's mount and the solver's chain", () => {
  const lines: readonly Line[] = ['beam', 'shadow', 'tube', 'boresight']
  it.each(KINDS)('point the same way to 1e-7° over random mounts of %s', kind => {
    let seen = 0
    for (let seed = 1; seed <= 12; seed++) {
      const scene = drawScene(seed, { kind })
      const { record, chance: c } = scene
      const { truth } = scene.truths[0]!
      const mount = trueMount(record, truth)
      const { model } = stationFromRecord(record)
      const built = builtFromTruth(record, truth)
      for (let k = 0; k < 6; k++) {
        const lower = c.between(record.mount.lower.minReading, record.mount.lower.maxReading)
        const upper = c.between(record.mount.upper.minReading, record.mount.upper.maxReading)
        const line = lines[k % 4]!
        const T = trueAngle(model, built, 'lower', lower)
        const S = trueAngle(model, built, 'upper', upper)
        const mine = mount.pose(lower, upper, line)
        // A jack at the end of its stroke may lie outside the triangle that its true arms close: then for both.
        if (T.kind !== 'angle' || S.kind !== 'angle') {
          expect(mine.b[0]).toBeNaN()
          continue
        }
        const theirs = poseAt(model, built, T.angle, S.angle, line)
        seen++
        expect(apartDeg(mine.b, theirs.b)).toBeLessThan(1e-7)
        expect(apartDeg(mine.u, theirs.u)).toBeLessThan(1e-7)
      }
    }
    expect(seen).toBeGreaterThan(60)
  })
})
