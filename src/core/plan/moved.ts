/**
 * After a storm: what was measured since against the mount as it was. Three answers. Nothing moved: said only where a move of any kind, as
 * large as the tolerance over the Moon's sky, would have stood out at 3 σ, and none does. This moved, by so much ± σ, with its rivals.
 * Cannot tell: with what would tell (stormplan.ts). The uncertainty of the mount as it was is part of every σ. Radians, mm, true UTC.
 */
import { errorForEchoLoss } from '../dish/optics.ts'
import { hasTube } from '../fit/parameters.ts'
import { variancePart } from '../fit/skyerror.ts'
import { builtFor } from '../fit/solution.ts'
import type { Solved } from '../fit/solved.ts'
import { type Built, SLOTS } from '../mount/slots.ts'
import type { StationRecord } from '../records/fieldbook.ts'
import type { Feed } from '../records/station.ts'
import type { Rad, UtcMs } from '../units.ts'
import type { StormCase } from './stormcase.ts'
import { chi99, type Explained, explain, isMoveSeen, type MoveExplanation, RIVAL } from './stormcauses.ts'
import { AS_IT_WAS, type CauseKind, type Causes, causesOf, WAY_COUNT } from './stormmoves.ts'
import { type Measured, measuredSince, type Pass, passOver, rowsOf, type WhitenedRow } from './stormrows.ts'
import {
  type CauseSky,
  causeEvidence,
  causeSky,
  hides,
  information,
  type StormSky,
  shareBeyond,
  standsOut,
  stormSky,
} from './stormsky.ts'

export type StormVerdict = 'nothing-moved' | 'moved' | 'cannot-tell'

/** Why nothing can be said. */
export type Untold =
  /** Fewer than three sightings from before. */
  | 'nothing-before'
  /** The mount as it was is not known to the tolerance itself. */
  | 'loose-before'
  /** Something as large as the tolerance could hide. */
  | 'unseen'
  /** One sighting goes with none of the others. */
  | 'odd-one'
  /** The Moon is never within reach: there is no sky to judge by. */
  | 'no-sky'

/** Where a target was found, against the mount as it was. */
export interface FoundTarget {
  id: string
  kind: Measured['kind']
  /** How surprising, the mount's own uncertainty included; over `rows` rows. */
  chi2: number
  rows: number
  /** Of a sighting: where it was found minus where the mount as it was puts it, and σ. */
  miss: { right: Rad; up: Rad; sigmaRight: Rad; sigmaUp: Rad } | null
}

export interface StormCheck {
  verdict: StormVerdict
  why: Untold | null
  tolerance: Rad
  /** A move that may still hide costs less than this, 95 % of the sky, at 99 %. */
  atMost: Rad
  /** The cause that can hide best, and at how many σ it stands out when it is as large as the tolerance. */
  weakest: CauseKind
  standsOut: number
  /** Best first, then those that explain it about as well; empty unless something moved. */
  explanations: MoveExplanation[]
  /** The best leaves no more than chance does. */
  isExplained: boolean
  /** One sighting that is wrong by itself explains it as well, or better. */
  odd: string | null
  found: FoundTarget[]
  chi2: number
  rows: number
}

/** A move as large as the tolerance must stand out at this many σ. */
export const VISIBLE = 3
/** The share of storms that move two things; and how likely a hidden one beyond the tolerance may be. */
const DOUBLES = 0.1
const HIDDEN = 0.01

/**
 * @param solved  from what was before the storm alone
 * @param record  the station with what was measured since
 * @returns null when a jack's triangle does not close at a reading
 */
export function stormCase(solved: Solved, record: StationRecord, feed: Feed, since: UtcMs): StormCase | null {
  const { station } = solved
  const { built } = builtFor(solved, since, feed)
  const measured = measuredSince(solved, record, feed, since)
  const pass = passOver(solved, measured, AS_IT_WAS)
  if (pass === null) return null
  const over = overSky(solved, feed, since, built)
  return {
    solved,
    feed,
    since,
    built,
    measured,
    pass,
    causes: over.causes,
    get sky() {
      return over.sky
    },
    get single() {
      return over.single
    },
    get double() {
      return over.double
    },
    tolerance: errorForEchoLoss(station.tolerance.echoLossDb, feed.hpbw),
  }
}

type OverSky = Pick<StormCase, 'causes' | 'sky' | 'single' | 'double'>

/** Depends on the mount as it was only, so it is the same for every sighting since. */
const kept = new WeakMap<Solved, { key: string; over: OverSky }>()

function overSky(solved: Solved, feed: Feed, since: UtcMs, built: Built): OverSky {
  const key = `${feed.id} ${since}`
  const known = kept.get(solved)
  if (known?.key === key) return known.over
  const causes: Causes = causesOf(solved.station.model, built, hasTube(solved.station))
  let sky: StormSky | null = null
  let single: CauseSky[] | null = null
  let double: CauseSky[] | null = null
  const over: OverSky = {
    causes,
    get sky() {
      sky ??= stormSky(solved.station, feed, built, since)
      return sky
    },
    get single() {
      single ??= causes.single.map(c => causeSky(c, over.sky))
      return single
    },
    get double() {
      double ??= causes.double.map(c => causeSky(c, over.sky))
      return double
    },
  }
  kept.set(solved, { key, over })
  return over
}

const hasNothingBefore = ({ solved }: StormCase): boolean => solved.fit.kept.reduce((a, k) => a + k, 0) < 3

/** What moved, where more shows than chance does; null: nothing shows. */
export const explained = (c: StormCase): Explained | null =>
  hasNothingBefore(c) || !isMoveSeen(c, c.pass) ? null : explain(c)

