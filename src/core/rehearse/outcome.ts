/**
 * How a rehearsal ended: the truth beside what was found, the real pointing error beside the claimed one, the wrong readings and
 * whether they were set aside, the hidden faults and whether the book knows of them. Degrees, ratios, millimetres, dB.
 *
 * Judged on the rehearsal's own mount, never on the solver's chain. From the solver only its answers are used: the solution, and the
 * readings of its target table.
 */
import { sunFromShadow } from '../dish/shadow.ts'
import { AXES } from '../mount/names.ts'
import type { HasMovedJson } from '../plan/hasmovedjson.ts'
import { trueMsAt } from '../records/clockchecks.ts'
import type { Axis, SightingRecord, StationRecord } from '../records/fieldbook.ts'
import { instantMs } from '../records/instant.ts'
import type { Solution, SolvedParameter } from '../records/solution.ts'
import { DAY_MS, DEG } from '../units.ts'
import type { HardFault } from './faults.ts'
import { type LineName, offsetDeg, type Paper, type Truth } from './mount.ts'
import { type AppSaid, CLOCK_S, knowsStop, type Naming, namingOf } from './named.ts'
import { power } from './pattern.ts'
import { apartDeg } from './turning.ts'
import type { World } from './world.ts'

/** One parameter. */
export interface FoundRow {
  parameter: SolvedParameter
  /** Null: after changes to the readout no single number expresses it. */
  truth: number | null
  /** Found minus true, in σ as stated. */
  offSigmas: number | null
}

export interface WrongReading {
  id: string
  /** Its error, and its stated σ. */
  missDeg: number
  sigmaDeg: number
  /** With the true time it would be right. */
  byClock: boolean
  /** Set aside by the solution or by the person. */
  isCaught: boolean
}

/** A hidden fault that no deviation of the mount explains. */
export interface HiddenThing {
  kind: HardFault
  axis?: Axis
  counts?: number
  seconds?: number
  /** How far a feed was off to the right when the rehearsal began. */
  rightMm?: number
  /** Lost motion. */
  deg?: number
  /** When it happened, by the rehearsal's clock; Unix ms. */
  clockMs?: number
  reading?: number
  /** Whether the book knows of it: noted by the person; or named by the app, first or among others. */
  naming: 'noted' | Naming
}

export interface Outcome {
  rows: FoundRow[]
  /** Over the rows of the Moon's table; null where it has none in reach. */
  pointing: { p95Deg: number; worstDeg: number; lossP95Db: number; lossWorstDb: number; points: number } | null
  claimed: { p95Deg: number; lossP95Db: number; within: boolean }
  /** The claim holds: the real loss is at most 1.3 times the claimed one, or a tenth of a decibel more. */
  holds: boolean | null
  wrong: WrongReading[]
  /** Set aside though right. */
  accused: string[]
  hidden: HiddenThing[]
  /** Since the rehearsal began, by its own clock. */
  spentMs: number
  sightings: number
  /** What a good practitioner takes; common practice, no source. */
  practised: { sightings: number; hours: number }
}

const PRACTISED = {
  beginner: { sightings: 10, hours: 30 },
  ordinary: { sightings: 16, hours: 72 },
  hard: { sightings: 26, hours: 168 },
} as const

/**
 * The truth as deviations from the station as it is entered now: another heading or a calibrated readout moves the zero that they are
 * counted from. NaN: no number expresses it any more.
 *
 * @param lost  counts that the counter has gained by now (negative: lost); they are part of its zero
 */
export function truthOnPaper(from: Paper, to: Paper, truth: Truth, lost: Record<Axis, number>): Truth {
  const out: Truth = { ...truth }
  const of = (id: string): number => truth[id] ?? 0
  const turned = (deg: number): number => ((((deg + 180) % 360) + 360) % 360) - 180
  if (from.mount.headingDeg !== undefined && to.mount.headingDeg !== undefined)
    out.heading = turned(of('heading') + from.mount.headingDeg - to.mount.headingDeg)
  for (const axis of AXES) {
    const [a, b] = [from.mount[axis].readout, to.mount[axis].readout]
    const zero = `${axis}Zero`
    const scale = `${axis}Scale`
    if (a.type === 'degrees' && b.type === 'degrees') continue
    if (a.type === 'linear-counts' && b.type === 'linear-counts') {
      const perCount = (1 + of(scale)) / a.countsPerDeg
      out[scale] = perCount * b.countsPerDeg - 1
      // A gained count is one that the axis has not turned.
      out[zero] = of(zero) + perCount * (b.zeroCounts - a.zeroCounts - lost[axis])
    } else if (
      a.type === 'jack' &&
      b.type === 'jack' &&
      lost[axis] === 0 &&
      a.lengthAtReadingZeroMm === b.lengthAtReadingZeroMm &&
      a.countsPerMm === b.countsPerMm &&
      a.direction === b.direction
    ) {
      out[`${axis}BaseArm`] = of(`${axis}BaseArm`) + a.baseArmMm - b.baseArmMm
      out[`${axis}RodArm`] = of(`${axis}RodArm`) + a.rodArmMm - b.rodArmMm
      out[zero] = of(zero) + a.direction * (b.phiAtAngleZeroDeg - a.phiAtAngleZeroDeg)
    } else for (const id of ['Zero', 'Scale', 'BaseArm', 'RodArm']) out[axis + id] = Number.NaN
  }
  return out
}

