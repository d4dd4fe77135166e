/**
 * Shadow against signal: where a feed really sits, which way to move it, what its place costs and what will remain. The shadow line and
 * the beam move opposite ways, together (1 + BDF) times the feed's own angle, so both methods in one solution tell the feed from
 * everything else. Dish frame as seen from behind; millimetres and radians.
 */
import { comaOf } from '../dish/coma.ts'
import { errorForEchoLoss, pointingLossDb } from '../dish/optics.ts'
import { WORTH_TURNING } from '../export/advice.ts'
import { lineOf, usualSigma } from '../fit/methods.ts'
import { splitPriorId } from '../fit/parameters.ts'
import { builtFor } from '../fit/solution.ts'
import type { Solved } from '../fit/solved.ts'
import { isRenewedBy } from '../mount/parameters.ts'
import { SLOT, SLOTS } from '../mount/slots.ts'
import type { ChangeRecord, PriorRecord } from '../records/fieldbook.ts'
import { GUESS_FOCAL, isGuess } from '../records/guesses.ts'
import { msFromUtc } from '../records/instant.ts'
import type { Feed } from '../records/station.ts'
import { degFromRad, type Mm, type Rad, type UtcMs } from '../units.ts'

type FeedVerdict =
  /** Move it by `move`. */
  | 'move'
  /** Within its own σ, or so little that moving it buys nothing: leave it alone. */
  | 'leave'
  /** Not known well enough to say either. */
  | 'not-yet'
  /** It was moved, and what was measured since shows that it sits right: an error beyond the limit would have been seen. */
  | 'done'
  /** It was moved, and not enough was measured since to say that it sits right. */
  | 'unchecked'
  /** It was moved, and what was measured since contradicts the move as it was noted. */
  | 'not-as-noted'

export interface FeedCheck {
  feed: string
  verdict: FeedVerdict
  /** Where the feed sits from the axis: right and toward the UP mark, as seen from behind. */
  right: Mm
  up: Mm
  sigmaRight: Mm
  sigmaUp: Mm
  /** How far out, and σ in that direction. */
  size: Mm
  sigmaSize: Mm
  /** The move that brings it to the axis: the opposite of where it sits. Only what is worth moving, else 0. */
  move: { right: Mm; up: Mm }
  /** What this feed has been sighted by in its present place. */
  sightings: { shadow: number; signal: number }
  /**
   * The error that must be seen: what costs as much as the tolerance allows, if the dish is pointed by the shadow; more where squint
   * and sinking add to it.
   */
  limit: Mm
  /** Sightings still wanted to say that a move did what it should; zeros where none are. */
  wanted: { shadow: number; signal: number }
  /** Beam minus shadow line, right and up, as solved; and σ. */
  beamFromShadow: { right: Rad; up: Rad; sigmaRight: Rad; sigmaUp: Rad }
  /** One way, dB. `byShadow`: if the dish is pointed by the shadow. `skewed`: even if the beam itself is pointed right. */
  now: { byShadowDb: number; skewedDb: number }
  /** After the move, at the feed's σ: the feed's part alone. */
  after: { sigma: Mm; byShadowDb: number; skewedDb: number }
  /** By how much the beam differs from the boresight for another cause; moving the feed is not meant to correct that. */
  squint: { right: Rad; up: Rad; sigmaRight: Rad; sigmaUp: Rad }
  droop: Droop
  /**
   * σ of the five, each widened until they claim no more if taken as independent than they do together: what is expected after a
   * move has no room for their correlations, and to count what they share twice would call a move done too early.
   */
  independent: { right: Mm; up: Mm; droop: Mm; squintRight: Rad; squintUp: Rad }
}

interface Droop {
  /** How far the feed sinks × cos el, and σ. */
  feed: Mm
  sigmaFeed: Mm
  /** The whole dish's droop × cos el. */
  sag: Rad
  sigmaSag: Rad
  correlation: number
  /** 'cannot-tell': the sightings do not separate the feed's sinking from the dish's droop. */
  verdict: 'sinks' | 'does-not' | 'cannot-tell'
}

/** χ² of two coordinates that chance exceeds once in twenty. */
const DOUBT = 5.99
/** A σ that the sightings have not brought below this share of the prior's comes from the prior alone. */
const LEARNT = 0.7

