/** The check after a storm as JSON: degrees, millimetres, readings, UTC text; with what to do next. */
import type { Solved } from '../fit/solved.ts'
import { unitOf } from '../mount/parameters.ts'
import type { ParameterId, StationRecord } from '../records/fieldbook.ts'
import type { Feed } from '../records/station.ts'
import { degFromRad, type UtcMs } from '../units.ts'
import { type StormCheck, type StormVerdict, stormCase, stormCheckOf, type Untold } from './moved.ts'
import { type StepJson, stepJson } from './stepjson.ts'
import type { StormCase } from './stormcase.ts'
import type { MoveExplanation } from './stormcauses.ts'
import type { CauseKind } from './stormmoves.ts'
import { type StormPlan, settling, stormPlan } from './stormplan.ts'

const deg = degFromRad

export interface ChangedJson {
  id: ParameterId
  /** Degrees or millimetres. */
  change: number
  sigma: number
  unit: 'deg' | 'mm'
  /** By how many counts the axis shows too much now; null where it is read in degrees. */
  counts: number | null
}

export interface ExplanationJson {
  kinds: readonly CauseKind[]
  changed: ChangedJson[]
  /** What it costs, 95 % of the Moon's sky, and whether that is below the tolerance. */
  skyDeg: number
  isSmall: boolean
  leftChi2: number
  /** What a record of the change would name. */
  what: string[]
}

export interface StormCheckJson {
  verdict: StormVerdict
  why: Untold | null
  toleranceDeg: number
  /** A move that may still hide costs less than this. */
  atMostDeg: number
  weakest: CauseKind
  standsOut: number
  explanations: ExplanationJson[]
  isExplained: boolean
  odd: string | null
  found: {
    id: string
    kind: 'sighting' | 'level' | 'mark'
    chi2: number
    rows: number
    miss: { rightDeg: number; upDeg: number; sigmaRightDeg: number; sigmaUpDeg: number } | null
  }[]
  /** What to do next, in order of time: what would tell, or what separates the first two explanations. */
  next: StepJson[]
  /** All of it would be enough. */
  isEnough: boolean
  /** How many steps are enough with peaks by equal levels on both sides, where that is fewer. */
  sharper: { steps: number; sigmaDeg: number } | null
}

/** The names in a record of a change. The beam away from the boresight is a parameter of its feed. */
function whatOf(kinds: readonly CauseKind[], feed: string): string[] {
  const names: Record<CauseKind, string> = {
    mount: 'lower-axis',
    'lower-zero': 'lower-zero',
    'upper-zero': 'upper-zero',
    'lower-jack': 'lower-readout',
    'upper-jack': 'upper-readout',
    dish: 'dish',
    feed: `feed:${feed}`,
    beam: `feed:${feed}`,
    tube: 'tube',
  }
  return [...new Set(kinds.map(k => names[k]))]
}

function explanationJson(e: MoveExplanation, check: StormCheck, feed: string): ExplanationJson {
  const zero = e.changed.some(c => c.id === 'lowerZero')
  return {
    kinds: e.kinds,
    changed: e.changed.map(c => {
      const isMm = unitOf(c.id) === 'mm'
      const out = (x: number): number => (isMm ? x : deg(x))
      return { id: c.id, change: out(c.change), sigma: out(c.sigma), unit: isMm ? 'mm' : 'deg', counts: c.counts }
    }),
    skyDeg: deg(e.sky),
    isSmall: e.sky < check.tolerance,
    leftChi2: e.leftChi2,
    // A mount that leaned along its lower axis has turned the zero with it.
    what: [
      ...whatOf(e.kinds, feed),
      ...(zero && e.kinds.includes('mount') && !e.kinds.includes('lower-zero') ? ['lower-zero'] : []),
    ],
  }
}

export function stormCheckJson(
  solved: Solved,
  record: StationRecord,
  feed: Feed,
  since: UtcMs,
  now: UtcMs,
): StormCheckJson | null {
  const c = stormCase(solved, record, feed, since)
  return c === null ? null : checkOut(c, stormCheckOf(c), feed, now)
}

/** @param now  from when on something more can be done */
export function checkOut(c: StormCase, check: StormCheck, feed: Feed, now: UtcMs): StormCheckJson {
  const isOpen = check.verdict === 'cannot-tell' && (check.why === 'unseen' || check.why === 'loose-before')
  const plan: StormPlan | null = isOpen ? stormPlan(c, now) : null
  const sharp = plan === null ? null : stormPlan(c, now, true)
  const [first, second] = check.explanations
  const parts = first && second ? settling(c, now, first.move, second.move) : null
  const isSharper = sharp?.isEnough === true && (!plan!.isEnough || sharp.steps.length < plan!.steps.length)
  const peak = sharp?.steps.find(s => s.kind === 'sighting' && s.method === 'signal-peak')
  return {
    verdict: check.verdict,
    why: check.why,
    toleranceDeg: deg(check.tolerance),
    atMostDeg: deg(check.atMost),
    weakest: check.weakest,
    standsOut: check.standsOut,
    explanations: check.explanations.map(e => explanationJson(e, check, feed.id)),
    isExplained: check.isExplained,
    odd: check.odd,
    found: check.found.map(f => ({
      id: f.id,
      kind: f.kind,
      chi2: f.chi2,
      rows: f.rows,
      miss: f.miss && {
        rightDeg: deg(f.miss.right),
        upDeg: deg(f.miss.up),
        sigmaRightDeg: deg(f.miss.sigmaRight),
        sigmaUpDeg: deg(f.miss.sigmaUp),
      },
    })),
    next: (plan?.steps ?? (parts === null ? [] : [parts])).map(stepJson),
    isEnough: plan?.isEnough ?? false,
    sharper: isSharper && peak !== undefined ? { steps: sharp.steps.length, sigmaDeg: deg(peak.sigma) } : null,
  }
}
