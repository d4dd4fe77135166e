/**
 * Where the fit starts from: few sightings at a time, so that some start is free of blunders. Each triple gives, by
 * Wahba's problem, the rotation from the mount on paper to the sky; split into swing (the lower axis's displacement) and
 * twist about it (the lower zero), then three Gauss-Newton steps on the triple with priors.
 *
 * A station with changes is taken setup by setup, the largest first: what did not change is carried over.
 */
import { lowerAxisToward, lowerAxisTurn, poseAt } from '../mount/asbuilt.ts'
import type { Family } from '../mount/parameterentry.ts'
import { PARAMETERS } from '../mount/parametertable.ts'
import { trueAngle } from '../mount/readings.ts'
import { SLOT, SLOTS } from '../mount/slots.ts'
import { apply, type Rotation } from '../rotations.ts'
import { cross, dot, type Vec3 } from '../vectors.ts'
import { wahba } from '../wahba.ts'
import {
  chiSquares,
  fewRowsStep,
  normalEquations,
  type Problem,
  priorObjective,
  scalarObjective,
  step,
  UNCLOSED,
} from './map.ts'
import { builtAt, chainsOf, chiIn } from './residuals.ts'
import type { Sighting } from './sighting.ts'

const MOST = 120
const MOST_LATER = 40
/** A residual counts at most this much (d²) in a candidate's score. */
const CAP = 25

