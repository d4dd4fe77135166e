/**
 * Which cause explains best what was measured since a storm: each fitted alone, made linear again where it leads; two together where one
 * does not do; one wrong sighting as a rival of them all. Compared by how likely they make the data, so that more freedom costs. Radians.
 */
import { chiSquare99 } from '../chance.ts'
import { trueAngle } from '../mount/readings.ts'
import { lowerAxisIds, SLOT } from '../mount/slots.ts'
import { countsSteps } from '../readout/readout.ts'
import type { ParameterId } from '../records/fieldbook.ts'
import type { Rad } from '../units.ts'
import type { StormCase } from './stormcase.ts'
import { AS_IT_WAS, type CauseKind, type MoveByWay, type MoveWay, moveOf, READING } from './stormmoves.ts'
import { type Pass, passOver } from './stormrows.ts'
import { type CauseEvidence, type CauseSky, causeEvidence, p95Of } from './stormsky.ts'

/** One parameter of what moved. `counts`: by how much the axis's reading is off now, + shows too much. */
export interface Changed {
  id: ParameterId
  change: number
  sigma: number
  counts: number | null
}

export interface MoveExplanation {
  kinds: readonly CauseKind[]
  changed: Changed[]
  /** The move by way, for what parts one explanation from another. */
  move: MoveByWay
  /** What a move of that size costs, 95 % of the Moon's sky. */
  sky: Rad
  /** χ² that it leaves. */
  leftChi2: number
  /** 2 ln of how likely it makes the data, against nothing moved; the greater the better. */
  evidence: number
}

/** Δχ² beyond which something moved, by freedom: set by the study for 1 still station in 100. */
const MOVED_BY = [0, 12.5, 15.5, 18, 20, 22]
/** χ² of the whole that chance hardly reaches: this many times what it exceeds once in a hundred. */
const SELDOM = 1.25
/** What chance exceeds once in a hundred, for few rows; chiSquare99 begins at 4. */
const CHI_99 = [0, 6.63, 9.21, 11.34]
export const chi99 = (n: number): number => CHI_99[n] ?? chiSquare99(n)

/** More than chance does: as a whole, or along one cause. */
export function isMoveSeen(c: StormCase, pass: Pass): boolean {
  if (pass.n === 0) return false
  if (pass.chi2 > SELDOM * chi99(pass.n)) return true
  return c.causes.single.some(cause => causeEvidence(cause, pass).deltaChi2 > MOVED_BY[cause.ways.length]!)
}

/** Evidence apart by less than this: rivals (33 to 1). */
export const RIVAL = 7
/** Two moves at once are believed only with this much more evidence. */
const TWO = 9
/** What one wrong sighting costs as an explanation: as much as two free parameters. */
const ODD = 12

interface Tried {
  sky: CauseSky
  told: CauseEvidence
  leftChi2: number
  evidence: number
}

/** A storm's own σ bounds what may hide; a real move may be larger: σ is tried at these multiples, and the wider one costs evidence. */
const WIDER = [1, 4, 16]

/** A cause fitted, made linear again where it leads. */
function tryCause(c: StormCase, sky: CauseSky): Tried {
  const all = WIDER.map(k => tryWide(c, sky, k))
  return all.reduce((a, b) => (b.evidence > a.evidence ? b : a))
}

function tryWide(c: StormCase, sky: CauseSky, wider: number): Tried {
  const cause = { ...sky.cause, ways: sky.cause.ways.map(w => ({ ...w, sigma: w.sigma * wider })) }
  let pass = c.pass
  let told = causeEvidence(cause, pass)
  const own = [...new Set(cause.ways.flatMap(w => w.parts.map(([way]) => way)))]
  for (let k = 0; k < 5; k++) {
    const next = passOver(c.solved, c.measured, moveOf(cause, told.by), own)
    if (next === null) break
    pass = next
    const better = causeEvidence(cause, pass)
    const moved = Math.max(...cause.ways.map((w, i) => Math.abs(better.by[i]! - told.by[i]!) / w.sigma))
    told = better
    if (moved < 1e-4) break
  }
  const leftChi2 = Math.max(0, pass.chi2 - told.deltaChi2)
  return { sky, told, leftChi2, evidence: c.pass.chi2 - leftChi2 - (told.deltaChi2 - told.evidence) }
}