/** The check of one feed for the setup at an instant. */
export function feedCheckOf(solved: Solved, feed: Feed, utcMs: UtcMs): FeedCheck {
  const { station } = solved
  const { model } = station
  const { built, covariance: C, slots } = builtFor(solved, utcMs, feed)
  const c = (i: number, j: number): number => C[i * SLOTS + j]!
  const sigma = (i: number): number => Math.sqrt(Math.max(0, c(i, i)))
  const right = built[SLOT.feedRight]!
  const up = built[SLOT.feedUp]!
  // Angles are turned into millimetres by the focal length: where it is a guess, so is their size.
  const share = isGuess(station.record, 'dish.focalRatio') ? GUESS_FOCAL : 0
  const rr = c(SLOT.feedRight, SLOT.feedRight) + (share * right) ** 2
  const ru = c(SLOT.feedRight, SLOT.feedUp) + share * share * right * up
  const uu = c(SLOT.feedUp, SLOT.feedUp) + (share * up) ** 2
  const size = Math.hypot(right, up)
  const det = rr * uu - ru * ru
  const chi2 = det > 0 ? (uu * right * right - 2 * ru * right * up + rr * up * up) / det : 0
  const sigmaSize =
    size > 0
      ? Math.sqrt((rr * right * right + 2 * ru * right * up + uu * up * up) / (size * size))
      : Math.sqrt((rr + uu) / 2)

  const prior = (slot: number): number => solved.problem.priorSigma[slots[slot]!] ?? Infinity
  const isLearnt = (slot: number): boolean =>
    sigma(slot) < LEARNT * prior(slot) || solved.parameters.list[slots[slot]!]?.prior.measured === true
  const isKnown = isLearnt(SLOT.feedRight) && isLearnt(SLOT.feedUp)
  const worthMm = (errorForEchoLoss(station.tolerance.echoLossDb, feed.hpbw) * model.focalLength) / (1 + model.bdf)
  // Shadow against signal tells the feed less the squint, and its place less its sinking: what is not known of those no sighting
  // after a move takes away.
  const squintMm = (Math.max(sigma(SLOT.squintRight), sigma(SLOT.squintUp)) * model.focalLength) / (1 + model.bdf)
  const blur = Math.hypot(squintMm, 0.7 * sigma(SLOT.feedDroop))
  const limit = Math.max(worthMm, BLUR * blur)
  const used = countSightings(solved, feed, slots[SLOT.feedRight]!)
  const noted = notedMove(solved, feed, utcMs, { right, up, rr, uu }, slots)
  const wanted = wantedAfterMove(solved, feed, { limit, blur }, used, noted)
  // Beyond chance, and worth the walk: half of what is allowed costs a quarter of the loss.
  const isOff = chi2 > DOUBT && size > worthMm / 2
  const verdict: FeedVerdict =
    noted === null
      ? !isKnown
        ? 'not-yet'
        : isOff
          ? 'move'
          : 'leave'
      : noted.pull > NOT_AS_NOTED && wanted.shadow + wanted.signal === 0
        ? 'not-as-noted'
        : wanted.shadow + wanted.signal > 0
          ? 'unchecked'
          : isOff
            ? 'move'
            : size + ONE_IN_TWENTY * Math.sqrt(Math.max(rr, uu)) <= limit
              ? 'done'
              : 'leave'
  const worth = (value: number, s: number): number =>
    verdict === 'move' && (Math.abs(value) > WORTH_TURNING * s || Math.abs(value) > 0.3 * size) ? -value : 0

  const per = (1 + model.bdf) / model.focalLength
  const angles = (d: Mm, squint: Rad): Rad => -(1 + model.bdf) * Math.atan(d / model.focalLength) + squint
  // σ of beam minus shadow: the feed and the squint together, whose errors partly cancel in it.
  const differs = (d: number, q: number): Rad =>
    Math.sqrt(Math.max(0, per * per * c(d, d) - 2 * per * c(d, q) + c(q, q)))
  const beamFromShadow = {
    right: angles(right, built[SLOT.squintRight]!),
    up: angles(up, built[SLOT.squintUp]!),
    sigmaRight: differs(SLOT.feedRight, SLOT.squintRight),
    sigmaUp: differs(SLOT.feedUp, SLOT.squintUp),
  }
  const skewed = (d: Mm): number => comaOf(d, model.focalLength, 500 * station.diameterM, feed.frequencyMHz).lossDb
  const left = Math.sqrt((rr + uu) / 2)
  return {
    feed: feed.id,
    verdict,
    right,
    up,
    sigmaRight: Math.sqrt(rr),
    sigmaUp: Math.sqrt(uu),
    size,
    sigmaSize,
    move: { right: worth(right, Math.sqrt(rr)), up: worth(up, Math.sqrt(uu)) },
    sightings: used,
    limit,
    wanted,
    beamFromShadow,
    now: {
      byShadowDb: pointingLossDb(Math.hypot(beamFromShadow.right, beamFromShadow.up), feed.hpbw),
      skewedDb: skewed(size),
    },
    after: {
      sigma: left,
      byShadowDb: pointingLossDb(per * Math.SQRT2 * left, feed.hpbw),
      skewedDb: skewed(Math.SQRT2 * left),
    },
    squint: {
      right: built[SLOT.squintRight]!,
      up: built[SLOT.squintUp]!,
      sigmaRight: sigma(SLOT.squintRight),
      sigmaUp: sigma(SLOT.squintUp),
    },
    droop: droopOf(solved, built, C, slots),
    independent: independentSigmas(C),
  }
}

