/**
 * Whether the sky number holds: drawn stations solved from their sightings, levels and changes, then the mount as it really
 * is (truemount.ts) given the solved readings over the Moon's path, with whole counts, play and floor as they fall. Degrees.
 */
import { skyError } from '../../src/core/fit/skyerror.ts'
import { builtFor, solveStation } from '../../src/core/fit/solution.ts'
import { SLOT } from '../../src/core/mount/slots.ts'
import type { Axis, ChangeRecord, LevelRecord, Method } from '../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { moonPath } from '../../src/core/sky/moonpath.ts'
import { drawScene, drawTruth, KINDS, mountAt, type Scene, START_MS, sightMany, spoil, utcOf } from './simulate.ts'
import { dishLevels, trueLevelDeg } from './truelevels.ts'
import { apartDeg } from './truemount.ts'

const D = Math.PI / 180
const DAY_MS = 86_400_000
const NOW = START_MS + 22 * DAY_MS

export interface SkyTrial {
  seed: number
  kind: string
  n: number
  hasChange: boolean
  hasLevels: boolean
  /** Share of the sightings that the fit set aside. */
  aside: number
  /** Wrong ones that it kept, good ones that it set aside. */
  missed: number
  accused: number
  statedDeg: number
  typicalDeg: number
  statedWorstDeg: number
  trueDeg: number
  trueWorstDeg: number
  beforeDeg: number
  trueBeforeDeg: number
}

const METHODS: readonly (readonly Method[])[] = [
  ['signal-peak', 'signal-peak', 'signal-peak', 'shadow'],
  ['signal-peak'],
  ['signal-peak', 'shadow', 'optical', 'cross-scan'],
]

/** A change half-way: what it names is drawn again for the time after it. */
function changed(scene: Scene): ChangeRecord {
  const c = scene.chance
  const { record } = scene
  const [what, ids] = c.one<[string, RegExp]>([
    ['lower-axis', /^(lean|pole|level|heading)/],
    ['lower-zero', /^lowerZero/],
    ['upper-zero', /^upperZero/],
    ['dish', /^(collimation|squareness|sag)/],
    ['feed:a', /^(feed|squint)/],
  ])
  const fromMs = START_MS + 11 * DAY_MS
  const old = scene.truths[0]!.truth
  const drawn = drawTruth(c, structuredClone(record), false)
  const isWhat = (key: string) => ids.test(key)
  const truth = Object.fromEntries(
    Object.entries(old).map(([k, v]) => [k, isWhat(k) ? (k === 'heading' ? v + c.normal(7, 2) : drawn[k]!) : v]),
  )
  scene.truths.push({ fromMs, truth })
  return { id: 'change', utc: utcOf(fromMs), what: [what] }
}

const percentile = (x: readonly number[], share: number): number =>
  [...x].sort((a, b) => a - b)[Math.ceil(share * x.length) - 1]!

