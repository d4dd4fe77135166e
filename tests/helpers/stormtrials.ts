/**
 * Storms over invented stations: what really moved, what was sighted since, and what the check says of it. The truth and its cost
 * over the Moon's sky come from truemount.ts, not from the core's own chain.
 */
import { errorForEchoLoss } from '../../src/core/dish/optics.ts'
import { skyPoints } from '../../src/core/fit/skyerror.ts'
import { builtFor, solveStation } from '../../src/core/fit/solution.ts'
import type { Solved } from '../../src/core/fit/solved.ts'
import type { MeasurementStep } from '../../src/core/plan/measurements.ts'
import { type StormCheck, stormCase, stormCheckOf } from '../../src/core/plan/moved.ts'
import type { StormCase } from '../../src/core/plan/stormcase.ts'
import { type StormPlan, stormPlan } from '../../src/core/plan/stormplan.ts'
import type { MountKind, SightingRecord, StationRecord } from '../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { moonPath } from '../../src/core/sky/moonpath.ts'
import { type Chance, chance } from './random.ts'
import { drawScene, mountAt, type Scene, START_MS, sight, sightMany, utcOf } from './simulate.ts'
import { apartDeg, readoutAngleDeg, type Truth, trueMount } from './truemount.ts'

const DAY = 86_400_000
export const STORM_MS = START_MS + 25 * DAY
const D = Math.PI / 180

export interface Calm {
  scene: Scene
  solved: Solved
  /** Beamwidth and tolerance, degrees. */
  hpbwDeg: number
  toleranceDeg: number
  /** Readings over the Moon's sky. */
  poses: { lower: number; upper: number }[]
}

/** A station sighted for three weeks before. @param share  σ of a peak in beamwidths */
export function calmStation(seed: number, kind: MountKind, share = 0.05, n = 26): Calm {
  const scene = drawScene(seed, { kind, feeds: 1, wild: false })
  const { record } = scene
  const hpbwDeg = (70 * 299.792458) / record.feeds[0]!.frequencyMHz / record.dish.diameterM
  record.sightings = sightMany(scene, n, { days: 21, methods: ['signal-peak', 'signal-peak', 'shadow'] })
  record.sightings = record.sightings
    .map(s =>
      s.method === 'shadow'
        ? s
        : sight(scene, { ms: Date.parse(s.utc), target: s.target, method: s.method, sigmaDeg: share * hpbwDeg }, s.id),
    )
    .filter(s => s !== null)
  const solved = solveStation(stationFromRecord(record))
  const { station } = solved
  const feed = station.feeds[0]!
  const { built } = builtFor(solved, STORM_MS, feed)
  const path = moonPath(station.site, STORM_MS).filter((_, k) => k % 7 === 0)
  const poses = skyPoints(station, feed, built, path).map(p => ({ lower: p.reach.lower, upper: p.reach.upper }))
  return { scene, solved, hpbwDeg, toleranceDeg: errorForEchoLoss(station.tolerance.echoLossDb, feed.hpbw) / D, poses }
}

export interface Storm {
  /** What moved, in the words of the check. */
  kinds: string[]
  truth: Truth
  /** Counts that a jack's counter lost. */
  slip: { lower: number; upper: number }
  /** 95 % of the Moon's sky, degrees, and in tolerances. */
  skyDeg: number
  size: number
}

type Change = {
  kind: string
  by: (unit: number) => { truth?: Truth; slip?: { lower?: number; upper?: number } }
  most: number
}

