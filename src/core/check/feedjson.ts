/** The feed check and the noon check as JSON: degrees, millimetres, readings, UTC text. Places on the face as seen from behind, by the mark. */
import type { FacePoint } from '../dish/shadowshape.ts'
import type { Solved } from '../fit/solved.ts'
import type { PriorRecord, SightingRecord } from '../records/fieldbook.ts'
import { msFromUtc, utcFromMs } from '../records/instant.ts'
import type { Feed } from '../records/station.ts'
import { degFromRad, type UtcMs } from '../units.ts'
import { type FeedCheck, feedCheckOf, feedMoved } from './feed.ts'
import { type NoonPose, noonDay, noonPose, poseWith, type ShadowReading, shadowsTogether } from './noon.ts'

const deg = degFromRad

export interface FeedCheckJson {
  feed: string
  name: string
  verdict: FeedCheck['verdict']
  rightMm: number
  upMm: number
  sigmaRightMm: number
  sigmaUpMm: number
  sizeMm: number
  sigmaSizeMm: number
  /** 0 where nothing is worth moving. */
  move: { rightMm: number; upMm: number }
  sightings: { shadow: number; signal: number }
  /** How far off would be seen once a move is called done. */
  limitMm: number
  /** Sightings that would show that a move did what it should. */
  wanted: { shadow: number; signal: number }
  beamFromShadow: { rightDeg: number; upDeg: number; sigmaRightDeg: number; sigmaUpDeg: number }
  now: FeedCheck['now']
  after: { sigmaMm: number; byShadowDb: number; skewedDb: number }
  squint: { rightDeg: number; upDeg: number; sigmaRightDeg: number; sigmaUpDeg: number }
  droop: {
    verdict: FeedCheck['droop']['verdict']
    feedMm: number
    sigmaFeedMm: number
    sagDeg: number
    sigmaSagDeg: number
    correlation: number
  }
  /** What to record when the move above was made; `what` and `expect` of a change. */
  change: { what: string[]; expect: PriorRecord[] }
}

const anglesDeg = (q: { right: number; up: number; sigmaRight: number; sigmaUp: number }) => ({
  rightDeg: deg(q.right),
  upDeg: deg(q.up),
  sigmaRightDeg: deg(q.sigmaRight),
  sigmaUpDeg: deg(q.sigmaUp),
})

/** Every feed of the station for the setup at an instant. @param moved as it was really done, for one feed */
export function feedCheckJson(
  solved: Solved,
  utcMs: UtcMs,
  moved?: { feed: string; rightMm: number; upMm: number },
): FeedCheckJson[] {
  return solved.station.feeds.map(feed => {
    const c = feedCheckOf(solved, feed, utcMs)
    const done = moved?.feed === feed.id ? { right: moved.rightMm, up: moved.upMm } : c.move
    return {
      feed: feed.id,
      name: feed.name,
      verdict: c.verdict,
      rightMm: c.right,
      upMm: c.up,
      sigmaRightMm: c.sigmaRight,
      sigmaUpMm: c.sigmaUp,
      sizeMm: c.size,
      sigmaSizeMm: c.sigmaSize,
      move: { rightMm: c.move.right, upMm: c.move.up },
      sightings: c.sightings,
      limitMm: c.limit,
      wanted: c.wanted,
      beamFromShadow: anglesDeg(c.beamFromShadow),
      now: c.now,
      after: { sigmaMm: c.after.sigma, byShadowDb: c.after.byShadowDb, skewedDb: c.after.skewedDb },
      squint: anglesDeg(c.squint),
      droop: {
        verdict: c.droop.verdict,
        feedMm: c.droop.feed,
        sigmaFeedMm: c.droop.sigmaFeed,
        sagDeg: deg(c.droop.sag),
        sigmaSagDeg: deg(c.droop.sigmaSag),
        correlation: c.droop.correlation,
      },
      change: feedMoved(c, done),
    }
  })
}

export interface NoonPoseJson {
  utc: string
  azDeg: number
  elDeg: number
  lower: number
  upper: number
  inside: boolean
  /** The UP mark clockwise of the vertical, as seen from behind; null when the dish looks straight up. */
  rollDeg: number | null
  shadow: { centre: FacePoint; outline: FacePoint[]; blurMm: number; isWhole: boolean } | null
  sigmaRightMm: number
  sigmaUpMm: number
}

