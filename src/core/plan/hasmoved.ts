/**
 * Has it moved? All that was measured in this setup, visit by visit: whether from some visit on a move explains it better than none does,
 * what moved and between which two visits; else whether the last visits would have shown a move that matters (as after a storm,
 * moved.ts); else that it cannot be told. UTC ms as the records have them.
 */
import { cost } from '../fit/reject.ts'
import type { Solved } from '../fit/solved.ts'
import { setupStart, stationBefore } from '../level/carryover.ts'
import type { StationRecord } from '../records/fieldbook.ts'
import { msFromUtc, utcFromMs } from '../records/instant.ts'
import type { Feed } from '../records/station.ts'
import { VISIT_GAP_MS } from '../records/visit.ts'
import { solvedOnce } from '../solvedonce.ts'
import type { UtcMs } from '../units.ts'
import { explained, isOddOne, isQuiet, type StormCheck, stormCase, stormCheckOf } from './moved.ts'
import type { StormCase } from './stormcase.ts'
import { type Explained, oddOne, RIVAL } from './stormcauses.ts'

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
  told: Explained | null
  /** That something moved, and not one measurement alone. */
  isMoved: boolean
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
function isSlip({ case: c, told }: Split): boolean {
  if (c.measured.length < LEAST_AFTER) return true
  const odd = oddOne(c, LEAST_AFTER)
  if (odd === null) return false
  return c.measured.length <= FEW_AFTER || odd.evidence > told!.explanations[0]!.evidence - RIVAL
}

const checked = ({ firstMs, case: c, told }: Split): HasMoved['split'] & object => ({
  firstMs,
  case: c,
  check: stormCheckOf(c, told),
})

/** @param solved  all of the station as it stands */
export function hasMovedOf(solved: Solved, record: StationRecord, feed: Feed, now: UtcMs): HasMoved {
  const times = timesOf(record, now)
  const all = visitsOf(times)
  const visits = times.length === 0 ? 0 : all.length + 1
  const none = cost(solved.fit)
  const splits = all.slice(-MOST).flatMap((between): Split[] => {
    const was = stationBefore(record, utcFromMs(between.firstMs))
    if (was.sightings.filter(s => s.use !== 'never').length < FEWEST) return []
    // With one more sighting only the last of these is another mount.
    const before = solvedOnce(was)
    const c = stormCase(before, record, feed, between.firstMs)
    if (c === null || c.pass.n === 0) return []
    const told = explained(c)
    const isMoved = told !== null && !isOddOne(told)
    // Measurements from before count in full; those from after by what the best move leaves, plus its own freedom.
    const after = c.pass.chi2 - Math.max(0, isMoved ? told.explanations[0]!.evidence : 0)
    return [{ ...between, case: c, told, isMoved, gain: none - cost(before.fit) - after }]
  })
  const moved = splits.filter(s => s.isMoved && !isSlip(s))
  const best = moved.reduce<Split | null>((a, b) => (a === null || b.gain > a.gain ? b : a), null)
  if (best !== null && best.gain >= EVIDENCE + 2 * Math.log(splits.length)) {
    const near = moved.filter(s => s.gain >= best.gain - RIVAL)
    const since = { beforeMs: near[0]!.beforeMs, firstMs: near.at(-1)!.firstMs }
    return { verdict: 'moved', since, split: checked(best), visits }
  }
  // The last visit, or as many as it takes until a move would have shown; each one further back is one more try, and must be surer.
  for (let k = splits.length - 1; k >= 0; k--) {
    const { case: c, told, beforeMs, firstMs } = splits[k]!
    // The whole check draws thousands of moves: not where it cannot say so.
    if (told !== null || !isQuiet(c)) continue
    const split = checked(splits[k]!)
    if (split.check.verdict !== 'nothing-moved') continue
    if (k < splits.length - TRIES && split.check.atMost > SURER * split.check.tolerance) continue
    return { verdict: 'holds', since: { beforeMs, firstMs }, split, visits }
  }
  const last = splits.at(-1)
  return { verdict: 'cannot-tell', since: null, split: last === undefined ? null : checked(last), visits }
}