const FEED_SLOTS = [SLOT.feedRight, SLOT.feedUp, SLOT.feedDroop, SLOT.squintRight, SLOT.squintUp]

/** σ² × Σ|ρ| of its row: the difference from the covariance is then diagonally dominant, so never negative. */
function independentSigmas(C: Float64Array): FeedCheck['independent'] {
  const c = (i: number, j: number): number => C[i * SLOTS + j]!
  const [right, up, droop, squintRight, squintUp] = FEED_SLOTS.map(i => {
    const share = (j: number): number => (c(j, j) > 0 ? Math.abs(c(i, j)) / Math.sqrt(c(j, j)) : 0)
    return Math.sqrt(Math.sqrt(Math.max(0, c(i, i))) * FEED_SLOTS.reduce((sum, j) => sum + share(j), 0))
  })
  return { right: right!, up: up!, droop: droop!, squintRight: squintRight!, squintUp: squintUp! }
}

/** σ of the wider coordinate that both together pass about once in twenty, away from the axis. */
const ONE_IN_TWENTY = 2.1
/** χ² of two coordinates that chance exceeds once in a thousand. */
const NOT_AS_NOTED = 13.8
/** A feed off by the limit must stand out at this many σ of what was measured since the move. */
const SEEN = 2
/** How many σ of squint and sinking a feed must be off to be told from them. */
const BLUR = 3.5
/** More than this nobody takes on one visit. */
const MOST_WANTED = 12

/** σ of one coordinate of what was measured since alone: the posterior less what the prior knew. */
const sinceSigma = (variance: number, prior: number): number => {
  const information = 1 / variance - 1 / (prior * prior)
  return information > 0 ? 1 / Math.sqrt(information) : Infinity
}

interface Noted {
  /** σ by what was measured since the move alone. */
  sigma: Mm
  /** χ² of that against the place that was expected. */
  pull: number
}

/** What was measured since a noted move; null where the feed's place does not come from one. */
function notedMove(
  solved: Solved,
  feed: Feed,
  utcMs: UtcMs,
  at: { right: Mm; up: Mm; rr: number; uu: number },
  slots: Int16Array,
): Noted | null {
  const moves = (solved.station.record.changes ?? [])
    .filter(c => msFromUtc(c.utc) <= utcMs && c.what.some(w => isRenewedBy(w, 'feedRight', feed.id)))
    .sort((a, b) => msFromUtc(a.utc) - msFromUtc(b.utc))
  const isExpected = moves.pop()?.expect?.some(e => {
    const named = splitPriorId(e)
    const isOwn = named.feed === null || named.feed === feed.id
    // A place that was taped says so itself; a move is believed only once it is seen.
    return isOwn && e.measured !== true && (named.id === 'feedRight' || named.id === 'feedUp')
  })
  if (isExpected !== true) return null
  const { priorValue, priorSigma } = solved.problem
  const one = (slot: number, value: Mm, variance: number) => {
    const i = slots[slot]!
    const prior = priorSigma[i]! * solved.sigmaScale
    const sigma = sinceSigma(variance, prior)
    const learnt = prior * prior - variance
    return { sigma, pull: learnt > 1e-9 * prior * prior ? (value - priorValue[i]!) ** 2 / learnt : 0 }
  }
  const [x, y] = [one(SLOT.feedRight, at.right, at.rr), one(SLOT.feedUp, at.up, at.uu)]
  return { sigma: Math.max(x.sigma, y.sigma), pull: x.pull + y.pull }
}

