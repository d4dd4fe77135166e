/** The first search as JSON: the pattern in degrees, what the Sun should do, how long it takes; and the readings of one step at a time. */
import { canHearMoon, isFound } from '../fit/nextbest.ts'
import type { Solved } from '../fit/solved.ts'
import { HEARD_DB } from '../noise/noise.ts'
import { noiseAnswer } from '../noise/noiseanswer.ts'
import { countsSteps } from '../readout/readout.ts'
import type { Axis } from '../records/fieldbook.ts'
import { utcFromMs } from '../records/instant.ts'
import { RANGES } from '../records/ranges.ts'
import { type Feed, isHighEnough, type Station } from '../records/station.ts'
import { degFromRad, HOUR_MS, type UtcMs } from '../units.ts'
import { type FirstSearch, firstSearchOf, searchReadings, sunAt } from './firstsearch.ts'

export interface FirstSearchWish {
  /** When the search began: its pattern belongs to that time. Default now. */
  startedUtc?: string
  /** Between steps no more is lost than that, dB one way. Default 3. */
  lossDb?: number
  /** To listen at a step, and to drive there where no speed is given. Default 20. */
  secondsEach?: number
  /** Readings a second, in place of the speed that the station states. */
  readingsPerS?: Partial<Record<Axis, number>>
}

export interface FirstSearchJson {
  startedUtc: string
  /** `sun-low`: below mask or minimum elevation. `no-pose`: nowhere a pose inside the limits. */
  state: 'search' | 'sun-low' | 'no-pose'
  sun: { azDeg: number; elDeg: number }
  /** When the Sun is next high enough; null: it is, or within two days never is. */
  nextUtc: string | null
  beamwidthDeg: number
  lossDb: number
  /** From place to place, along the wide direction and across. */
  stepDeg: { along: number; across: number }
  /** As far as the mount may be off, 95 %, to either side. */
  extentDeg: { wide: number; narrow: number }
  /** Nothing is known along one direction: the search goes all the way round. */
  isCircle: boolean
  /** Too wide for a plane: right and up are those of an unrolled map. */
  isUnrolled: boolean
  /** In order: where the Sun would stand from the beam of the mount as known. `inside` false: beyond a stop, skipped. */
  steps: { rightDeg: number; upDeg: number; inside: boolean }[]
  skipped: number
  /** Steps beyond the most that are listed. */
  leftOut: number
  /** For all steps inside. */
  seconds: number
  /** Of a sighting made by it, each coordinate: half a step and a beamwidth, since the skirts of the beam are heard too. */
  sigmaDeg: number
  rise: {
    /** The Sun in the middle of the beam, and between steps, above cold sky; null where no flux is published for the frequency. */
    sunDb: number | null
    betweenDb: number | null
    fluxFrom: 'measured' | 'quiet'
    sfu: number | null
    systemFrom: 'measured' | 'station' | 'assumed'
    /** Null: not known. */
    isHeard: boolean | null
  }
  /** Whether the Moon may be looked for by its own noise or echo: not while the beam may be more than its width off it. */
  moon: 'too-far' | 'not-heard' | 'may'
}

export interface SearchStepJson {
  step: number
  utc: string
  /** Above mask and minimum elevation. */
  isUp: boolean
  sun: { azDeg: number; elDeg: number }
  lower: number
  upper: number
  inside: boolean
}

const LARGEST_SIGMA_DEG = RANGES.sigmaDeg[1]
const MOST = 3000
const SECONDS_EACH = 20
const SOON_MS = 300_000
const LONG_MS = 48 * HOUR_MS

const angles = (p: { az: number; el: number }) => ({ azDeg: degFromRad(p.az), elDeg: degFromRad(p.el) })

/** The rise above cold sky that is left when the source is heard weaker by `lossDb`, dB. */
const riseAtLoss = (riseDb: number, lossDb: number): number =>
  10 * Math.log10(1 + (10 ** (riseDb / 10) - 1) * 10 ** (-lossDb / 10))

