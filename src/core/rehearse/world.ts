/**
 * A dish that does not exist: from seed, kind and difficulty the station on paper, the real mount, and what each instrument shows at
 * an instant. Pure: the same setup and instant always show the same.
 *
 * Two times: the clock's, which the person reads and which may be off, and the true one, by which the sky turns. Both Unix ms.
 */

import { AXES } from '../mount/names.ts'
import { quietFlux } from '../noise/flux.ts'
import type { Axis, StationRecord, TargetRecord } from '../records/fieldbook.ts'
import { instantMs } from '../records/instant.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { maskAt, maskFromPoints } from '../sky/horizonmask.ts'
import type { Band, Site } from '../sky/place.ts'
import { airFrom } from '../sky/refraction.ts'
import { apparentPlace } from '../sky/targets.ts'
import { DAY_MS, DEG } from '../units.ts'
import { aimerOf, type Readings } from './aimed.ts'
import { type Drive, type DriveState, still } from './drives.ts'
import { type EdgeTilts, edgeTilts, fastenedAngleDeg, fastenedUp, fastening, type Sensor } from './fastened.ts'
import { degPerReading, drawFaults, type Faults, type HardFault } from './faults.ts'
import { fromMarkDeg, type Inclinometer, inclinometerDeg, mastDeg, rimDistanceMm, shownByTool } from './instruments.ts'
import { type LevelPlace, offsetDeg, type Paper, type TrueMount, type Truth, trueMount } from './mount.ts'
import { drawPaper } from './paper.ts'
import { echoDb, levelDb, type Receiver, type Scenery, tremblingDb } from './receiver.ts'
import { type Chance, chanceAbout } from './seed.ts'
import type { RehearsalSetup } from './setup.ts'
import { type FeedShadow, feedShadow } from './shadow.ts'
import { azimuthDeg, heightDeg, type V3 } from './turning.ts'

/** Where both drives are. */
export interface Hands {
  lower: DriveState
  upper: DriveState
}

export interface World {
  setup: RehearsalSetup
  paper: Paper
  faults: Faults
  receiver: Receiver
  drives: Record<Axis, Drive>
  inclinometer: Inclinometer
  /** Scribed marks: the reading at which the axis stood when they were made. */
  marks: Record<Axis, number>
  /** Where the drives are when the rehearsal begins. */
  first: Hands
  trueMs(clockMs: number): number
  mountAt(trueMs: number): TrueMount
  /** What the counters show. */
  readings(hands: Hands, trueMs: number): Readings
  /** The drive's place at which the counter shows a reading. */
  driveFor(axis: Axis, reading: number, trueMs: number): number
  /** True axis angles, degrees, slack included. */
  angles(hands: Hands, trueMs: number): { lowerDeg: number; upperDeg: number }
  /** Toward a body as it appears, Enu. */
  bodyAt(body: 'sun' | 'moon', trueMs: number, band: Band): V3
  /** Toward any target as it appears, Enu. */
  toward(target: TargetRecord, trueMs: number, band: Band): V3
  hears(
    hands: Hands,
    trueMs: number,
    seconds: number,
    feed?: string,
  ): { db: number; sigmaDb: number; echoDb: number | null }
  shadow(hands: Hands, trueMs: number, feed?: string): FeedShadow | null
  /** The middle of the shadow as a person reads it with a ruler; null where there is none. */
  shadowRead(hands: Hands, trueMs: number, feed?: string): { rightMm: number; upMm: number } | null
  inclined(hands: Hands, trueMs: number, place: LevelPlace, turnedAbout: boolean): number
  /** What the edges show of a phone fastened to what an axis moves. @param isAgain  taken off and fastened again end for end */
  fastened(hands: Hands, trueMs: number, axis: Axis, isAgain: boolean): EdgeTilts
  /** The angle of an inclinometer fastened there across the axis; null where the axis stands too steep for one. */
  turnsWith(hands: Hands, trueMs: number, axis: Axis): number | null
  mast(headingDeg: number, trueMs: number): number
  rim(clock: number, trueMs: number, feed?: string): number
  fromMark(axis: Axis, hands: Hands, trueMs: number): number
}

const siteOf = (paper: Paper): Site => ({
  lat: paper.site.latDeg * DEG,
  lon: paper.site.lonDeg * DEG,
  heightM: paper.site.heightM,
  air: airFrom(paper.site.heightM, paper.site.air),
})
const vector = (v: readonly number[]): V3 => [v[0]!, v[1]!, v[2]!]

/** A whole record, which the mount's equations take. */
const recordOf = (paper: Paper): StationRecord => ({ ...paper, id: 'rehearsal', name: 'rehearsal', sightings: [] })

