/**
 * What a station's noise records say: system temperature and G/T of each, what the dish should hear of Sun and Moon, and
 * whether it has changed. Records in, plain JSON out: dB, kelvin, degrees.
 */
import { beamwidth } from '../dish/optics.ts'
import type { FeedRecord, StationRecord } from '../records/fieldbook.ts'
import { instantMs } from '../records/instant.ts'
import { type NoiseOf, type NoiseRecord, noiseOf, ratioOf } from '../records/noise.ts'
import { radFromDeg } from '../units.ts'
import { type Flux, fluxBetween, quietFlux } from './flux.ts'
import { HEARD_DB, MOON_K, moonRiseDb, SYSTEM_K, sourceSizeFactor } from './noise.ts'
import { type NoiseStep, stepIn } from './noisetrend.ts'
import {
  airLossDb,
  areaFromGain,
  areaOfDish,
  dbFromRatio,
  discHeard,
  type Ear,
  gainFromArea,
  gOverTDb,
  growthOfY,
  receiverFromHotCold,
  riseDb,
  sunHeard,
  systemFromRise,
} from './yfactor.ts'

/** Common practice, no source: a good dish and feed; the Sun's disc at radio; the Moon from memory; ground, sky and spill. */
const EFFICIENCY = 0.55
const SUN_DEG = 0.53
const MOON_DEG = 0.518
export const HOT_K = 290
export const COLD_K = 30
/** 1 σ, dB: of a rise as read; of a flux typed for the frequency, of one interpolated; of Moon, ground and load. Estimates. */
const READ_DB = 0.1
const SOURCE_DB = { typed: 0.2, between: 0.3, moon: 0.2, ground: 0.2, load: 0.1 }

export type NoiseResult =
  | {
      kind: 'result'
      yDb: number
      gOverTDb: number
      /** 1 σ of G/T, and of the system temperature: both in dB. */
      sigmaDb: number
      systemK: number
      /** Ground and load: the receiver alone. */
      receiverK: number | null
      /** What the Sun or Moon added. */
      sourceK: number | null
      sfu: number | null
      areaM2: number
      gainDbi: number
      gainKnown: boolean
      /** What the width of the disc, the air and other losses took, dB. */
      sizeDb: number
      airDb: number
      lossDb: number
    }
  /** The hot source was not above the cold sky. */
  | { kind: 'no-rise'; yDb: number }
  /** A larger rise than ground or load can give over such a sky: one of the temperatures is misjudged. */
  | { kind: 'too-much-rise'; yDb: number; mostDb: number }
  | { kind: 'no-flux'; why: Exclude<Flux, { kind: 'flux' }> }

export interface NoiseRow {
  id: string
  utc: string
  feed: string
  of: NoiseOf
  result: NoiseResult
}

export interface ExpectedNoise {
  feed: string
  name: string
  systemK: number
  systemFrom: 'measured' | 'station' | 'assumed'
  sfu: number | null
  fluxFrom: 'measured' | 'quiet'
  sunDb: number | null
  moonDb: number
  /** By its noise; this says nothing about echoes. */
  moonTooWeak: boolean
  hearsMoonEchoes: boolean
}

export interface NoiseAnswer {
  rows: NoiseRow[]
  expected: ExpectedNoise[]
  /** Of each feed and kind that has stepped. */
  steps: ({ feed: string; of: NoiseOf } & NoiseStep)[]
}

const hpbwOf = (station: StationRecord, feed: FeedRecord) =>
  feed.beamwidthDeg === undefined ? beamwidth(feed.frequencyMHz, station.dish.diameterM) : radFromDeg(feed.beamwidthDeg)

function fluxOf(record: NoiseRecord, feed: FeedRecord): Flux {
  if (record.fluxSfu !== undefined) return { kind: 'flux', sfu: record.fluxSfu }
  return fluxBetween(feed.frequencyMHz, record.fluxAt ?? [])
}