export function firstSearchJson(solved: Solved, feed: Feed, startMs: UtcMs, wish: FirstSearchWish): FirstSearchJson {
  const { station } = solved
  const sun = sunAt(station, startMs)
  const isUp = isHighEnough(station, feed, sun.az, sun.el)
  const search = firstSearchOf(solved, feed, startMs, wish.lossDb)
  const listed = search === null ? [] : stepsOf(search, startMs)
  const inside = listed.filter(s => s.inside)
  const lossDb = search?.lossDb ?? wish.lossDb ?? 3
  const step = search?.pattern.step ?? { along: 0, across: 0 }
  const extent = search?.extent ?? { wide: 0, narrow: 0 }
  return {
    startedUtc: utcFromMs(startMs),
    state: !isUp ? 'sun-low' : inside.length === 0 ? 'no-pose' : 'search',
    sun: angles(sun),
    nextUtc: isUp ? null : nextUp(station, feed, startMs),
    beamwidthDeg: degFromRad(feed.hpbw),
    lossDb,
    stepDeg: { along: degFromRad(step.along), across: degFromRad(step.across) },
    extentDeg: { wide: degFromRad(extent.wide), narrow: degFromRad(extent.narrow) },
    isCircle: search?.isCircle ?? false,
    isUnrolled: search !== null && search.turning !== null,
    steps: listed.map(({ rightDeg, upDeg, inside }) => ({ rightDeg, upDeg, inside })),
    skipped: listed.length - inside.length,
    leftOut: Math.max(0, (search?.pattern.places.length ?? 0) - MOST),
    seconds: secondsOf(inside, station.record.mount, wish),
    sigmaDeg: Math.min(LARGEST_SIGMA_DEG, degFromRad(Math.max(step.along, step.across) / 2 + feed.hpbw)),
    rise: riseOf(solved, feed, lossDb),
    moon: !isFound(extent.wide, feed) || search === null ? 'too-far' : canHearMoon(station, feed) ? 'may' : 'not-heard',
  }
}

interface Listed {
  rightDeg: number
  upDeg: number
  inside: boolean
  lower: number
  upper: number
}

function stepsOf(search: FirstSearch, utcMs: UtcMs): Listed[] {
  const at = searchReadings(search, utcMs)
  const [x, y] = search.wide
  return search.pattern.places.slice(0, MOST).map(([along, across], k) => {
    const reach = at(k)
    return {
      rightDeg: degFromRad(along * x - across * y),
      upDeg: degFromRad(along * y + across * x),
      inside: reach?.inside ?? false,
      lower: reach?.lower ?? Number.NaN,
      upper: reach?.upper ?? Number.NaN,
    }
  })
}

/** Listening at each step; and the way there: both axes drive at once, the slower one counts. */
function secondsOf(
  steps: readonly Listed[],
  mount: Station['record']['mount'],
  { secondsEach = SECONDS_EACH, readingsPerS = {} }: FirstSearchWish,
): number {
  return steps.reduce((sum, step, k) => {
    const before = steps[k - 1]
    const way = (axis: Axis): number => {
      const speed = readingsPerS[axis] ?? mount[axis].drive?.readingsPerS
      return before === undefined || speed === undefined || !(speed > 0)
        ? 0
        : Math.abs(step[axis] - before[axis]) / speed
    }
    return sum + secondsEach + Math.max(way('lower'), way('upper'))
  }, 0)
}

function nextUp(station: Station, feed: Feed, fromMs: UtcMs): string | null {
  for (let ms = fromMs; ms <= fromMs + LONG_MS; ms += SOON_MS) {
    const { az, el } = sunAt(station, ms)
    if (isHighEnough(station, feed, az, el)) return utcFromMs(ms)
  }
  return null
}

function riseOf({ station }: Solved, feed: Feed, lossDb: number): FirstSearchJson['rise'] {
  const { sunDb, fluxFrom, sfu, systemFrom } = noiseAnswer(station.record).expected.find(e => e.feed === feed.id)!
  const betweenDb = sunDb === null ? null : riseAtLoss(sunDb, lossDb)
  return { sunDb, betweenDb, fluxFrom, sfu, systemFrom, isHeard: betweenDb === null ? null : betweenDb >= HEARD_DB }
}

/** The readings of one step at a time, as the axes show them; null where there is no pose. */
export function searchStepJson(
  solved: Solved,
  feed: Feed,
  startMs: UtcMs,
  utcMs: UtcMs,
  { step, lossDb }: { step: number; lossDb?: number },
): SearchStepJson | null {
  const search = firstSearchOf(solved, feed, startMs, lossDb)
  if (search === null || search.pattern.places[step] === undefined) return null
  const reach = searchReadings(search, utcMs)(step)
  if (reach === null) return null
  const { model } = solved.station
  const shown = (axis: Axis) => (countsSteps(model[axis].readout) ? Math.round(reach[axis]) : reach[axis])
  const sun = sunAt(solved.station, utcMs)
  return {
    step,
    utc: utcFromMs(utcMs),
    isUp: isHighEnough(solved.station, feed, sun.az, sun.el),
    sun: angles(sun),
    lower: shown('lower'),
    upper: shown('upper'),
    inside: reach.inside,
  }
}