const poseJson = (p: NoonPose): NoonPoseJson => ({
  utc: utcFromMs(p.utcMs),
  azDeg: deg(p.az),
  elDeg: deg(p.el),
  lower: p.lower,
  upper: p.upper,
  inside: p.inside,
  rollDeg: p.roll === null ? null : deg(p.roll),
  shadow: p.shadow,
  sigmaRightMm: p.sigmaRight,
  sigmaUpMm: p.sigmaUp,
})

export interface ShadowReadingJson extends FacePoint {
  /** True UTC. */
  utc: string
  lower: number
  upper: number
}

export interface NoonCheckJson {
  transitUtc: string
  transitElDeg: number
  north: boolean
  /** Ten minutes apart while the Sun is up about that transit. */
  times: { utc: string; elDeg: number; inside: boolean }[]
  /** At the time asked for: the readings that put the beam on the Sun; or the shadow at readings as given. */
  pose: NoonPoseJson | null
  feedDiameterMm: number | null
  dishRadiusMm: number
}

/** @param o.at default the transit; o.readings the pose as it stands */
export function noonCheckJson(
  solved: Solved,
  feed: Feed,
  now: UtcMs,
  o: { at?: string; readings?: { lower: number; upper: number } },
): NoonCheckJson {
  const day = noonDay(solved, feed, now)
  const at = o.at === undefined ? day.transitUtcMs : msFromUtc(o.at)
  const pose = o.readings === undefined ? noonPose(solved, feed, at) : poseWith(solved, feed, at, o.readings)
  return {
    transitUtc: utcFromMs(day.transitUtcMs),
    transitElDeg: deg(day.el),
    north: day.north,
    times: day.times.map(t => ({ utc: utcFromMs(t.utcMs), elDeg: deg(t.el), inside: t.inside })),
    pose: pose === null ? null : poseJson(pose),
    feedDiameterMm: solved.station.record.dish.feedDiameterMm ?? null,
    dishRadiusMm: 500 * solved.station.diameterM,
  }
}

export interface ShadowsJson {
  /** In order of time: the Sun's offset from the shadow line, and by how much the mount as solved differs. */
  readings: { sunRightDeg: number; sunUpDeg: number; missRightDeg: number; missUpDeg: number }[]
  miss: { rightDeg: number; upDeg: number; sigmaDeg: number }
  sigmaEachDeg: number
  pace: { ratio: number; sigma: number; isRight: boolean } | null
  looksMirrored: boolean
  /** One sighting that stands for all. */
  sighting: Omit<SightingRecord, 'id'>
}

/** Shadows read within an hour or so, together. Null when a jack's triangle does not close at a reading. */
export function shadowsJson(
  solved: Solved,
  feed: Feed,
  readings: readonly ShadowReadingJson[],
  o: { sigmaMm?: number; clockOffsetS?: number },
): ShadowsJson | null {
  const list: ShadowReading[] = readings.map(({ utc, ...r }) => ({ ...r, utcMs: msFromUtc(utc) }))
  const a = shadowsTogether(solved, feed, list, o.sigmaMm)
  if (a === null) return null
  return {
    readings: a.readings.map(r => ({
      sunRightDeg: deg(r.sun.right),
      sunUpDeg: deg(r.sun.up),
      missRightDeg: deg(r.miss.right),
      missUpDeg: deg(r.miss.up),
    })),
    miss: { rightDeg: deg(a.miss.right), upDeg: deg(a.miss.up), sigmaDeg: deg(a.sigma) },
    sigmaEachDeg: deg(a.sigmaEach),
    pace: a.pace,
    looksMirrored: a.looksMirrored,
    sighting: {
      utc: utcFromMs(a.mean.utcMs + 1000 * (o.clockOffsetS ?? 0)),
      ...(o.clockOffsetS === undefined ? {} : { clockOffsetS: o.clockOffsetS }),
      target: { type: 'sun' },
      lower: a.mean.lower,
      upper: a.mean.upper,
      method: 'shadow',
      feed: feed.id,
      shadow: { rightMm: a.mean.rightMm, upMm: a.mean.upMm },
      sigmaDeg: deg(a.sigma),
    },
  }
}
