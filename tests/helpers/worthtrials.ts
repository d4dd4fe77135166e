/**
 * What a plan promises against what it brings: drawn stations, the best step of the plan carried out on the mount as it really is, with the
 * noise that the step states, and the station solved again.
 */
import type { WorthDoingJson, WorthJson } from '../../src/core/plan/worthjson.ts'
import { solve, worth } from '../../src/core/questions.ts'
import type { LevelRecord, StationRecord } from '../../src/core/records/fieldbook.ts'
import { answered } from './answered.ts'
import { bookOf, drawScene, KINDS, type Scene, START_MS, sight, sightMany, truthAt, utcOf } from './simulate.ts'
import { trueLevelDeg } from './truelevels.ts'

const DAY_MS = 86_400_000

/** The plan for a station, of one feed. */
export const planOf = (record: StationRecord, ms: number): WorthDoingJson =>
  answered(worth(bookOf(record), { now: utcOf(ms) }))

/** p95 over the Moon's path, degrees. */
export const p95Of = (record: StationRecord, ms: number): number =>
  answered(solve(bookOf(record), { now: utcOf(ms) })).sky.after.p95Deg

/** The station once a step was taken as it says; null for what a simulated person cannot do. */
export function carriedOut(scene: Scene, record: StationRecord, { step }: WorthJson, ms: number): StationRecord | null {
  const { chance: c } = scene
  if (step.kind === 'level') {
    const base = { id: 'planned', utc: utcOf(ms), sigmaDeg: step.sigmaDeg }
    const noise = () => c.normal(step.sigmaDeg)
    const truth = truthAt(scene, ms)
    const { what, lower, upper } = step
    const level =
      what === 'mast-lean'
        ? { ...base, what, northDeg: truth.leanNorth! + noise(), eastDeg: truth.leanEast! + noise() }
        : {
            ...base,
            what,
            ...(what === 'lower-axis-elevation' ? {} : { lower }),
            ...(what === 'dish-elevation' ? { upper } : {}),
            valueDeg: trueLevelDeg(scene, ms, what, { lower, upper }) + noise(),
          }
    return { ...record, levels: [...(record.levels ?? []), level as LevelRecord] }
  }
  if (step.kind !== 'sighting' || step.method === 'drift-scan') return null
  const at = Date.parse(step.utc)
  const { target, method, sigmaDeg } = step
  const made = sight(scene, { ms: at, target: { type: target }, method, sigmaDeg }, 'planned')
  return made && { ...record, sightings: [...record.sightings, made] }
}

export interface WorthTrial {
  kind: string
  sightings: number
  what: string
  hpbwDeg: number
  beforeDeg: number
  promisedDeg: number
  broughtDeg: number
}

/** One station of n sightings, nine in ten of one day's Sun; null where nothing is offered or it cannot be carried out. */
export function worthTrial(seed: number, n: number): WorthTrial | null {
  const kind = KINDS[seed % 4]!
  const scene = drawScene(seed, { kind })
  const sightings = sightMany(scene, n, { methods: ['signal-peak'], days: seed % 2 === 0 ? 1 : 14 })
  if (sightings.length < n) return null
  const record = { ...scene.record, sightings }
  const now = START_MS + 15 * DAY_MS
  const plan = planOf(record, now)
  const best = plan.steps[0]
  const done = best && carriedOut(scene, record, best, now)
  if (!done) return null
  const { step } = best
  return {
    kind,
    sightings: n,
    what: step.kind === 'level' ? step.what : step.kind === 'sighting' ? `${step.target} ${step.method}` : step.kind,
    hpbwDeg: plan.hpbwDeg,
    beforeDeg: best.beforeDeg,
    promisedDeg: best.afterDeg,
    broughtDeg: p95Of(done, now),
  }
}
