/**
 * Stations whose upper jack nobody taped: both arms 15 % off one way or the other, the angle at the pivot anywhere within some tens of
 * degrees. Solved from simulated sightings, then the mount as it really is (truemount.ts) given the solved readings over
 * the Moon's path. Degrees.
 */
import { skyError } from '../../src/core/fit/skyerror.ts'
import { builtFor, solveStation } from '../../src/core/fit/solution.ts'
import { SLOT, SLOTS } from '../../src/core/mount/slots.ts'
import type { StationRecord } from '../../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../../src/core/records/intake.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { moonPath } from '../../src/core/sky/moonpath.ts'
import { chance } from './random.ts'
import { bookOf, drawScene, mountAt, roundReading, START_MS, sightMany } from './simulate.ts'
import { apartDeg } from './truemount.ts'

const NOW = START_MS + 22 * 86_400_000

export interface GuessTrial {
  /** The 95th percentile over the Moon's path: as stated with nine chances in ten, and as it is. */
  statedDeg: number
  trueDeg: number
  /** Longer and shorter arm as solved less as it is, in σ as stated: the law is the same with the two changed round. */
  pulls: [longer: number, shorter: number]
  used: number
}

const GUESSED = {
  'mount.upper.readout.baseArmMm': true,
  'mount.upper.readout.rodArmMm': true,
  'mount.upper.readout.phiAtAngleZeroDeg': true,
} as const

/** @param marked  the station says that they are guesses; null where the draw gave no such station */
export function guessTrial(seed: number, n: number, marked: boolean): GuessTrial | null {
  const c = chance(seed + 5000)
  const scene = drawScene(seed, { kind: c.one(['az-over-el', 'ha-dec', 'x-y'] as const), upper: 'jack', wild: false })
  const truth = scene.record.mount.upper.readout
  if (truth.type !== 'jack') return null
  const sightings = sightMany(scene, n)
  if (sightings.length < n) return null
  const record: StationRecord = structuredClone({ ...scene.record, sightings })
  const { readout } = record.mount.upper
  if (readout.type !== 'jack') return null
  readout.baseArmMm *= 1 + 0.15 * c.sign()
  readout.rodArmMm *= 1 + 0.15 * c.sign()
  readout.phiAtAngleZeroDeg += c.normal(25, 2)
  if (marked) record.guesses = { ...GUESSED }
  if (checkFieldBook(bookOf(record)).length > 0) return null
  const solved = solveStation(stationFromRecord(record))
  const feed = solved.station.feeds[0]!
  const { built, covariance } = builtFor(solved, NOW, feed)
  const sky = skyError(solved.station, feed, built, covariance, moonPath(solved.station.site, NOW))
  if (sky.points.length < 60) return null
  const mount = mountAt(scene, NOW)
  const miss = sky.points
    .map(p => {
      const [lower, upper] = (['lower', 'upper'] as const).map(axis => roundReading(record, axis, p.reach[axis]))
      return apartDeg(mount.pose(lower!, upper!, 'beam', feed.id).b, p.moon.direction)
    })
    .map(x => (Number.isFinite(x) ? x : 180))
    .sort((a, b) => a - b)
  const was = scene.truths[0]!.truth
  const solvedArms = (
    [
      ['Base', readout.baseArmMm],
      ['Rod', readout.rodArmMm],
    ] as const
  )
    .map(([arm, paper]) => {
      const slot = SLOT[`upper${arm}Arm`]
      return { mm: paper + built[slot]!, sigma: Math.sqrt(covariance[slot * SLOTS + slot]!) }
    })
    .sort((a, b) => b.mm - a.mm)
  const arms = [truth.baseArmMm + (was.upperBaseArm ?? 0), truth.rodArmMm + (was.upperRodArm ?? 0)].sort(
    (a, b) => b - a,
  )
  const pull = (k: 0 | 1): number => (solvedArms[k]!.mm - arms[k]!) / solvedArms[k]!.sigma
  return {
    statedDeg: (sky.after.p95 * 180) / Math.PI,
    trueDeg: miss[Math.ceil(0.95 * miss.length) - 1]!,
    pulls: [pull(0), pull(1)],
    used: solved.fit.kept.reduce((a: number, k: number) => a + k, 0),
  }
}