const lineOf = (s: SightingRecord): LineName =>
  s.method === 'shadow' ? 'shadow' : s.method === 'optical' ? 'tube' : 'beam'

/** The error of a sighting as written down, degrees, on the real dish. */
function missOf(world: World, s: SightingRecord, claimedMs: number, trueMs: number): number {
  const mount = world.mountAt(trueMs)
  const band = lineOf(s) === 'beam' ? 'radio' : 'optical'
  const at = (axis: Axis): number => mount.angleDeg(axis, world.driveFor(axis, s[axis], trueMs), s.arrivedFrom?.[axis])
  const pose = mount.poseAt(at('lower'), at('upper'), lineOf(s), s.feed)
  const [x, y] = offsetDeg(pose, world.toward(s.target, claimedMs, band))
  const { dish } = world.paper
  const sun = s.shadow && sunFromShadow(dish.focalRatio * dish.diameterM * 1000, s.shadow.rightMm, s.shadow.upMm)
  const [right, up] = sun ? [sun.right / DEG, sun.up / DEG] : [s.offset?.rightDeg ?? 0, s.offset?.upDeg ?? 0]
  return Math.hypot(x - right, y - up)
}

/** A reading is wrong beyond this many of its own σ, and at least by what lost motion and counts do to a good one. */
const WRONG_SIGMAS = 4.5
const WRONG_LEAST_DEG = 0.5

function wrongReadings(
  world: World,
  station: StationRecord,
  solution: Solution,
): { wrong: WrongReading[]; accused: string[] } {
  const wrong: WrongReading[] = []
  const accused: string[] = []
  const solved = new Map(solution.sightings.map(s => [s.id, s]))
  for (const s of station.sightings) {
    const of = solved.get(s.id)
    if (of === undefined || of.repeats !== undefined) continue
    const shownMs = instantMs(s.utc)
    const trueMs = world.trueMs(shownMs)
    const claimedMs = shownMs - 1000 * (s.clockOffsetS ?? 0)
    const missDeg = missOf(world, s, claimedMs, trueMs)
    const limit = Math.max(WRONG_LEAST_DEG, WRONG_SIGMAS * of.sigmaDeg)
    if (missDeg > limit)
      wrong.push({
        id: s.id,
        missDeg,
        sigmaDeg: of.sigmaDeg,
        byClock: missOf(world, s, trueMs, trueMs) <= limit,
        isCaught: of.status !== 'used',
      })
    else if (of.status === 'outlier') accused.push(s.id)
  }
  return { wrong, accused }
}

/** Whether a change of one of these kinds was noted shortly before an instant or later. */
const isNoted = (station: StationRecord, what: readonly string[], fromMs: number): boolean =>
  (station.changes ?? []).some(c => instantMs(c.utc) >= fromMs && c.what.some(w => w === 'all' || what.includes(w)))

/** A change may be dated back to the last time that all was well. */
const BACK_MS = DAY_MS

function hiddenThings(world: World, said: AppSaid, nowMs: number): HiddenThing[] {
  const { station } = said
  const { faults, paper, drives } = world
  const { clockErrorS, slip, stormMs, wrongStop, feedOff, backlash } = faults
  const shown = (trueMs: number): number => trueMs + 1000 * clockErrorS
  const naming = (isNoted: boolean, ...of: [Parameters<typeof namingOf>[0], Parameters<typeof namingOf>[2]]) =>
    isNoted ? 'noted' : namingOf(of[0], said, of[1])
  const out: HiddenThing[] = []
  if (clockErrorS !== 0) {
    const isCompared =
      Math.abs(trueMsAt(station, nowMs) - world.trueMs(nowMs)) < 1000 * CLOCK_S ||
      station.sightings.some(s => Math.abs((s.clockOffsetS ?? 0) - clockErrorS) < CLOCK_S)
    out.push({ kind: 'clock', seconds: clockErrorS, naming: naming(isCompared, 'clock', { seconds: clockErrorS }) })
  }
  if (slip !== null && world.trueMs(nowMs) >= slip.fromMs) {
    const { axis, counts, fromMs } = slip
    const noted = isNoted(station, [`${axis}-zero`, `${axis}-readout`], shown(fromMs) - BACK_MS)
    out.push({ kind: 'slip', axis, counts, clockMs: shown(fromMs), naming: naming(noted, 'slip', { axis }) })
  }
  if (feedOff !== null) {
    const { feed, rightMm } = feedOff
    const moved = (world.setup.deeds ?? []).some(d => d.id === `feedRight:${feed}`)
    out.push({ kind: 'feed', rightMm, naming: naming(moved, 'feed', { feed }) })
  }
  if (stormMs !== null && world.trueMs(nowMs) >= stormMs) {
    const noted = isNoted(station, ['lower-axis'], shown(stormMs) - BACK_MS)
    out.push({ kind: 'storm', clockMs: shown(stormMs), naming: naming(noted, 'storm', {}) })
  }
  if (wrongStop !== null) {
    const { axis, reading } = wrongStop
    out.push({ kind: 'stop', axis, reading, naming: knowsStop(station, paper, drives, wrongStop) ? 'noted' : 'not' })
  }
  if (backlash !== null)
    out.push({ kind: 'backlash', ...backlash, naming: namingOf('backlash', said, { axis: backlash.axis }) })
  return out
}

