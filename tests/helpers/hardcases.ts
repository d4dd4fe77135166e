/**
 * One hard fault in a dish that is otherwise only as wrong as second-hand mounts are, and the same dish without it: what somebody
 * writes down of some days who peaks with the meter, notes the side of arrival, levels at the beginning and the end, reads a
 * scribed mark each day and a shadow now and then, and, where asked to, compares the clock and drives to both ends; and what the app
 * says of that.
 */
import type { Pips } from '../../src/core/clock/pips.ts'
import { alignment, hasMoved, solve, targets } from '../../src/core/questions.ts'
import { type ClockCheckRecord, checkAt, offsetOf, trueMsAt } from '../../src/core/records/clockchecks.ts'
import type {
  Axis,
  LevelRecord,
  ReferenceRecord,
  SightingRecord,
  StationRecord,
} from '../../src/core/records/fieldbook.ts'
import type { Solution } from '../../src/core/records/solution.ts'
import type { Readings } from '../../src/core/rehearse/aimed.ts'
import { aimed } from '../../src/core/rehearse/aimed.ts'
import { driven, pressed, still, stopOf } from '../../src/core/rehearse/drives.ts'
import type { HardFault } from '../../src/core/rehearse/faults.ts'
import type { LevelPlace } from '../../src/core/rehearse/mount.ts'
import { type AppSaid, knowsStop } from '../../src/core/rehearse/named.ts'
import { rowsOfTable } from '../../src/core/rehearse/outcome.ts'
import { chanceAbout } from '../../src/core/rehearse/seed.ts'
import { pipAt } from '../../src/core/rehearse/signal.ts'
import { heightDeg } from '../../src/core/rehearse/turning.ts'
import { type Hands, type World, worldOf } from '../../src/core/rehearse/world.ts'
import { checkFromForm, EMPTY_CLOCK } from '../../src/ui/clock/form.ts'
import { lastWords } from '../../src/ui/clock/words.ts'
import { answered } from './answered.ts'
import { everyFourHours, offBy, peaked, START_MS } from './practised.ts'
import { KINDS, utcOf } from './simulate.ts'
import { bookOf } from './stations.ts'

export const DAYS = 6
const DAY = 86_400_000
export const NOW_MS = START_MS + DAYS * DAY
const AXES = ['lower', 'upper'] as const

/** A dish of a number with one hard fault, or with none. Kinds take turns. */
export const hardWorld = (seed: number, fault: HardFault | null): World =>
  worldOf(
    { seed, difficulty: 'hard', kind: KINDS[seed % KINDS.length]!, startUtc: utcOf(START_MS) },
    fault === null ? [] : [fault],
  )

/** Sun and Moon, each axis driven on from the sighting before: the side of arrival is the way that it went. */
function sighted(world: World): SightingRecord[] {
  let last: Readings | null = null
  return everyFourHours(world, DAYS, 15, (body, trueMs, there, c) => {
    const side = (axis: Axis): 1 | -1 => (last === null || there[axis] >= last[axis] ? 1 : -1)
    const [lower, upper] = [side('lower'), side('upper')]
    const arrived = (at: Readings): Hands => ({ lower: still(at.lower, lower), upper: still(at.upper, upper) })
    const at = peaked(world, body, trueMs, offBy(world, there, 0.15 * world.receiver.hpbwDeg, c), arrived)
    last = at
    const from = (of: 1 | -1) => (of > 0 ? '+' : '-') as '+' | '-'
    return {
      at: arrived(at),
      sigmaDeg: Number((0.04 * world.receiver.hpbwDeg).toFixed(2)),
      arrivedFrom: { lower: from(lower), upper: from(upper) },
    }
  })
}

/** The feed's shadow, once a day where the Sun is well up and in reach. */
function shadows(world: World): SightingRecord[] {
  const out: SightingRecord[] = []
  for (let day = 0; day < DAYS; day++)
    for (const hour of [5, 7, 9]) {
      const ms = START_MS + day * DAY + hour * 3_600_000
      const trueMs = world.trueMs(ms)
      const sun = world.bodyAt('sun', trueMs, 'optical')
      const there = heightDeg(sun) < 15 ? null : aimed(world.mountAt(trueMs), 'boresight', 'a', sun)
      if (there === null) continue
      const hands: Hands = { lower: still(there.lower, 1), upper: still(there.upper, 1) }
      const shadow = world.shadowRead(hands, trueMs)
      if (shadow === null) continue
      out.push({
        id: `d${day}`,
        utc: utcOf(ms),
        target: { type: 'sun' },
        ...world.readings(hands, trueMs),
        method: 'shadow',
        shadow,
        arrivedFrom: { lower: '+', upper: '+' },
      })
      break
    }
  return out
}