/** Fixed-seed generator (mulberry32): the same book gives the same triples. */
function seeded(seed: number): () => number {
  let a = seed
  return () => {
    a = (a + 0x6d2b79f5) | 0
    let t = Math.imul(a ^ (a >>> 15), 1 | a)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

/** Subsets of up to three of the given indices: all if at most `most`, else `most` by a fixed seed. */
function triplesOf(indices: readonly number[], most = MOST): number[][] {
  const n = indices.length
  if (n <= 3) return n === 0 ? [] : [[...indices]]
  if ((n * (n - 1) * (n - 2)) / 6 <= most) {
    const out: number[][] = []
    for (let i = 0; i < n; i++)
      for (let j = i + 1; j < n; j++) for (let k = j + 1; k < n; k++) out.push([indices[i]!, indices[j]!, indices[k]!])
    return out
  }
  const random = seeded(20_260_501)
  const seen = new Set<string>()
  const out: number[][] = []
  while (out.length < most) {
    const pick = new Set<number>()
    while (pick.size < 3) pick.add(Math.floor(random() * n))
    const triple = [...pick].sort((a, b) => a - b)
    const key = triple.join()
    if (seen.has(key)) continue
    seen.add(key)
    out.push(triple.map(i => indices[i]!))
  }
  return out
}

const NOT_OF_A_SETUP: ReadonlySet<Family> = new Set(['feed', 'squint', 'tube', 'play'])
/** The slots of the mount itself: not of feeds, readouts or the tube. */
const SETUP_SLOTS: readonly number[] = [
  ...new Set(PARAMETERS.filter(e => !NOT_OF_A_SETUP.has(e.family)).map(e => SLOT[e.slot])),
  SLOT.lowerShift,
  SLOT.upperShift,
]

/** Sightings between which nothing of the mount itself changed (feeds aside), the largest group first. */
export function setupsOf(sightings: readonly Sighting[]): number[][] {
  const groups = new Map<string, number[]>()
  const keys = new Map<Int16Array, string>()
  sightings.forEach((s, i) => {
    const key = keys.get(s.slots) ?? SETUP_SLOTS.map(slot => s.slots[slot]).join()
    keys.set(s.slots, key)
    const group = groups.get(key)
    if (group) group.push(i)
    else groups.set(key, [i])
  })
  return [...groups.values()].sort((a, b) => b.length - a.length)
}

/** The direction that the mount with these values would have given the target: the line turned by the measured offset. */
function modelledDirection(problem: Problem, s: Sighting, built: Float64Array): Vec3 | null {
  const T = trueAngle(problem.model, built, 'lower', s.record.lower, s.lowerSide)
  const S = trueAngle(problem.model, built, 'upper', s.record.upper, s.upperSide)
  if (T.kind !== 'angle' || S.kind !== 'angle') return null
  const pose = poseAt(problem.model, built, T.angle, S.angle, s.line)
  const angle = Math.hypot(s.right, s.up)
  const k = angle < 1e-9 ? 1 : Math.sin(angle) / angle
  const c = Math.cos(angle)
  const { b, r, u } = pose
  return [
    b[0] * c + (r[0] * s.right + u[0] * s.up) * k,
    b[1] * c + (r[1] * s.right + u[1] * s.up) * k,
    b[2] * c + (r[2] * s.right + u[2] * s.up) * k,
  ]
}

/**
 * Sets the lower axis and the lower zero from a few sightings, where they are free to be set.
 * @param free which parameters may be moved, by index
 */
function attitudeFrom(
  problem: Problem,
  subset: readonly number[],
  values: Float64Array,
  free: (index: number) => boolean,
): void {
  const { paper } = problem.model
  const M = new Array<number>(9).fill(0)
  const built = new Float64Array(SLOTS)
  const first = problem.sightings[subset[0]!]!
  for (const i of subset) {
    const s = problem.sightings[i]!
    builtAt(values, s.slots, built)
    // Paper's own lower axis: the rotation found below is the whole displacement from it.
    built[SLOT.axisA] = 0
    built[SLOT.axisB] = 0
    built[SLOT.lowerZero] = 0
    const m = modelledDirection(problem, s, built)
    if (m === null) return
    for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) M[3 * r + c]! += s.t[r]! * m[c]!
  }
  const A: Rotation = wahba(M)
  const axisA = first.slots[SLOT.axisA]!
  const axisB = first.slots[SLOT.axisB]!
  const zero = first.slots[SLOT.lowerZero]!
  if (free(axisA)) {
    const [a, b] = lowerAxisToward(paper, apply(A, paper.a1))
    values[axisA] = a
    values[axisB] = b
  }
  if (free(zero)) {
    // What is left after the swing is a turn about the lower axis.
    const { R } = lowerAxisTurn(paper, values[axisA]!, values[axisB]!)
    const n = apply(R, paper.a1)
    const v = apply(R, paper.b0)
    const w = apply(A, paper.b0)
    const across = dot(n, cross(v, w))
    const along = dot(v, w) - dot(n, v) * dot(n, w)
    values[zero] = paper.s1 * Math.atan2(across, along)
  }
}

/** A start for the robust fit, with its score. */
export interface ScoredStart {
  values: Float64Array
  score: number
}

/**
 * Σ min(d², 25) + prior and levels, over the sightings of the setups looked at so far.
 * @param atMost once the score is sure to exceed it the sum is not finished: Infinity
 */
function score(problem: Problem, values: Float64Array, members: readonly number[], atMost = Infinity): number {
  const chain = chainsOf(problem.model, values)
  let sum = priorObjective(problem, values) + scalarObjective(problem, values).sum
  for (const i of members) {
    if (!(sum <= atMost)) return Infinity
    const s = problem.sightings[i]!
    const chi = chiIn(chain(s.slots, s.line), s) ?? UNCLOSED
    sum += s.use === 'always' ? chi : Math.min(chi, CAP / s.crowd)
  }
  return Number.isFinite(sum) ? sum : Infinity
}

function threeSteps(problem: Problem, start: Float64Array, weights: Float64Array): Float64Array {
  let values = start
  const rows =
    2 * weights.reduce((a, w) => a + (w > 0 ? 1 : 0), 0) + 2 * problem.levels.length + problem.references.length
  for (let k = 0; k < 3; k++) {
    let next: Float64Array | null
    if (rows < values.length) {
      next = fewRowsStep(problem, values, weights)
    } else {
      const eq = normalEquations(problem, values, weights)
      next = step(problem, values, eq.H, eq.g, 0)?.values ?? null
    }
    if (next === null) return values
    values = next
  }
  return values
}

/** Biweight of a two-coordinate χ²: 1 at 0, 0 from 40 on. */
export const biweight = (d2: number): number => (d2 < 40 ? (1 - d2 / 40) ** 2 : 0)

/** The starts worth refining, best first; at most `keep`. */
export function candidatesOf(problem: Problem, keep = 3): ScoredStart[] {
  const n = problem.sightings.length
  const prior = problem.priorValue.slice()
  if (n === 0) return [{ values: prior, score: 0 }]
  const [main, ...later] = setupsOf(problem.sightings) as [number[], ...number[][]]

  const weights = new Float64Array(n)
  const tryFrom = (
    base: Float64Array,
    subset: readonly number[] | null,
    free: (i: number) => boolean,
    carried: Float64Array,
    members: readonly number[],
    atMost = Infinity,
  ): ScoredStart => {
    const start = base.slice()
    weights.set(carried)
    if (subset !== null) {
      attitudeFrom(problem, subset, start, free)
      for (const i of subset) weights[i] = 1
    }
    const values = threeSteps(problem, start, weights)
    return { values, score: score(problem, values, members, atMost) }
  }
  const best = (list: ScoredStart[], most: number) => list.sort((a, b) => a.score - b.score).slice(0, most)

  const none = new Float64Array(n)
  const all = none.slice()
  for (const i of main) all[i] = 1
  // The mount as the person described it is a start too: a few sightings close together turn Wahba's answer anywhere.
  let found = best(
    [tryFrom(prior, null, () => false, all, main), { values: prior, score: score(problem, prior, main) }],
    keep,
  )
  for (const t of triplesOf(main)) {
    const atMost = found.length < keep ? Infinity : found[keep - 1]!.score
    const one = tryFrom(prior, t, () => true, none, main, atMost)
    if (one.score < atMost || found.length < keep) found = best([...found, one], keep)
  }

  let members = main
  for (const setup of later) {
    const before = members
    members = [...members, ...setup]
    const known = new Set<number>()
    for (const i of before) for (const slot of problem.sightings[i]!.slots) if (slot >= 0) known.add(slot)
    const slots = problem.sightings[setup[0]!]!.slots
    const mayTurn = !known.has(slots[SLOT.axisA]!) || !known.has(slots[SLOT.lowerZero]!)
    const free = (i: number) => !known.has(i)
    found = found.map(candidate => {
      const chi = chiSquares(problem, candidate.values)
      const carried = none.slice()
      for (const i of before) carried[i] = biweight(chi[i]!)
      const tries: ScoredStart[] = [{ values: candidate.values, score: score(problem, candidate.values, members) }]
      for (const t of triplesOf(setup, MOST_LATER)) {
        const start = candidate.values.slice()
        if (mayTurn) tries.push(tryFrom(start, t, free, carried, members))
        tries.push(tryFrom(start, t, () => false, carried, members))
      }
      return best(tries, 1)[0]!
    })
  }
  return best(found, keep)
}
