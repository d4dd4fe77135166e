/**
 * What was taped on a station's dish, in one table, and how it becomes the station's numbers. Records in, plain JSON
 * out: millimetres, degrees, dB one way. Right and up as seen from behind.
 */
import { comaOf } from '../dish/coma.ts'
import {
  beamDeviationFactor,
  beamwidth,
  errorForEchoLoss,
  gainDbi,
  pointingLossDb,
  surfaceLossDb,
} from '../dish/optics.ts'
import {
  type Bowl,
  blockageLossDb,
  bowlFromDepth,
  bowlFromRatio,
  defocusLossDb,
  focalRatioOf,
  rimAngle,
  rimToFocus,
  spaceLossDb,
  sunAtFocus,
} from '../dish/paraboloid.ts'
import type { DishMeasuresRecord, RimRecord } from '../records/dishmeasure.ts'
import type { ChangeRecord, FeedRecord, PriorRecord, StationRecord } from '../records/fieldbook.ts'
import { isOffsetFed, withoutGuesses } from '../records/guesses.ts'
import { instantMs } from '../records/instant.ts'
import { degFromRad, radFromDeg } from '../units.ts'
import { feedFromRim, type RimPlace, rimAngleFromClock } from './rim.ts'
import { gapOfBoth, type Warp, warpFromGaps } from './strings.ts'

/** 1 σ of a length taped by hand, where the person says nothing (common practice, no source). */
export const TAPE_MM = 2
/** The rim's own centre and plane are not the bowl's to better than this (an estimate, no source). */
const RIM_MM = 1

export interface FeedPlace {
  rightMm: number
  upMm: number
  /** + too far out from the dish. */
  outMm: number
  sigmaRightMm: number
  sigmaUpMm: number
  sigmaOutMm: number
  misfitMm: number | null
  /** Hour, as the person saw it, of the distance that the others do not believe. */
  suspectClock: number | null
  /** Where it turns the beam, and what that costs until the dish is aimed again. */
  beamRightDeg: number
  beamUpDeg: number
  beamLossDb: number
  /** What is lost even when it is aimed by that beam: sideways, and in or out. */
  comaLossDb: number
  defocusLossDb: number
}

export type PlaceAnswer = ({ kind: 'place' } & FeedPlace) | Exclude<RimPlace, { kind: 'place' }>

export interface FeedRow {
  feed: string
  name: string
  frequencyMHz: number
  gainDbi: number
  beamwidthDeg: number
  toleranceDeg: number
  surfaceLossDb: number | null
  blockageLossDb: number | null
  place: PlaceAnswer | null
}

export interface DishAnswer {
  diameterM: number
  focalRatio: number
  focalLengthMm: number
  /** Null where the depth was not taped. */
  sigmaFocalMm: number | null
  depthMm: number
  subtendedDeg: number
  rimToFocusMm: number
  spaceLossDb: number
  sun: { powerW: number; imageMm: number; suns: number }
  warp: { amplitudeMm: number; highClock: number; rmsMm: number } | null
  surfaceRmsMm: number | null
  feeds: FeedRow[]
}

/** The bowl by the tape where it was taped, else by the station's own numbers. */
export function bowlOf(station: StationRecord, measures: DishMeasuresRecord): Bowl {
  const diameter = measures.diameterMm ?? 1000 * station.dish.diameterM
  return measures.depthMm === undefined
    ? bowlFromRatio(diameter, station.dish.focalRatio)
    : bowlFromDepth(diameter, measures.depthMm)
}

function placeOf(bowl: Bowl, measures: DishMeasuresRecord, rim: RimRecord): RimPlace {
  const sigma = measures.sigmaMm ?? TAPE_MM
  return feedFromRim(
    {
      bowl,
      sigmaDiameter: measures.diameterMm === undefined ? 0 : sigma,
      sigmaDepth: measures.depthMm === undefined ? 0 : sigma,
      mouthRadius: (rim.mouthDiameterMm ?? 0) / 2,
      phaseCentre: rim.phaseCentreMm ?? 0,
    },
    rim.distances.map(d => ({
      angle: rimAngleFromClock(d.clock, rim.seenFrom),
      distance: d.mm,
      sigma: rim.sigmaMm ?? TAPE_MM,
    })),
  )
}