function changesOf(c: Chance, record: StationRecord): Change[] {
  const { kind } = record.mount
  const feed = record.feeds[0]!.id
  const [cos, sin] = (() => {
    const t = c.between(0, 2 * Math.PI)
    return [Math.cos(t), Math.sin(t)]
  })()
  const s = c.sign()
  const one =
    (id: string, k = s) =>
    (u: number) => ({ truth: { [id]: k * u } })
  const two = (a: string, b: string) => (u: number) => ({ truth: { [a]: cos * u, [b]: sin * u } })
  const lat = record.site.latDeg * D
  const out: Change[] = []
  if (kind === 'el-over-az') out.push({ kind: 'mount', by: two('leanNorth', 'leanEast'), most: 20 })
  if (kind === 'ha-dec') {
    out.push({ kind: 'mount', by: two('poleEast', 'poleUp'), most: 20 })
    out.push({
      kind: 'mount',
      by: u => ({ truth: { poleEast: s * Math.cos(lat) * u, lowerZero: s * Math.sin(lat) * u } }),
      most: 25,
    })
  }
  if (kind === 'az-over-el' || kind === 'x-y') {
    out.push({ kind: 'mount', by: one('heading'), most: 25 })
    out.push({ kind: 'mount', by: one('level'), most: 15 })
    out.push({ kind: 'mount', by: two('heading', 'level'), most: 15 })
  }
  for (const axis of ['lower', 'upper'] as const) {
    const jack = record.mount[axis].readout.type === 'jack'
    if (jack) {
      const mid = (record.mount[axis].minReading + record.mount[axis].maxReading) / 2
      const per = Math.abs(readoutAngleDeg(record, axis, mid + 1) - readoutAngleDeg(record, axis, mid))
      out.push({ kind: `${axis}-zero`, by: u => ({ slip: { [axis]: Math.round((s * u) / per) } }), most: 20 })
    } else out.push({ kind: `${axis}-zero`, by: one(`${axis}Zero`), most: 20 })
  }
  out.push({ kind: 'dish', by: one('collimation'), most: 6 })
  out.push({ kind: 'dish', by: one('sag', 1), most: 1 })
  out.push({ kind: 'feed', by: two(`feedRight:${feed}`, `feedUp:${feed}`), most: 80 })
  out.push({ kind: 'feed', by: one(`feedDroop:${feed}`, 1), most: 15 })
  out.push({ kind: 'beam', by: two(`squintRight:${feed}`, `squintUp:${feed}`), most: 2 })
  return out
}

/** 95 % of the Moon's sky misses by less: the beam before and after, at the same readings. */
function skyOf(calm: Calm, truth: Truth, slip: { lower: number; upper: number }): number {
  const { record } = calm.scene
  const before = mountAt(calm.scene, STORM_MS - 1)
  const after = trueMount(record, truth)
  const feed = record.feeds[0]!.id
  const all = calm.poses
    .map(p => {
      const now = after.pose(p.lower + slip.lower, p.upper + slip.upper, 'beam', feed)
      return apartDeg(before.pose(p.lower, p.upper, 'beam', feed).b, now.b)
    })
    .filter(Number.isFinite)
    .sort((a, b) => a - b)
  return all[Math.ceil(0.95 * all.length) - 1] ?? 0
}

/** @param c  chance @param still  nothing moves */
export function drawStorm(c: Chance, calm: Calm, still: boolean): Storm {
  const { record } = calm.scene
  const truth: Truth = { ...mountAt(calm.scene, STORM_MS - 1).truth }
  const slip = { lower: 0, upper: 0 }
  if (still) return { kinds: [], truth, slip, skyDeg: 0, size: 0 }
  const n = c.next() < 0.15 ? 2 : 1
  const kinds: string[] = []
  while (kinds.length < n) {
    const change = c.one(changesOf(c, record))
    if (kinds.includes(change.kind)) continue
    kinds.push(change.kind)
    // From a third of the tolerance to thirty of it, evenly in the logarithm: most are seen by the way, some just are not.
    const wanted = calm.toleranceDeg * Math.exp(c.between(Math.log(0.3), Math.log(30)))
    const merged = (u: number) => {
      const { truth: t = {}, slip: z = {} } = change.by(u)
      const next = { ...truth }
      for (const [id, x] of Object.entries(t)) next[id] = (next[id] ?? 0) + x
      return { truth: next, slip: { lower: slip.lower + (z.lower ?? 0), upper: slip.upper + (z.upper ?? 0) } }
    }
    const unit = merged(1)
    const per = Math.max(1e-6, n === 1 ? skyOf(calm, unit.truth, unit.slip) : calm.toleranceDeg)
    const done = merged(Math.min(change.most, n === 1 ? wanted / per : c.between(0.1, change.most / 2)))
    Object.assign(truth, done.truth)
    Object.assign(slip, done.slip)
  }
  const skyDeg = skyOf(calm, truth, slip)
  return { kinds, truth, slip, skyDeg, size: skyDeg / calm.toleranceDeg }
}