const keyOf = (t: Tried): string => [...t.sky.cause.kinds].sort().join()

/** What explains a move that shows. */
export interface Explained {
  /** Best first, then those that explain it about as well. */
  explanations: MoveExplanation[]
  isExplained: boolean
  odd: { id: string; evidence: number } | null
}

export function explain(c: StormCase): Explained {
  const byEvidence = (a: Tried, b: Tried): number => b.evidence - a.evidence
  const rowsLeft = (t: Tried): number => Math.max(1, c.pass.n - t.sky.cause.ways.length)
  const ones = c.single.map(s => tryCause(c, s)).sort(byEvidence)
  let tried = ones
  if (ones[0]!.leftChi2 > chi99(rowsLeft(ones[0]!))) {
    const twos = c.double.map(s => tryCause(c, s)).sort(byEvidence)
    if (twos[0]!.evidence > ones[0]!.evidence + TWO) tried = [...twos, ...ones].sort(byEvidence)
  }
  const best = tried[0]!
  const seen = new Set<string>()
  const named = tried.filter(t => {
    if (seen.has(keyOf(t)) || t.evidence < best.evidence - RIVAL) return false
    seen.add(keyOf(t))
    return true
  })
  return {
    explanations: named.map(t => explanationOf(c, t)),
    isExplained: best.leftChi2 <= SELDOM * chi99(rowsLeft(best)),
    odd: oddOne(c),
  }
}

/** The one measurement without which nothing is left to explain. @param fewest  measurements that there must be */
export function oddOne(c: StormCase, fewest = 3): { id: string; evidence: number } | null {
  if (c.measured.length < fewest) return null
  let best: { id: string; evidence: number } | null = null
  for (const m of c.measured) {
    const others = c.measured.filter(x => x !== m)
    const rest = passOver(c.solved, others, AS_IT_WAS)
    if (rest === null || rest.chi2 > chi99(rest.n) || isMoveSeen(c, rest)) continue
    const evidence = c.pass.chi2 - rest.chi2 - ODD
    if (best === null || evidence > best.evidence) best = { id: m.id, evidence }
  }
  return best
}

function explanationOf(c: StormCase, { sky, told, leftChi2, evidence }: Tried): MoveExplanation {
  const { cause } = sky
  const d = cause.ways.length
  return {
    kinds: cause.kinds,
    changed: cause.ways.map((w, i) => changedOf(c, w, told.by[i]!, Math.sqrt(told.covariance.a[i * d + i]!))),
    move: moveOf(cause, told.by),
    sky: p95Of(sky, told.by),
    leftChi2,
    evidence,
  }
}

const BY_SLOT = new Map<number, ParameterId>(
  (Object.entries(SLOT) as [ParameterId | 'axisA' | 'axisB', number][])
    .filter(([id]) => id !== 'axisA' && id !== 'axisB')
    .map(([id, slot]) => [slot, id as ParameterId]),
)

function changedOf(c: StormCase, way: MoveWay, change: number, sigma: number): Changed {
  const { model } = c.solved.station
  const at = way.parts[0]![0]
  if (way.name === 'turn') return { id: 'heading', change, sigma, counts: null }
  if (at === SLOT.axisA || at === SLOT.axisB)
    return { id: lowerAxisIds(model.kind)[at === SLOT.axisA ? 0 : 1], change, sigma, counts: null }
  if (way.name !== 'zero' && way.name !== 'reading') return { id: BY_SLOT.get(at)!, change, sigma, counts: null }
  const axis = at === READING.lower || at === SLOT.lowerZero ? 'lower' : 'upper'
  // Where the axis stood at the sighting: the angle that a jack's count is worth depends on it.
  const seen = c.measured.find(m => m.kind === 'sighting')
  const { minReading, maxReading } = model[axis]
  const reading = seen?.kind === 'sighting' ? seen.sighting.record[axis] : (minReading + maxReading) / 2
  const t = trueAngle(model, c.built, axis, reading)
  const per = t.kind === 'angle' && countsSteps(model[axis].readout) ? t.perReading : 0
  const id = axis === 'lower' ? 'lowerZero' : 'upperZero'
  // The true angle is larger than read: the counter shows too little.
  if (way.name === 'reading') return { id, change: change * per, sigma: sigma * Math.abs(per), counts: -change }
  return { id, change, sigma, counts: per === 0 ? null : -change / per }
}