function placeAnswer(bowl: Bowl, measures: DishMeasuresRecord, rim: RimRecord, feed: FeedRecord): PlaceAnswer {
  const place = placeOf(bowl, measures, rim)
  if (place.kind !== 'place') return place
  const f = bowl.focalLength
  const bdf = beamDeviationFactor(focalRatioOf(bowl))
  const beam = [place.right, place.up].map(mm => -bdf * Math.atan(mm / f)) as [number, number]
  return {
    kind: 'place',
    rightMm: place.right,
    upMm: place.up,
    outMm: place.axial,
    sigmaRightMm: Math.hypot(place.sigmaRight, RIM_MM),
    sigmaUpMm: Math.hypot(place.sigmaUp, RIM_MM),
    sigmaOutMm: Math.hypot(place.sigmaAxial, RIM_MM),
    misfitMm: place.misfit,
    suspectClock: place.suspect === null ? null : rim.distances[place.suspect]!.clock,
    beamRightDeg: degFromRad(beam[0]),
    beamUpDeg: degFromRad(beam[1]),
    beamLossDb: pointingLossDb(Math.hypot(...beam), hpbwOf(feed, bowl)),
    comaLossDb: comaOf(Math.hypot(place.right, place.up), f, bowl.radius, feed.frequencyMHz).lossDb,
    defocusLossDb: defocusLossDb(place.axial, feed.frequencyMHz, bowl),
  }
}

const hpbwOf = (feed: FeedRecord, bowl: Bowl) =>
  feed.beamwidthDeg === undefined
    ? beamwidth(feed.frequencyMHz, (2 * bowl.radius) / 1000)
    : radFromDeg(feed.beamwidthDeg)

/** The saddle of the last gaps measured of each pair; the diagonal's strings change places when seen from in front. */
function warpOf(measures: DishMeasuresRecord): Warp | null {
  const last = new Map((measures.strings ?? []).map(s => [s.pair, s]))
  return warpFromGaps(
    [...last.values()].map(s => {
      const gap = gapOfBoth(s.firstInFrontMm, s.firstBehindMm)
      return { pair: s.pair, gap: s.pair === 'diagonal' && s.seenFrom === 'front' ? -gap : gap }
    }),
  )
}

/**
 * What was taped, without diameter and depth where the station's own numbers were changed since: what the person last
 * wrote there counts.
 */
export function measuresOf(station: StationRecord): DishMeasuresRecord {
  const { measured, diameterM, focalRatio } = station.dish
  if (measured === undefined) return NOTHING_TAPED
  const bowl = bowlOf(station, measured)
  const same = Math.abs(2 * bowl.radius - 1000 * diameterM) < 0.5 && Math.abs(focalRatioOf(bowl) - focalRatio) < 1e-4
  if (same) return measured
  const { diameterMm: _, depthMm: __, ...rest } = measured
  return rest
}

/** The table of a dish, by what was taped on it. */
export function dishAnswer(station: StationRecord, measures = measuresOf(station)): DishAnswer {
  const bowl = bowlOf(station, measures)
  const sigma = measures.sigmaMm ?? TAPE_MM
  const warp = warpOf(measures)
  const { surfaceRmsMm, feedDiameterMm } = station.dish
  const rms = surfaceRmsMm === undefined && warp === null ? null : Math.hypot(surfaceRmsMm ?? 0, warp?.rms ?? 0)
  const diameterM = (2 * bowl.radius) / 1000
  return {
    diameterM,
    focalRatio: focalRatioOf(bowl),
    focalLengthMm: bowl.focalLength,
    sigmaFocalMm:
      measures.depthMm === undefined
        ? null
        : bowl.focalLength *
          sigma *
          Math.hypot(1 / bowl.depth, measures.diameterMm === undefined ? 0 : 1 / bowl.radius),
    depthMm: bowl.depth,
    subtendedDeg: 2 * degFromRad(rimAngle(bowl)),
    rimToFocusMm: rimToFocus(bowl),
    spaceLossDb: spaceLossDb(bowl),
    sun: sunAtFocus(bowl),
    warp:
      warp === null ? null : { amplitudeMm: warp.amplitude, highClock: (warp.highAt * 6) / Math.PI, rmsMm: warp.rms },
    surfaceRmsMm: rms,
    feeds: station.feeds.map(feed => {
      const hpbw = hpbwOf(feed, bowl)
      const rim = [...(measures.rims ?? [])].reverse().find(r => r.feed === feed.id)
      return {
        feed: feed.id,
        name: feed.name,
        frequencyMHz: feed.frequencyMHz,
        gainDbi: gainDbi(feed.frequencyMHz, diameterM),
        beamwidthDeg: degFromRad(hpbw),
        toleranceDeg: degFromRad(errorForEchoLoss(station.tolerance?.echoLossDb ?? 0.5, hpbw)),
        surfaceLossDb: rms === null ? null : surfaceLossDb(rms / 1000, feed.frequencyMHz),
        blockageLossDb: feedDiameterMm === undefined ? null : blockageLossDb(feedDiameterMm, 2 * bowl.radius),
        place: rim === undefined || isOffsetFed(station) ? null : placeAnswer(bowl, measures, rim, feed),
      }
    }),
  }
}