/** Levels at the beginning and at the end, each the mean of two reversed. */
function levelled(world: World): LevelRecord[] {
  const { kind } = world.paper.mount
  const share = (axis: Axis, s: number) => {
    const { low, high } = world.drives[axis]
    return still(low + s * (high - low), 1)
  }
  return [0.02, DAYS - 0.02].flatMap((day, k): LevelRecord[] => {
    const utc = utcOf(Math.round((START_MS + day * DAY) / 1000) * 1000)
    const trueMs = world.trueMs(START_MS + day * DAY)
    const hands: Hands = { lower: share('lower', 0.3), upper: share('upper', 0.7) }
    const mean = (place: LevelPlace): number => {
      const [a, b] = [false, true].map(about => world.inclined(hands, trueMs, place, about))
      return (a! - b!) / 2
    }
    const at = world.readings(hands, trueMs)
    const common = { utc, sigmaDeg: 0.15 }
    const dish: LevelRecord = {
      id: `ld${k}`,
      ...common,
      what: 'dish-elevation',
      valueDeg: mean('dish-elevation'),
      ...at,
    }
    if (kind !== 'el-over-az')
      return [{ id: `la${k}`, ...common, what: 'lower-axis-elevation', valueDeg: mean('lower-axis-elevation') }, dish]
    const [n, e, s, w] = [0, 90, 180, 270].map(h => world.mast(h, trueMs)) as [number, number, number, number]
    return [{ id: `la${k}`, ...common, what: 'mast-lean', northDeg: (n - s) / 2, eastDeg: (e - w) / 2 }, dish]
  })
}

/** Each axis driven onto its scribed line once a day. */
const marked = (world: World): ReferenceRecord[] =>
  Array.from({ length: DAYS }, (_, day) => START_MS + (day + 0.1) * DAY).flatMap((ms, day) => {
    const at = world.readings(
      { lower: still(world.marks.lower, 1), upper: still(world.marks.upper, 1) },
      world.trueMs(ms),
    )
    return AXES.map(
      (axis): ReferenceRecord => ({
        id: `m${axis}${day}`,
        utc: utcOf(Math.round(ms / 1000) * 1000),
        axis,
        mark: 'scribed line',
        reading: at[axis],
      }),
    )
  })

/** A hand that taps along is early or late by its own habit, and shakes about that; 1 σ, s. */
const HABIT_S = 0.1
const SHAKES_S = 0.05
const TAPS: Readonly<Record<Pips, number>> = { second: 8, minute: 4 }

/**
 * A clock check by the app's own form: taps on the pips that the dish at hand has, and what the clock's display shows at one of them
 * against what is announced, both to the second.
 */
export function clockCompared(world: World, clockMs: number, pips: Pips = 'second'): ClockCheckRecord {
  const c = chanceAbout(world.setup.seed, 'tapped', clockMs)
  const habit = c.normal(HABIT_S)
  const isPip = (ms: number) => (pips === 'second' ? pipAt(ms) !== null : pipAt(ms) === 'long')
  const began: number[] = []
  const from = Math.floor(world.trueMs(clockMs))
  for (let ms = from; began.length < TAPS[pips]; ms += 5) if (isPip(ms) && !isPip(ms - 5)) began.push(ms)
  const clockOf = (trueMs: number) => trueMs + (clockMs - world.trueMs(clockMs))
  const tapsMs = began.map(ms => Math.round(clockOf(ms) + 1000 * (habit + c.normal(SHAKES_S))))
  const second = (ms: number) => Math.floor(ms / 1000)
  const whole = String(second(clockOf(began[0]!)) - second(began[0]!))
  return checkFromForm({ ...EMPTY_CLOCK, pips, whole, tapsMs }, `k${clockMs}`, clockMs)!
}

/** The clock compared before the first sighting, since the alignment's first step asks for it, and again wherever the app calls the last check too old. */
function checksAsked(world: World): ClockCheckRecord[] {
  const empty: StationRecord = { ...world.paper, id: 's', name: 'Rehearsal', sightings: [] }
  const told = alignment(bookOf(empty), { now: utcOf(START_MS) })
  const first = told.ok ? told.value.steps[0] : null
  if (first?.id !== 'site-clock' || !first.needs.some(n => n.what === 'clock-check')) return []
  const checks: ClockCheckRecord[] = []
  // Each day's first look, a minute later than the last.
  for (let day = 0; day < DAYS; day++) {
    const ms = START_MS + day * (DAY + 60_000) - 600_000
    const last = checks.at(-1)
    if (last === undefined || !lastWords(last, ms).fresh) checks.push(clockCompared(world, ms))
  }
  return checks
}