/** What one record says. */
export function noiseResult(station: StationRecord, record: NoiseRecord, feed: FeedRecord): NoiseResult {
  const areaM2 =
    record.gainDbi === undefined
      ? areaOfDish(station.dish.diameterM, EFFICIENCY)
      : areaFromGain(record.gainDbi, feed.frequencyMHz)
  const ear: Ear = { frequency: feed.frequencyMHz, areaM2, hpbw: hpbwOf(station, feed) }
  const y = ratioOf(record)
  const yDb = dbFromRatio(y)
  const airDb = record.air === undefined ? 0 : airLossDb(record.air.zenithDb, radFromDeg(record.air.elDeg))
  const lossDb = record.lossDb ?? 0
  const disc = radFromDeg(record.discDeg ?? (record.of === 'sun' ? SUN_DEG : MOON_DEG))
  const isDisc = record.of === 'sun' || record.of === 'moon'
  const flux = record.of === 'sun' ? fluxOf(record, feed) : null
  if (flux !== null && flux.kind !== 'flux') return { kind: 'no-flux', why: flux }
  if (!(y > 1)) return { kind: 'no-rise', yDb }
  let systemK: number
  let receiverK: number | null = null
  let sourceK: number | null = null
  if (isDisc) {
    sourceK =
      flux !== null
        ? sunHeard(flux.sfu, ear, disc, airDb + lossDb)
        : discHeard(record.brightnessK ?? MOON_K, ear, disc, airDb + lossDb)
    systemK = systemFromRise(y, sourceK)!
  } else {
    const hot = record.hotK ?? HOT_K
    const cold = record.coldK ?? COLD_K
    receiverK = receiverFromHotCold(y, hot, cold)!
    if (!(receiverK > 0)) return { kind: 'too-much-rise', yDb, mostDb: dbFromRatio(hot / cold) }
    systemK = receiverK + cold
  }
  const source =
    record.of === 'sun' ? SOURCE_DB[record.fluxSfu === undefined ? 'between' : 'typed'] : SOURCE_DB[record.of]
  return {
    kind: 'result',
    yDb,
    gOverTDb: gOverTDb(areaM2, feed.frequencyMHz, systemK),
    sigmaDb: Math.hypot((record.sigmaDb ?? READ_DB) * growthOfY(y), source),
    systemK,
    receiverK,
    sourceK,
    sfu: flux?.sfu ?? null,
    areaM2,
    gainDbi: gainFromArea(areaM2, feed.frequencyMHz),
    gainKnown: record.gainDbi !== undefined,
    sizeDb: isDisc ? dbFromRatio(sourceSizeFactor(disc, ear.hpbw)) : 0,
    airDb: isDisc ? airDb : 0,
    lossDb: isDisc ? lossDb : 0,
  }
}

/** What a feed should hear, by what was last measured with it. */
function expectedOf(station: StationRecord, feed: FeedRecord, rows: readonly NoiseRow[]): ExpectedNoise {
  const ofFeed = rows.filter(r => r.feed === feed.id && r.result.kind === 'result')
  const last = ofFeed.at(-1)?.result
  const lastSun = ofFeed.filter(r => r.of === 'sun').at(-1)?.result
  const measured = last?.kind === 'result' ? last.systemK : null
  const systemK = measured ?? feed.systemTemperatureK ?? SYSTEM_K
  const heardSfu = lastSun?.kind === 'result' ? lastSun.sfu : null
  const sfu = heardSfu ?? quietFlux(feed.frequencyMHz)
  const hpbw = hpbwOf(station, feed)
  const areaM2 =
    last?.kind === 'result' && last.gainKnown ? last.areaM2 : areaOfDish(station.dish.diameterM, EFFICIENCY)
  const ear: Ear = { frequency: feed.frequencyMHz, areaM2, hpbw }
  const moonDb = moonRiseDb(feed.frequencyMHz, station.dish.diameterM, hpbw, systemK)
  return {
    feed: feed.id,
    name: feed.name,
    systemK,
    systemFrom: measured !== null ? 'measured' : feed.systemTemperatureK === undefined ? 'assumed' : 'station',
    sfu,
    fluxFrom: heardSfu !== null ? 'measured' : 'quiet',
    sunDb: sfu === null ? null : riseDb(sunHeard(sfu, ear, radFromDeg(SUN_DEG), 0), systemK),
    moonDb,
    moonTooWeak: moonDb < HEARD_DB,
    hearsMoonEchoes: feed.hearsMoonEchoes ?? false,
  }
}

/** Every noise record of a station, oldest first, and what follows from them. */
export function noiseAnswer(station: StationRecord): NoiseAnswer {
  const feeds = new Map(station.feeds.map(f => [f.id, f]))
  const rows = noiseOf(station.noise)
    .filter(r => feeds.has(r.feed))
    .sort((a, b) => instantMs(a.utc) - instantMs(b.utc))
    .map(r => ({ id: r.id, utc: r.utc, feed: r.feed, of: r.of, result: noiseResult(station, r, feeds.get(r.feed)!) }))
  const steps: NoiseAnswer['steps'] = []
  for (const feed of station.feeds)
    for (const of of ['sun', 'moon', 'ground', 'load'] as const) {
      const heard = rows.flatMap(r =>
        r.feed === feed.id && r.of === of && r.result.kind === 'result'
          ? [{ id: r.id, utc: r.utc, db: r.result.gOverTDb, sigma: r.result.sigmaDb }]
          : [],
      )
      const step = stepIn(heard)
      if (step !== null) steps.push({ feed: feed.id, of, ...step })
    }
  return { rows, expected: station.feeds.map(f => expectedOf(station, f, rows)), steps }
}