/** One station; null when the draw gave too few sightings or no sky. @param wrong  share of the sightings plain wrong */
export function skyTrial(seed: number, n: number, wrong: number): SkyTrial | null {
  const scene = drawScene(seed, { kind: KINDS[seed % 4]! })
  const c = scene.chance
  const { record } = scene
  const change = seed % 3 === 0 ? changed(scene) : null
  const hasSides = seed % 5 === 0
  const sightings = sightMany(scene, n, { methods: METHODS[seed % 7 === 0 ? 2 : seed % 2]!, play: hasSides })
  if (sightings.length < n) return null
  const spoilt = new Set<string>()
  for (const s of sightings.toSorted(() => c.next() - 0.5).slice(0, Math.floor(wrong * n))) {
    spoil(scene, s)
    spoilt.add(s.id)
  }
  const hasLevels = c.next() < 0.4
  const levels: LevelRecord[] = hasLevels ? dishLevels(scene, NOW, 2, 0.3) : []
  if (hasLevels && record.mount.kind !== 'el-over-az') {
    const what = 'lower-axis-elevation'
    levels.push({
      id: 'axis',
      utc: utcOf(NOW),
      what,
      valueDeg: trueLevelDeg(scene, NOW, what) + c.normal(0.2),
      sigmaDeg: 0.2,
    })
  }
  const floorDeg = seed % 4 === 1 ? 0.1 : undefined
  const station = stationFromRecord({
    ...record,
    sightings,
    levels,
    ...(change && { changes: [change] }),
    ...(floorDeg !== undefined && { tolerance: { floorDeg } }),
  })
  const solved = solveStation(station)
  const feed = solved.station.feeds[0]!
  const { built, covariance } = builtFor(solved, NOW, feed)
  const sky = skyError(solved.station, feed, built, covariance, moonPath(station.site, NOW))
  if (sky.points.length < 60) return null
  const mount = mountAt(scene, NOW)
  const isTold = (axis: Axis) => built[axis === 'lower' ? SLOT.lowerPlay : SLOT.upperPlay] !== 0
  const missAt = (at: { lower: number; upper: number }, t: readonly [number, number, number]): number => {
    const read = (axis: Axis) => {
      const counts = record.mount[axis].readout.type !== 'degrees' && floorDeg === undefined
      return counts ? Math.round(at[axis]) : at[axis]
    }
    const side = (axis: Axis) => (isTold(axis) && floorDeg === undefined ? { [axis]: c.one(['+', '-'] as const) } : {})
    const pose = mount.pose(read('lower'), read('upper'), 'beam', feed.id, { ...side('lower'), ...side('upper') })
    const miss = apartDeg(pose.b, t)
    const f = floorDeg ?? 0
    return Math.hypot(miss + c.normal(f / Math.SQRT2), c.normal(f / Math.SQRT2))
  }
  const after = sky.points.map(p => missAt(p.reach, p.moon.direction)).map(x => (Number.isFinite(x) ? x : 180))
  const rejected = solved.problem.sightings.filter((_, k) => solved.fit.kept[k] === 0).map(s => s.record.id)
  return {
    seed,
    kind: record.mount.kind,
    n,
    hasChange: change !== null,
    hasLevels,
    aside: rejected.length / n,
    missed: spoilt.size - rejected.filter(id => spoilt.has(id)).length,
    accused: rejected.filter(id => !spoilt.has(id)).length,
    statedDeg: sky.after.p95 / D,
    typicalDeg: sky.after.p95Typical / D,
    statedWorstDeg: sky.after.worst / D,
    trueDeg: percentile(after, 0.95),
    trueWorstDeg: Math.max(...after),
    beforeDeg: sky.before.p95 / D,
    trueBeforeDeg: Number.NaN,
  }
}

/** `count` trials from consecutive seeds. */
export function skyTrials(count: number, firstSeed: number, nOf: (seed: number) => number, wrong: number): SkyTrial[] {
  const out: SkyTrial[] = []
  for (let seed = firstSeed; out.length < count; seed++) {
    const made = skyTrial(seed, nOf(seed), wrong)
    if (made !== null) out.push(made)
  }
  return out
}

export interface Held {
  stations: number
  /** Shares in which the truth was below what was stated: to be 0.9, 0.5, 0.9. */
  p95: number
  typical: number
  worst: number
  /** Median of stated over true p95: what the confidence costs. */
  ratio: number
}

export function held(trials: readonly SkyTrial[]): Held {
  const share = (is: (t: SkyTrial) => boolean) =>
    Number((trials.filter(is).length / Math.max(1, trials.length)).toFixed(3))
  return {
    stations: trials.length,
    p95: share(t => t.trueDeg <= t.statedDeg),
    typical: share(t => t.trueDeg <= t.typicalDeg),
    worst: share(t => t.trueWorstDeg <= t.statedWorstDeg),
    ratio:
      trials.length === 0
        ? 0
        : Number(
            percentile(
              trials.map(t => t.statedDeg / t.trueDeg),
              0.5,
            ).toFixed(2),
          ),
  }
}