/** Sightings after the storm, by an honest observer who reads a counter that has slipped. */
export function since(
  calm: Calm,
  storm: Storm,
  wishes: readonly { ms: number; target: 'sun' | 'moon'; method: 'signal-peak' | 'shadow'; sigmaDeg?: number }[],
  prefix = 'x',
): SightingRecord[] {
  const scene: Scene = { ...calm.scene, truths: [...calm.scene.truths, { fromMs: STORM_MS, truth: storm.truth }] }
  delete scene.cache
  return wishes.flatMap((w, k) => {
    const made = sight(
      scene,
      {
        ms: w.ms,
        target: { type: w.target },
        method: w.method,
        lowestDeg: 8,
        ...(w.sigmaDeg === undefined ? {} : { sigmaDeg: w.sigmaDeg }),
      },
      `${prefix}${k}`,
    )
    if (made === null) return []
    return [{ ...made, lower: made.lower - storm.slip.lower, upper: made.upper - storm.slip.upper }]
  })
}

/** Instants from the storm on at which the Sun can be sighted, `apartH` hours apart. */
export function sunTimes(calm: Calm, n: number, apartH: number): number[] {
  const still = drawStorm(chance(1), calm, true)
  const out: number[] = []
  for (let k = 0; out.length < n && k < 96; k++) {
    const ms = STORM_MS + k * 1_800_000
    if (out.length > 0 && ms - out[out.length - 1]! < apartH * 3_600_000) continue
    if (since(calm, still, [{ ms, target: 'sun', method: 'signal-peak', sigmaDeg: 0.01 }]).length === 1) out.push(ms)
  }
  return out
}

export interface Said {
  check: StormCheck
  case: StormCase
}

export function said(calm: Calm, list: readonly SightingRecord[]): Said | null {
  const record = { ...calm.scene.record, sightings: [...calm.scene.record.sightings, ...list] }
  const { solved } = calm
  const c = stormCase(solved, record, solved.station.feeds[0]!, STORM_MS)
  return c === null ? null : { check: stormCheckOf(c), case: c }
}

const wishOf = (s: MeasurementStep) =>
  s.kind === 'sighting' && (s.method === 'signal-peak' || s.method === 'shadow')
    ? [{ ms: s.utcMs, target: s.target, method: s.method, sigmaDeg: s.sigma / D }]
    : []

/** One peak and a shadow, then what the plan asks for, at most three times. */
export function asPlanned(
  calm: Calm,
  storm: Storm,
  share: number,
  rounds = 3,
): { said: Said; sightings: number; plan: StormPlan | null } | null {
  const [first] = sunTimes(calm, 1, 1)
  if (first === undefined) return null
  const list = since(calm, storm, [
    { ms: first, target: 'sun', method: 'signal-peak', sigmaDeg: share * calm.hpbwDeg },
    { ms: first + 60_000, target: 'sun', method: 'shadow' },
  ])
  let now = first + 600_000
  let answer = said(calm, list)
  let plan: StormPlan | null = null
  for (let k = 0; k < rounds && answer?.check.verdict === 'cannot-tell'; k++) {
    plan = stormPlan(answer.case, now)
    const more = since(calm, storm, plan.steps.flatMap(wishOf), `p${k}`)
    if (more.length === 0) break
    list.push(...more)
    now = Math.max(...list.map(s => Date.parse(s.utc))) + 600_000
    answer = said(calm, list)
  }
  return answer === null ? null : { said: answer, sightings: list.length, plan }
}

export { utcOf }