const NOTHING_TAPED: DishMeasuresRecord = { utc: '1970-01-01T00:00:00Z' }

const isOf = (prior: PriorRecord, id: string, feed: string): boolean =>
  prior.id === `${id}:${feed}` || (prior.id === id && prior.feed === feed)

const withPlace = (priors: readonly PriorRecord[], feed: string, place: FeedPlace): PriorRecord[] => [
  ...priors.filter(p => !isOf(p, 'feedRight', feed) && !isOf(p, 'feedUp', feed)),
  { id: 'feedRight', feed, value: rounded(place.rightMm), sigma: rounded(place.sigmaRightMm), measured: true },
  { id: 'feedUp', feed, value: rounded(place.upMm), sigma: rounded(place.sigmaUpMm), measured: true },
]
/** To a hundredth of a millimetre, so that a person can read the file. */
const rounded = (mm: number): number => Math.round(100 * mm) / 100

/** The last change of a feed at or before an instant: a place taped after it belongs to the value that it began. */
function changeBefore(changes: readonly ChangeRecord[], feed: string, utc: string): ChangeRecord | null {
  const ms = instantMs(utc)
  let found: ChangeRecord | null = null
  for (const change of changes) {
    const at = instantMs(change.utc)
    if (at > ms || !change.what.some(w => w === 'all' || w === `feed:${feed}`)) continue
    if (found === null || at >= instantMs(found.utc)) found = change
  }
  return found
}

/**
 * The station with what was taped as its numbers: diameter and focal ratio by the tape; each feed's place, measured, as
 * what is expected of it since the last change of that feed. The readings themselves are kept with the dish.
 *
 * @param feeds  whose places are taken over: those that were taped now, or all whose dish was
 */
export function withDishMeasures(
  station: StationRecord,
  measures: DishMeasuresRecord,
  feeds: 'all' | readonly string[] = 'all',
): StationRecord {
  const answer = dishAnswer(station, measures)
  let priors = station.priors ?? []
  let changes = station.changes ?? []
  for (const row of answer.feeds) {
    if (feeds !== 'all' && !feeds.includes(row.feed)) continue
    const { place } = row
    const rim = [...(measures.rims ?? [])].reverse().find(r => r.feed === row.feed)
    if (rim === undefined || place === null || place.kind !== 'place') continue
    const change = changeBefore(changes, row.feed, rim.utc)
    if (change === null) priors = withPlace(priors, row.feed, place)
    else changes = changes.map(c => (c === change ? { ...c, expect: withPlace(c.expect ?? [], row.feed, place) } : c))
  }
  const taped = measures.depthMm !== undefined
  return {
    ...(taped ? withoutGuesses(station, ['dish.focalRatio']) : station),
    dish: {
      ...station.dish,
      diameterM: measures.diameterMm === undefined ? station.dish.diameterM : measures.diameterMm / 1000,
      focalRatio: taped || measures.diameterMm !== undefined ? shortRatio(answer.focalRatio) : station.dish.focalRatio,
      measured: measures,
    },
    ...(priors.length > 0 || station.priors !== undefined ? { priors } : {}),
    ...(station.changes === undefined ? {} : { changes }),
  }
}
const shortRatio = (ratio: number): number => Math.round(1e5 * ratio) / 1e5