/** One row of the solver's target table of the Moon. */
export interface MoonRow {
  utcMs: number
  lower: number
  upper: number
}

/** The rows of a target table that are within reach. @param csv  as the core writes it */
export const rowsOfTable = (csv: string): MoonRow[] =>
  csv
    .trim()
    .split('\r\n')
    .slice(1)
    .map(line => line.split(','))
    .filter(cells => cells[6] === 'true')
    .map(([utc, , , , lower, upper]) => ({ utcMs: instantMs(utc!), lower: Number(lower), upper: Number(upper) }))

/** By how many degrees the real dish misses the Moon when driven to each row, in whole counts or tenths of a degree. */
function missesOf(world: World, table: readonly MoonRow[], nowMs: number, feed: string): number[] {
  const trueNow = world.trueMs(nowMs)
  // The mount as it stands now, under the Moon of the days to come.
  const mount = world.mountAt(trueNow)
  const counted = (axis: Axis, reading: number): number =>
    world.paper.mount[axis].readout.type === 'degrees' ? Number(reading.toFixed(1)) : Math.round(reading)
  return table.map(row => {
    const at = (axis: Axis): number => mount.angleDeg(axis, world.driveFor(axis, counted(axis, row[axis]), trueNow))
    const { b } = mount.poseAt(at('lower'), at('upper'), 'beam', feed)
    return apartDeg(b, world.toward({ type: 'moon' }, row.utcMs, 'radio'))
  })
}

/** Own echoes lose twice what the pattern loses. */
const lossDb = (missDeg: number, hpbwDeg: number): number => -20 * Math.log10(power(missDeg, hpbwDeg))

/**
 * @param solution  the solver's answer at now
 * @param table     its target table of the Moon for the days to come
 * @param nowMs     what the rehearsal's clock shows, Unix ms
 * @param moved     its answer to "has it moved", where that was asked
 */
export function outcomeOf(
  world: World,
  station: StationRecord,
  solution: Solution,
  table: readonly MoonRow[],
  nowMs: number,
  moved: HasMovedJson | null = null,
): Outcome {
  const trueNow = world.trueMs(nowMs)
  const { slip } = world.faults
  const lost = (axis: Axis): number => (slip?.axis === axis && trueNow >= slip.fromMs ? slip.counts : 0)
  const truth = truthOnPaper(world.paper, station, world.mountAt(trueNow).truth, {
    lower: lost('lower'),
    upper: lost('upper'),
  })
  const rows = solution.parameters.map((parameter): FoundRow => {
    const value = truth[parameter.feed === undefined ? parameter.id : `${parameter.id}:${parameter.feed}`] ?? 0
    if (!Number.isFinite(value)) return { parameter, truth: null, offSigmas: null }
    return {
      parameter,
      truth: value,
      offSigmas: parameter.sigma > 0 ? (parameter.value - value) / parameter.sigma : null,
    }
  })
  const misses = missesOf(world, table, nowMs, solution.feed).sort((a, b) => a - b)
  const { hpbwDeg } = world.receiver
  const p95Deg = misses[Math.min(misses.length - 1, Math.floor(0.95 * misses.length))]
  const pointing =
    p95Deg === undefined
      ? null
      : {
          p95Deg,
          worstDeg: misses.at(-1)!,
          lossP95Db: lossDb(p95Deg, hpbwDeg),
          lossWorstDb: lossDb(misses.at(-1)!, hpbwDeg),
          points: misses.length,
        }
  const claimed = {
    p95Deg: solution.sky.after.p95Deg,
    lossP95Db: solution.sky.echoLossP95Db,
    within: solution.sky.within,
  }
  return {
    rows,
    pointing,
    claimed,
    holds: pointing === null ? null : pointing.lossP95Db <= Math.max(1.3 * claimed.lossP95Db, claimed.lossP95Db + 0.1),
    ...wrongReadings(world, station, solution),
    hidden: hiddenThings(world, { station, solution, moved }, nowMs),
    spentMs: nowMs - instantMs(world.setup.startUtc),
    sightings: station.sightings.length,
    practised: PRACTISED[world.setup.difficulty],
  }
}