/** A typing slip is likelier than a storm that only one sighting shows. */
export const isOddOne = ({ odd, explanations }: Explained): boolean =>
  odd !== null && odd.evidence > explanations[0]!.evidence

/** True where a move as large as the tolerance would stand out, and none does: what is left to look at is what may hide. */
export const isQuiet = (c: StormCase): boolean =>
  leastVisible(c, c.pass).at >= VISIBLE && c.pass.chi2 <= chi99(c.pass.n)

/** The answer to a case. @param told  what `explained` says of it */
export function stormCheckOf(c: StormCase, told: Explained | null = explained(c)): StormCheck {
  const { pass, solved, tolerance } = c
  const weakest = leastVisible(c, pass)
  const most = c.single
    .map(s => ({ kind: s.cause.kinds[0]!, at: hides(s, causeEvidence(s.cause, pass)) }))
    .reduce((a, b) => (b.at > a.at ? b : a))
  const base = {
    tolerance,
    atMost: most.at,
    weakest: weakest.at >= VISIBLE && most.at > tolerance ? most.kind : weakest.kind,
    standsOut: weakest.at,
    found: c.measured.map(m => foundOf(solved, m)),
    chi2: pass.chi2,
    rows: pass.n,
  }
  const none = { explanations: [], isExplained: false, odd: null }
  const cannot = (why: Untold): StormCheck => ({ ...base, ...none, verdict: 'cannot-tell', why })
  if (hasNothingBefore(c)) return cannot('nothing-before')
  if (told !== null) {
    const { explanations, isExplained, odd } = told
    if (isOddOne(told)) return { ...cannot('odd-one'), odd: odd!.id }
    const isRival = odd !== null && odd.evidence > explanations[0]!.evidence - RIVAL
    return { ...base, verdict: 'moved', why: null, explanations, isExplained, odd: isRival ? odd.id : null }
  }
  if (c.sky.length === 0) return cannot('no-sky')
  const isSeen = weakest.at >= VISIBLE && most.at <= tolerance && hiddenByTwo(c, pass) <= HIDDEN
  if (isSeen && pass.chi2 <= chi99(pass.n)) return { ...base, ...none, verdict: 'nothing-moved', why: null }
  return cannot(isLooseBefore(c) ? 'loose-before' : 'unseen')
}

/** The cause whose move of the size of the tolerance stands out least. */
export function leastVisible(c: StormCase, e: { F: Float64Array }): { kind: CauseKind; at: number } {
  let least: { kind: CauseKind; at: number } = { kind: 'mount', at: Infinity }
  for (const s of c.single) {
    const at = standsOut(s, information(s.cause, e), c.tolerance)
    if (at < least.at) least = { kind: s.cause.kinds[0]!, at }
  }
  return least
}

/** How likely it is that two things moved, beyond the tolerance together, and do not show. */
function hiddenByTwo(c: StormCase, pass: Pass): number {
  let sum = 0
  for (const s of c.double) {
    const told = causeEvidence(s.cause, pass)
    const odds = (DOUBLES / c.double.length) * Math.exp(Math.min(50, told.evidence / 2))
    if (odds > HIDDEN / 1000) sum += odds * shareBeyond(s, told, c.tolerance)
  }
  return sum
}

/** The mount as it was is off by more than the tolerance, rms over the sky. */
function isLooseBefore(c: StormCase): boolean {
  const { covariance } = builtFor(c.solved, c.since, c.feed)
  let sum = 0
  for (const p of c.sky) {
    const partials = new Float64Array(2 * SLOTS)
    partials.set(p.subarray(0, SLOTS))
    partials.set(p.subarray(WAY_COUNT, WAY_COUNT + SLOTS), SLOTS)
    sum += variancePart(partials, covariance)
  }
  return Math.sqrt(sum / c.sky.length) > c.tolerance
}

function foundOf(solved: Solved, m: Measured): FoundTarget {
  const own = passOver(solved, [m], AS_IT_WAS)!
  const found = { id: m.id, kind: m.kind, chi2: own.chi2, rows: own.n }
  if (m.kind !== 'sighting') return { ...found, miss: null }
  const { w11, w21, w22, slots } = m.sighting
  const [a, b] = rowsOf(solved, m, AS_IT_WAS)! as [WhitenedRow, WhitenedRow]
  // The whitened rows back to right and up; measured minus modelled puts the target where it was found.
  const right = (x: number): number => x / w11
  const up = (x: number, y: number): number => (y - w21 * right(x)) / w22
  const { priorSigma } = solved.problem
  const { covariance } = solved.fit
  const variance = (partial: (k: number) => number, own: number): number => {
    let sum = own
    for (let i = 0; i < SLOTS; i++)
      for (let j = 0; j < SLOTS; j++) {
        const [p, q] = [slots[i]!, slots[j]!]
        if (p < 0 || q < 0) continue
        const scale = priorSigma[p]! * priorSigma[q]! * solved.sigmaScale ** 2
        sum += partial(i) * covariance.a[p * covariance.n + q]! * scale * partial(j)
      }
    return sum
  }
  return {
    ...found,
    miss: {
      right: -right(a.data),
      up: -up(a.data, b.data),
      sigmaRight: Math.sqrt(variance(k => right(a.bySlot[k]!), 1 / (w11 * w11))),
      sigmaUp: Math.sqrt(variance(k => up(a.bySlot[k]!, b.bySlot[k]!), (w21 / (w11 * w22)) ** 2 + 1 / (w22 * w22))),
    },
  }
}