/** Toward the coming month's Moon, wherever the paper dish reaches it. */
function reachedOnPaper(paper: Paper, startMs: number): V3[] {
  const site = siteOf(paper)
  const onto = aimerOf(trueMount(recordOf(paper), {}), 'beam')
  const out: V3[] = []
  for (let k = 0; k < 14; k++)
    for (let h = 0; h < 4; h++) {
      const place = apparentPlace({ type: 'moon' }, startMs + k * 2 * DAY_MS + (h * DAY_MS) / 4, site, 'radio')
      const toMoon = vector(place.direction)
      if (place.el >= 12 * DEG && onto(toMoon) !== null) out.push(toMoon)
    }
  return out
}

/** Whether the real dish reaches at least 70 % of that. */
function reaches(sky: readonly V3[], paper: Paper, faults: Faults): boolean {
  const mounts = faults.truths.map(t => aimerOf(trueMount(recordOf(paper), t.truth), 'beam'))
  return sky.filter(toMoon => mounts.every(onto => onto(toMoon) !== null)).length >= 0.7 * sky.length
}

/** Where a drive begins: well inside its ends. */
function begin(c: Chance, drive: Drive): number {
  return drive.low + c.between(0.3, 0.7) * (drive.high - drive.low)
}

/** The horizon under an azimuth; level where no mask was given. Degrees. */
function horizonAt(paper: Paper, azDeg: number): number {
  return Math.max(0, maskAt(maskFromPoints(paper.horizonMask ?? []), azDeg * DEG) / DEG)
}

/** The last entry that has begun at an instant. */
function latest<T extends { fromMs: number }>(list: readonly T[], ms: number): T {
  let found = list[0]!
  for (const one of list) if (one.fromMs <= ms) found = one
  return found
}

/** The drawn truths with what the person has done to the dish since. */
function withDeeds(faults: Faults, setup: RehearsalSetup): Faults['truths'] {
  const deeds = (setup.deeds ?? []).map(d => ({ ...d, ms: instantMs(d.utc) - 1000 * faults.clockErrorS }))
  const starts = [...new Set([...faults.truths.map(t => t.fromMs), ...deeds.map(d => d.ms)])].sort((a, b) => a - b)
  return starts.map(fromMs => {
    const truth: Truth = { ...latest(faults.truths, fromMs).truth }
    for (const d of deeds) if (d.ms <= fromMs) truth[d.id] = (truth[d.id] ?? 0) + d.by
    return { fromMs, truth }
  })
}

/** The drives: 1.5° a second, a jack 0.6°. Common practice, no source. */
function drivesOf(c: Chance, paper: Paper, faults: Faults): Record<Axis, Drive> {
  const one = (axis: Axis): Drive => {
    const { minReading, maxReading, readout, drive } = paper.mount[axis]
    const middle = (minReading + maxReading) / 2
    const perReading = degPerReading(paper, axis, middle)
    const readingsPerS = drive?.readingsPerS ?? (readout.type === 'jack' ? 0.6 : 1.5) / perReading
    const overrun = drive?.overrun ?? (c.between(0.1, 0.4) * 1) / perReading
    const play = Math.abs(faults.truths[0]!.truth[`${axis}Play`] ?? 0)
    const wrong = faults.wrongStop?.axis === axis ? faults.wrongStop : null
    return {
      readingsPerS,
      overrun,
      low: wrong?.end === 'low' ? wrong.reading : minReading,
      high: wrong?.end === 'high' ? wrong.reading : maxReading,
      slack: play / perReading,
    }
  }
  return { lower: one('lower'), upper: one('upper') }
}

/** The real receiver: its beamwidth within 5 % of the paper's, else of 70 λ/D. */
function receiverOf(c: Chance, paper: Paper): Receiver {
  const feed = paper.feeds[0]!
  const { diameterM } = paper.dish
  const hpbw = feed.beamwidthDeg ?? (70 * 299.792458) / feed.frequencyMHz / diameterM
  return {
    frequencyMHz: feed.frequencyMHz,
    diameterM,
    hpbwDeg: hpbw * c.between(0.95, 1.05),
    systemK: (feed.systemTemperatureK ?? 100) * c.between(0.9, 1.1),
    sunSfu: (quietFlux(feed.frequencyMHz) ?? 50) * c.between(1, 1.6),
    referenceDb: c.between(14, 18),
    bandwidthHz: 100_000,
  }
}

/** Own echoes with the Moon in the middle of the beam, over the noise in a narrow filter. Common practice, no source. */
const ECHO_PEAK_DB = 12
/** How much echoes fade from one to the next, 1 σ, dB. Common practice, no source. */
const ECHO_SWAYS_DB = 1.5

