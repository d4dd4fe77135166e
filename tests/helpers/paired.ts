/**
 * Paired trials: the same station fitted by the method and by a fit that is told which sightings are wrong, both judged
 * over the Moon's path by the true mount. Figures in degrees.
 */
import { studentised } from '../../src/core/fit/reject.ts'
import { skyPoints, variancePart } from '../../src/core/fit/skyerror.ts'
import { builtFor, solveStation } from '../../src/core/fit/solution.ts'
import type { Solved } from '../../src/core/fit/solved.ts'
import type { SightingRecord, StationRecord } from '../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { missesDeg, rmsOf } from './judged.ts'
import {
  checkSky,
  drawScene,
  KINDS,
  type Mix,
  type Scene,
  type SceneWish,
  START_MS,
  sightMany,
  spoil,
} from './simulate.ts'
import { suspectsOf } from './suspects.ts'

export interface Trial {
  seed: number
  kind: string
  n: number
  /** Pointing rms of the method, and of the fit that is told. */
  rmsDeg: number
  toldDeg: number
  /** Stated √mean tr(JCJᵀ) of the method's fit. */
  statedDeg: number
  hpbwDeg: number
  wrong: number
  found: number
  /** Wrong sightings that a fit which knows all the others would itself not put 8 σ away, its own σ included. */
  doubtful: number
  accused: number
  steps: string[]
  otherSuspects: string[]
  misfit: number
  ms: number
}

const NOW_DAYS = 22

/** A scene with n sightings, a share of them plain wrong. */
export function trialScene(seed: number, n: number, share: number, wish: SceneWish = {}, mix: Mix = {}) {
  const scene = drawScene(seed, { kind: KINDS[seed % 4]!, ...wish })
  const sightings = sightMany(scene, n, mix)
  if (sightings.length < n) return null
  const order = sightings.map((_, i) => i)
  for (let i = order.length - 1; i > 0; i--) {
    const j = scene.chance.whole(0, i)
    ;[order[i], order[j]] = [order[j]!, order[i]!]
  }
  const wrong = new Set<string>()
  for (const i of order.slice(0, Math.floor(share * n))) {
    spoil(scene, sightings[i]!)
    wrong.add(sightings[i]!.id)
  }
  return { scene, sightings, wrong }
}

export const fitOf = (record: StationRecord, sightings: SightingRecord[]): Solved =>
  solveStation(stationFromRecord({ ...record, sightings }))

export function judged(scene: Scene, solved: Solved, nowMs: number) {
  const { station } = solved
  const { built, covariance } = builtFor(solved, nowMs, station.feeds[0]!)
  const sky = checkSky(scene, nowMs, 6)
  const points = skyPoints(station, station.feeds[0]!, built, sky)
  const stated = points.map(p => variancePart(p.partials, covariance))
  return {
    misses: missesDeg(scene, nowMs, built, sky),
    statedDeg: (Math.sqrt(stated.reduce((a, x) => a + x, 0) / Math.max(1, stated.length)) * 180) / Math.PI,
  }
}

/** One paired trial; null when the draw gave too few sightings. */
export function trial(seed: number, n: number, share: number, wish: SceneWish = {}, mix: Mix = {}): Trial | null {
  const made = trialScene(seed, n, share, wish, mix)
  if (made === null) return null
  const { scene, sightings, wrong } = made
  const nowMs = START_MS + NOW_DAYS * 86_400_000
  const began = performance.now()
  const robust = fitOf(scene.record, sightings)
  const ms = performance.now() - began
  const told = fitOf(
    scene.record,
    sightings.map(s => ({ ...s, use: wrong.has(s.id) ? ('never' as const) : ('always' as const) })),
  )
  const kept = Float64Array.from(robust.problem.sightings, s => (wrong.has(s.record.id) ? 0 : 1))
  const d2 = studentised(robust.problem, told.fit.values, kept, told.fit.covariance)
  const a = judged(scene, robust, nowMs)
  const b = judged(scene, told, nowMs)
  const both = a.misses.flatMap((x, i) => (x === null || b.misses[i] === null ? [] : [[x, b.misses[i]!] as const]))
  const rejected = robust.problem.sightings.filter((_, k) => robust.fit.kept[k] === 0).map(s => s.record.id)
  const suspects = suspectsOf(robust)
  return {
    seed,
    kind: scene.record.mount.kind,
    n,
    rmsDeg: rmsOf(both.map(x => x[0])),
    toldDeg: rmsOf(both.map(x => x[1])),
    statedDeg: a.statedDeg,
    hpbwDeg: (robust.station.feeds[0]!.hpbw * 180) / Math.PI,
    wrong: wrong.size,
    found: rejected.filter(id => wrong.has(id)).length,
    doubtful: robust.problem.sightings.filter((s, k) => wrong.has(s.record.id) && d2[k]! < 64).length,
    accused: rejected.filter(id => !wrong.has(id)).length,
    steps: suspects.filter(s => s.kind === 'counter-step').map(s => s.text),
    otherSuspects: suspects.filter(s => s.kind !== 'counter-step').map(s => s.text),
    misfit: robust.misfit,
    ms,
  }
}

export interface Pooled {
  stations: number
  /** Pooled rms of the method over pooled rms of the fit that is told, each station in its own beamwidths. */
  ratio: number
  /** Actual over stated error, each station in its own stated σ. */
  coverage: number
  /** Stations whose own ratio is above 1.05, and the worst of them. */
  worse: number
  worst: number
  wrong: number
  missed: number
  accused: number
  sightings: number
  stepsClaimed: number
  msMedian: number
}

export function pooled(trials: readonly Trial[]): Pooled {
  const ratios = trials.map(t => t.rmsDeg / t.toldDeg)
  const sum = (f: (t: Trial) => number) => trials.reduce((a, t) => a + f(t), 0)
  const ms = trials.map(t => t.ms).sort((a, b) => a - b)
  return {
    stations: trials.length,
    ratio: Math.sqrt(sum(t => (t.rmsDeg / t.hpbwDeg) ** 2) / sum(t => (t.toldDeg / t.hpbwDeg) ** 2)),
    coverage: Math.sqrt(sum(t => (t.rmsDeg / t.statedDeg) ** 2) / trials.length),
    worse: ratios.filter(r => r > 1.05).length,
    worst: Math.max(...ratios),
    wrong: sum(t => t.wrong),
    missed: sum(t => t.wrong - t.found),
    accused: sum(t => t.accused),
    sightings: sum(t => t.n),
    stepsClaimed: trials.filter(t => t.steps.length > 0).length,
    msMedian: ms[Math.floor(ms.length / 2)]!,
  }
}

/** `count` trials from consecutive seeds. @param nOf how many sightings a seed's station has */
export function trials(count: number, firstSeed: number, nOf: (seed: number) => number, share: number): Trial[] {
  const out: Trial[] = []
  for (let seed = firstSeed; out.length < count; seed++) {
    const made = trial(seed, nOf(seed), share)
    if (made !== null) out.push(made)
  }
  return out
}
