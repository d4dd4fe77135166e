/**
 * Has it moved? All that was measured in this setup, visit by visit: whether from some visit on a move explains it better than none does,
 * what moved and between which two visits; else whether the last visits would have shown a move that matters (as after a storm,
 * moved.ts); else that nobody can tell. UTC ms as the records have them.
 */
import { cost } from '../fit/reject.ts'
import { solveStation } from '../fit/solution.ts'
import type { Solved } from '../fit/solved.ts'
import { setupStart, stationBefore } from '../level/carryover.ts'
import type { StationRecord } from '../records/fieldbook.ts'
import { msFromUtc, utcFromMs } from '../records/instant.ts'
import type { Feed } from '../records/station.ts'
import { stationFromRecord } from '../records/stationintake.ts'
import { VISIT_GAP_MS } from '../records/visit.ts'
import type { UtcMs } from '../units.ts'
import { type StormCheck, stormCase, stormCheck } from './moved.ts'
import type { StormCase } from './stormcase.ts'
import { oddOne, RIVAL } from './stormcauses.ts'

export type HasMovedVerdict = 'holds' | 'moved' | 'cannot-tell'

/** A move is looked for this many visits back. */
const MOST = 12
/** It may hold since one of the last visits; since one further back only where what may still hide is at most `SURER` of the tolerance. */
const TRIES = 3
const SURER = 0.75
/** Sightings before a move, for there to be something to compare with. */
const FEWEST = 4
/** Measurements after it, for a move to be believed. */
const LEAST_AFTER = 2
/** With this few, no single one may be the only misfit. */
const FEW_AFTER = 3
/** What a move must explain beyond its own freedom, and beyond the visits tried; set by the study for 1 still station in 100. */
const EVIDENCE = 12

interface Split {
  /** The first record of the visit, and the last one before it. */
  firstMs: UtcMs
  beforeMs: UtcMs
  case: StormCase
  check: StormCheck
  /** By how much a move then explains all that was measured better than no move at all. */
  gain: number
}

export interface HasMoved {
  verdict: HasMovedVerdict
  /** Moved: after `beforeMs`, by `firstMs`. Holds: no move since `firstMs`. Null: nothing to compare. */
  since: { beforeMs: UtcMs; firstMs: UtcMs } | null
  /** The split that is reported, and its check; null without two visits. */
  split: { firstMs: UtcMs; case: StormCase; check: StormCheck } | null
  visits: number
}

/** The times of all that counts in the present setup, in order. */
function timesOf(record: StationRecord, now: UtcMs): UtcMs[] {
  const began = setupStart(record, now)
  const fromMs = began === null ? -Infinity : msFromUtc(began.utc)
  const lists = [record.sightings.filter(s => s.use !== 'never'), record.levels ?? [], record.references ?? []]
  return lists
    .flat()
    .map(r => msFromUtc(r.utc))
    .filter(ms => ms >= fromMs && ms <= now)
    .sort((a, b) => a - b)
}

/** Where one visit ends and the next begins. */
export function visitsOf(times: readonly UtcMs[]): { beforeMs: UtcMs; firstMs: UtcMs }[] {
  const out: { beforeMs: UtcMs; firstMs: UtcMs }[] = []
  for (let k = 1; k < times.length; k++)
    if (times[k]! - times[k - 1]! > VISIT_GAP_MS) out.push({ beforeMs: times[k - 1]!, firstMs: times[k]! })
  return out
}

/** A single misfit, alone or among others that fit, is as likely a slip as a move. */
function isSlip({ case: c, check }: Split): boolean {
  if (c.measured.length < LEAST_AFTER) return true
  const odd = oddOne(c, LEAST_AFTER)
  if (odd === null) return false
  return c.measured.length <= FEW_AFTER || odd.evidence > (check.explanations[0]?.evidence ?? 0) - RIVAL
}

/** @param solved  all of the station as it stands */
export function hasMoved(solved: Solved, record: StationRecord, feed: Feed, now: UtcMs): HasMoved {
  const all = visitsOf(timesOf(record, now))
  const visits = all.length + 1
  const none = cost(solved.fit)
  const splits = all.slice(-MOST).flatMap((between): Split[] => {
    const was = stationBefore(record, utcFromMs(between.firstMs))
    if (was.sightings.filter(s => s.use !== 'never').length < FEWEST) return []
    const before = solveStation(stationFromRecord(was))
    const c = stormCase(before, record, feed, between.firstMs)
    if (c === null || c.pass.n === 0) return []
    const check = stormCheck(c)
    const best = check.explanations[0]
    // Measurements from before count in full; those from after by what the best move leaves, plus its own freedom.
    const after = c.pass.chi2 - Math.max(0, best?.evidence ?? 0)
    return [{ ...between, case: c, check, gain: none - cost(before.fit) - after }]
  })
  const moved = splits.filter(s => s.check.verdict === 'moved' && !isSlip(s))
  const best = moved.reduce<Split | null>((a, b) => (a === null || b.gain > a.gain ? b : a), null)
  if (best !== null && best.gain >= EVIDENCE + 2 * Math.log(splits.length)) {
    const near = moved.filter(s => s.gain >= best.gain - RIVAL)
    const since = { beforeMs: near[0]!.beforeMs, firstMs: near.at(-1)!.firstMs }
    return { verdict: 'moved', since, split: best, visits }
  }
  // The last visit, or as many as it takes until a move would have shown; each one further back is one more try, and must be surer.
  const holding = splits.reduceRight<Split | null>((found, s, k) => {
    if (found !== null || s.check.verdict !== 'nothing-moved') return found
    const isSure = k >= splits.length - TRIES || s.check.atMost <= SURER * s.check.tolerance
    return isSure ? s : null
  }, null)
  if (holding !== null)
    return {
      verdict: 'holds',
      since: { beforeMs: holding.beforeMs, firstMs: holding.firstMs },
      split: holding,
      visits,
    }
  return { verdict: 'cannot-tell', since: null, split: splits.at(-1) ?? null, visits }
}