/** How well the middle of a soft shadow is read. Common practice: half of what a sighting is taken to have by default. */
const SHADOW_READ_MM = 4

/** Zero offset of each axis of a phone's sensor, g, 1 σ: somewhat more than half of the 20 mg of data sheets. From memory. */
const PHONE_BIAS = 0.012

/**
 * What the dish is on paper: the setup's own, or drawn from its seed.
 * @throws RangeError  a seed that is no whole number
 */
export function paperFor({ seed, kind, difficulty, paper }: RehearsalSetup): Paper {
  if (!Number.isInteger(seed)) throw new RangeError(`rehearsal: seed must be a whole number, got ${seed}`)
  return paper ?? drawPaper(chanceAbout(seed, 'paper', kind, difficulty), kind, difficulty)
}

/**
 * @param which  of a hard case's faults only these, for a study; all of them where it is left out
 * @throws RangeError  a seed that is no whole number
 */
export function worldOf(setup: RehearsalSetup, which?: readonly HardFault[]): World {
  const { seed, kind, difficulty } = setup
  const startMs = instantMs(setup.startUtc)
  const paper = paperFor(setup)
  const site = siteOf(paper)
  // A dish that no longer reaches its sky teaches nothing: the faults are drawn again, up to 40 times.
  const drawn = (k: number, only?: readonly HardFault[]): Faults =>
    drawFaults(chanceAbout(seed, 'faults', kind, difficulty, k), paper, difficulty, startMs, only)
  const sky = reachedOnPaper(paper, startMs)
  let nth = 0
  while (nth < 39 && !reaches(sky, paper, drawn(nth))) nth++
  const faults = drawn(nth, which)

  const c = chanceAbout(seed, 'things', kind, difficulty)
  const drives = drivesOf(c, paper, faults)
  const receiver = receiverOf(c, paper)
  const inclinometer: Inclinometer = {
    biasDeg: difficulty === 'beginner' ? 0 : c.normal(0.4, 2),
    stepDeg: 0.1,
    tremblesDeg: 0.05,
  }
  const biased = chanceAbout(seed, 'phone', kind, difficulty)
  const biasOf = (): number => (difficulty === 'beginner' ? 0 : biased.normal(PHONE_BIAS, 2))
  const sensor: Sensor = { bias: [biasOf(), biasOf(), biasOf()], tremblesDeg: 0.03 }
  const feedOutMm = difficulty === 'beginner' ? 0 : c.normal(4, 2)
  const record = recordOf(paper)
  const onPaper = trueMount(record, {})
  const fastenings = {
    lower: fastening(onPaper, 'lower', chanceAbout(seed, 'fastened', 'lower', kind, difficulty)),
    upper: fastening(onPaper, 'upper', chanceAbout(seed, 'fastened', 'upper', kind, difficulty)),
  }
  const mounts = withDeeds(faults, setup).map(t => ({ fromMs: t.fromMs, mount: trueMount(record, t.truth) }))
  const mountAt = (trueMs: number): TrueMount => latest(mounts, trueMs).mount
  const marks = { lower: 0, upper: 0 }
  for (const axis of AXES) {
    const { readout } = paper.mount[axis]
    const at = begin(c, drives[axis])
    marks[axis] = readout.type === 'degrees' ? Number(at.toFixed(1)) : Math.round(at)
  }
  const firstFeed = paper.feeds[0]!.id
  const first: Hands = { lower: still(begin(c, drives.lower)), upper: still(begin(c, drives.upper)) }

  const angles: World['angles'] = (hands, trueMs) => {
    const mount = mountAt(trueMs)
    const one = (axis: Axis): number =>
      mount.angleDeg(axis, hands[axis].at) + ((mount.truth[`${axis}Play`] ?? 0) / 2) * hands[axis].side
    return { lowerDeg: one('lower'), upperDeg: one('upper') }
  }
  /** What the counter has gained by an instant; lost counts are negative. */
  const gained = (axis: Axis, trueMs: number): number =>
    faults.slip?.axis === axis && trueMs >= faults.slip.fromMs ? faults.slip.counts : 0
  const readings: World['readings'] = (hands, trueMs) => {
    const one = (axis: Axis): number => {
      const shown = hands[axis].at + gained(axis, trueMs)
      return paper.mount[axis].readout.type === 'degrees' ? Number(shown.toFixed(1)) : Math.round(shown)
    }
    return { lower: one('lower'), upper: one('upper') }
  }
  /** Several instruments are looked at in one instant, and the ephemeris is what costs. */
  const places = new Map<string, { ms: number; v: V3 }>()
  const bodyAt: World['bodyAt'] = (body, trueMs, band) => {
    const last = places.get(body + band)
    if (last?.ms === trueMs) return last.v
    const v = vector(apparentPlace({ type: body }, trueMs, site, band).direction)
    places.set(body + band, { ms: trueMs, v })
    return v
  }
  const poseOf = (hands: Hands, trueMs: number, line: 'beam' | 'boresight', feed?: string) => {
    const { lowerDeg, upperDeg } = angles(hands, trueMs)
    return mountAt(trueMs).poseAt(lowerDeg, upperDeg, line, feed)
  }
  const shadow: World['shadow'] = (hands, trueMs, feed = firstFeed) => {
    const sun = bodyAt('sun', trueMs, 'optical')
    if (heightDeg(sun) < horizonAt(paper, azimuthDeg(sun))) return null
    return feedShadow(mountAt(trueMs), poseOf(hands, trueMs, 'boresight'), feed, sun, paper.dish.feedDiameterMm ?? 180)
  }
  const trembling = (trueMs: number, ...about: (string | number)[]): Chance =>
    chanceAbout(seed, ...about, Math.floor(trueMs / 100))

  return {
    setup,
    paper,
    faults,
    receiver,
    drives,
    inclinometer,
    marks,
    first,
    trueMs: clockMs => clockMs - 1000 * faults.clockErrorS,
    mountAt,
    readings,
    driveFor: (axis, reading, trueMs) => reading - gained(axis, trueMs),
    angles,
    bodyAt,
    toward: (target, trueMs, band) => vector(apparentPlace(targetFromRecord(target), trueMs, site, band).direction),
    hears(hands, trueMs, seconds, feed = firstFeed) {
      const pose = poseOf(hands, trueMs, 'beam', feed)
      const horizonDeg = horizonAt(paper, azimuthDeg(pose.b))
      const about = (body: 'sun' | 'moon'): readonly [number, number] | null => {
        const v = bodyAt(body, trueMs, 'radio')
        return heightDeg(v) < horizonAt(paper, azimuthDeg(v)) ? null : offsetDeg(pose, v)
      }
      const moon = about('moon')
      const seen: Scenery = { beamElDeg: heightDeg(pose.b), horizonDeg, sun: about('sun'), moon }
      const sigmaDb = tremblingDb(receiver.bandwidthHz, seconds)
      const c = trembling(trueMs, 'level', seconds)
      const echo = paper.feeds.find(f => f.id === feed)?.hearsMoonEchoes
        ? echoDb(ECHO_PEAK_DB, moon, receiver.hpbwDeg)
        : null
      return {
        db: levelDb(receiver, seen) + c.normal(sigmaDb),
        sigmaDb,
        echoDb: echo === null || echo < 0 ? null : echo + c.normal(ECHO_SWAYS_DB / Math.sqrt(Math.max(1, seconds / 3))),
      }
    },
    shadow,
    shadowRead(hands, trueMs, feed = firstFeed) {
      const seen = shadow(hands, trueMs, feed)
      if (seen === null) return null
      const c = trembling(trueMs, 'shadow')
      const read = (mm: number): number => Math.round(mm + c.normal(SHADOW_READ_MM))
      return { rightMm: read(seen.centre[0]), upMm: read(seen.centre[1]) }
    },
    inclined(hands, trueMs, place, turnedAbout) {
      const c = trembling(trueMs, 'inclinometer', place, turnedAbout ? 1 : 0)
      return inclinometerDeg(inclinometer, mountAt(trueMs), place, angles(hands, trueMs), turnedAbout, c)
    },
    fastened(hands, trueMs, axis, isAgain) {
      const c = trembling(trueMs, 'fastened', axis, isAgain ? 1 : 0)
      return edgeTilts(fastenedUp(mountAt(trueMs), fastenings[axis], isAgain, sensor, angles(hands, trueMs), c))
    },
    turnsWith(hands, trueMs, axis) {
      const angle = fastenedAngleDeg(mountAt(trueMs), fastenings[axis], angles(hands, trueMs))
      return angle === null ? null : shownByTool(inclinometer, angle, trembling(trueMs, 'turns with', axis))
    },
    mast: (headingDeg, trueMs) =>
      mastDeg(inclinometer, mountAt(trueMs), headingDeg, trembling(trueMs, 'mast', headingDeg)),
    rim: (clock, trueMs, feed = firstFeed) =>
      rimDistanceMm(mountAt(trueMs), feed, clock, feedOutMm, trembling(trueMs, 'tape', clock)),
    fromMark(axis, hands, trueMs) {
      const { lowerDeg, upperDeg } = angles(hands, trueMs)
      return fromMarkDeg(mountAt(trueMs), axis, axis === 'lower' ? lowerDeg : upperDeg, marks[axis])
    },
  }
}