/** Both ends of each axis, as the button held down finds them and the counter shows them: typed into the station's limits. */
export function limitsDriven(world: World, trueMs: number): StationRecord['mount'] {
  const mount = structuredClone(world.paper.mount)
  for (const axis of AXES)
    for (const way of [-1, 1] as const) {
      const drive = world.drives[axis]
      let state = pressed(drive, world.first[axis], way)
      while (stopOf(drive, state) === null) state = driven(drive, state, 5)
      const shown = world.readings({ ...world.first, [axis]: state }, trueMs)[axis]
      mount[axis][way < 0 ? 'minReading' : 'maxReading'] = shown
    }
  return mount
}

/** What a stop that is not where its label says costs: rows of the Moon's table called within reach that the drive does not come to. */
export interface StopTrial {
  /** The stop that is elsewhere is in the book; false where there is none. */
  isKnown: boolean
  /** Ends that the book now has elsewhere than their labels. */
  elsewhere: number
  rows: number
  beyond: number
}

/** @param drives  to both ends, as the step "Readouts" asks */
export function stopTrial(seed: number, fault: 'stop' | null, drives: boolean): StopTrial {
  const world = hardWorld(seed, fault)
  const trueMs = world.trueMs(START_MS)
  const mount = drives ? limitsDriven(world, trueMs) : world.paper.mount
  const station: StationRecord = { ...world.paper, mount, id: 's', name: 'Rehearsal', sightings: [] }
  const now = utcOf(START_MS)
  const table = answered(
    targets(bookOf(station), { now, target: { type: 'moon' }, fromUtc: now, hours: 655, stepS: 1800 }),
  )
  const rows = rowsOfTable(table)
  const isBeyond = (axis: Axis, reading: number): boolean => {
    const at = world.driveFor(axis, reading, trueMs)
    // A count or a tenth of a degree beyond is rounding.
    const step = mount[axis].readout.type === 'degrees' ? 0.1 : 1
    return at < world.drives[axis].low - step || at > world.drives[axis].high + step
  }
  const stop = world.faults.wrongStop
  return {
    isKnown: stop !== null && knowsStop(station, world.paper, world.drives, stop),
    elsewhere: AXES.flatMap(axis => {
      const [is, label] = [mount[axis], world.paper.mount[axis]]
      const least = 0.02 * (label.maxReading - label.minReading)
      return (['minReading', 'maxReading'] as const).filter(end => Math.abs(is[end] - label[end]) > least)
    }).length,
    rows: rows.length,
    beyond: rows.filter(r => AXES.some(axis => isBeyond(axis, r[axis]))).length,
  }
}

export interface Trial {
  world: World
  said: AppSaid
}

interface Habits {
  /** Without marks a counter is proven by the sightings alone. */
  hasMarks?: boolean
  /** Compares the clock where the alignment asks for it; what is marked after it carries what it found. */
  checksClock?: boolean
}

export function hardTrial(
  seed: number,
  fault: HardFault | null,
  { hasMarks = true, checksClock = false }: Habits = {},
): Trial {
  const world = hardWorld(seed, fault)
  const made = [...sighted(world), ...shadows(world)].sort((a, b) => (a.utc < b.utc ? -1 : 1))
  const clockChecks = checksClock ? checksAsked(world) : []
  const sightings = made.map(s => {
    const check = checkAt({ clockChecks }, s.utc)
    return check === null ? s : { ...s, clockOffsetS: offsetOf(check) }
  })
  const station: StationRecord = {
    ...world.paper,
    id: 's',
    name: 'Rehearsal',
    sightings,
    levels: levelled(world),
    ...(checksClock && { clockChecks }),
    ...(hasMarks && { references: marked(world) }),
  }
  const now = utcOf(Math.round(trueMsAt(station, NOW_MS) / 1000) * 1000)
  const [solved, moved] = [solve(bookOf(station), { now }), hasMoved(bookOf(station), { now })]
  if (!solved.ok || !moved.ok) throw new Error(`not solved: ${seed} ${fault}`)
  return { world, said: { station, solution: solved.value as Solution, moved: moved.value } }
}