/** How many shadows and peaks it still takes until a feed that is off by the limit would be seen. */
function wantedAfterMove(
  solved: Solved,
  feed: Feed,
  { limit, blur }: { limit: Mm; blur: Mm },
  used: FeedCheck['sightings'],
  noted: Noted | null,
): FeedCheck['wanted'] {
  if (noted === null) return { shadow: 0, signal: 0 }
  const { station } = solved
  const { focalLength: f, bdf } = station.model
  const usual = (method: 'shadow' | 'signal-peak'): Mm => (usualSigma(method, station, feed) * f) / (1 + bdf)
  const target = (limit / SEEN) ** 2
  // What is not known of the squint is in it too, and no number of sightings takes it away.
  if (used.shadow > 0 && used.signal > 0 && noted.sigma ** 2 <= target) return { shadow: 0, signal: 0 }
  // Half of what the blur leaves to each of the two, which are differences of one another; what is there already counts.
  const noise = Math.max(target - blur * blur, target / 4)
  const of = (method: 'shadow' | 'signal-peak', have: number): number =>
    Math.min(MOST_WANTED, Math.max(have === 0 ? 1 : 0, Math.ceil((2 * usual(method) ** 2) / noise) - have))
  const wanted = { shadow: of('shadow', used.shadow), signal: of('signal-peak', used.signal) }
  return wanted.shadow + wanted.signal === 0 ? { shadow: 1, signal: 1 } : wanted
}

function droopOf(solved: Solved, built: Float64Array, C: Float64Array, slots: Int16Array): Droop {
  const at = (i: number, j: number): number => C[i * SLOTS + j]!
  const [d, s] = [SLOT.feedDroop, SLOT.sag]
  const sigmaFeed = Math.sqrt(Math.max(0, at(d, d)))
  const sigmaSag = Math.sqrt(Math.max(0, at(s, s)))
  const correlation = sigmaFeed > 0 && sigmaSag > 0 ? at(d, s) / (sigmaFeed * sigmaSag) : 0
  const feed = built[d]!
  const isTold = sigmaFeed < LEARNT * (solved.problem.priorSigma[slots[d]!] ?? Infinity) && Math.abs(correlation) < 0.95
  return {
    feed,
    sigmaFeed,
    sag: built[s]!,
    sigmaSag,
    correlation,
    verdict: !isTold ? 'cannot-tell' : Math.abs(feed) > WORTH_TURNING * sigmaFeed ? 'sinks' : 'does-not',
  }
}

/** Sightings that took part, by what they see, that share this feed's place. */
function countSightings(solved: Solved, feed: Feed, place: number): FeedCheck['sightings'] {
  const out = { shadow: 0, signal: 0 }
  solved.problem.sightings.forEach((s, i) => {
    if (solved.fit.kept[i] !== 1 || s.slots[SLOT.feedRight] !== place) return
    if (s.record.feed !== undefined && s.record.feed !== feed.id) return
    const line = lineOf(s.record.method)
    if (line === 'shadow') out.shadow++
    else if (line === 'beam') out.signal++
  })
  return out
}

/** 1 σ of a move of the feed measured with a rule (common practice, no source). */
const RULE_MM = 1

/**
 * What to write down when the feed was moved: the change and what may be expected after it, so that the next solution goes on from
 * here. What the move does not touch (droop, squint) keeps its value; every σ is the wider one of `independent`.
 *
 * @param moved right and up, as seen from behind, as it was really done
 */
export function feedMoved(
  check: FeedCheck,
  moved: { right: Mm; up: Mm },
): { what: string[]; expect: PriorRecord[] } & Pick<ChangeRecord, 'what' | 'expect'> {
  const { feed, squint, droop, independent } = check
  const deg = degFromRad
  return {
    what: [`feed:${feed}`],
    expect: [
      { id: 'feedRight', feed, value: check.right + moved.right, sigma: Math.hypot(independent.right, RULE_MM) },
      { id: 'feedUp', feed, value: check.up + moved.up, sigma: Math.hypot(independent.up, RULE_MM) },
      { id: 'feedDroop', feed, value: droop.feed, sigma: independent.droop },
      { id: 'squintRight', feed, value: deg(squint.right), sigma: deg(independent.squintRight) },
      { id: 'squintUp', feed, value: deg(squint.up), sigma: deg(independent.squintUp) },
    ],
  }
}
