/**
 * A practised hand in a rehearsal: peaks Sun and Moon by the meter, levels either side of each axis with the receiver's own noise,
 * reads the counters, writes it down, and has the book solved. Nothing of the truth goes into what is written down but by way of
 * the instruments; only where to look at first is taken from it, in place of a search.
 */
import { solve, targets } from '../../src/core/questions.ts'
import type { MountKind, SightingRecord, StationRecord } from '../../src/core/records/fieldbook.ts'
import { aimed, type Readings } from '../../src/core/rehearse/aimed.ts'
import { still } from '../../src/core/rehearse/drives.ts'
import { degPerReading } from '../../src/core/rehearse/faults.ts'
import { type Outcome, outcomeOf, rowsOfTable } from '../../src/core/rehearse/outcome.ts'
import { type Chance, chance } from '../../src/core/rehearse/seed.ts'
import type { Difficulty } from '../../src/core/rehearse/setup.ts'
import { heightDeg } from '../../src/core/rehearse/turning.ts'
import { type Hands, type World, worldOf } from '../../src/core/rehearse/world.ts'
import { utcOf } from './simulate.ts'
import { bookOf } from './stations.ts'

export const START_MS = Date.UTC(2026, 4, 1, 6)
const HOUR = 3_600_000

/** Arrived from below on both axes. */
const hands = (at: Readings): Hands => ({ lower: still(at.lower, 1), upper: still(at.upper, 1) })

/** Peaked about a first guess: the middle between two levels half a beamwidth either side, corrected by their difference. */
export function peaked(
  world: World,
  body: 'sun' | 'moon',
  trueMs: number,
  from: Readings,
  arrived: (at: Readings) => Hands = hands,
): Readings {
  const step = (axis: 'lower' | 'upper', at: Readings) =>
    (0.45 * world.receiver.hpbwDeg) / degPerReading(world.paper, axis, at[axis])
  const level = (at: Readings): number => {
    const heard = world.hears(arrived(at), trueMs, 10)
    return body === 'sun' ? heard.db : (heard.echoDb ?? 0)
  }
  let at = { ...from }
  for (let round = 0; round < 3; round++)
    for (const axis of ['lower', 'upper'] as const) {
      const by = step(axis, at)
      const of = (k: number) => level({ ...at, [axis]: at[axis] + k * by })
      const [a, b, c] = [of(-1), of(0), of(1)]
      const bend = a - 2 * b + c
      if (bend < -0.02) at = { ...at, [axis]: at[axis] + by * Math.max(-1, Math.min(1, (a - c) / (2 * bend))) }
    }
  return at
}

/** What somebody writes down of a body that the real dish has in its beam at these readings. */
type Observer = (
  body: 'sun' | 'moon',
  trueMs: number,
  there: Readings,
  c: Chance,
) => { at: Hands; sigmaDeg: number; arrivedFrom?: SightingRecord['arrivedFrom'] }

/** Sun and Moon every four hours for `days`, wherever they are up and in reach. */
export function everyFourHours(world: World, days: number, lowestDeg: number, observe: Observer): SightingRecord[] {
  const c = chance(world.setup.seed + 99)
  const out: SightingRecord[] = []
  for (let h = 0; h < 24 * days; h += 4)
    for (const body of ['sun', 'moon'] as const) {
      const ms = START_MS + h * HOUR + c.whole(0, 3000) * 1000
      const trueMs = world.trueMs(ms)
      const v = world.bodyAt(body, trueMs, 'radio')
      if (heightDeg(v) < lowestDeg) continue
      const there = aimed(world.mountAt(trueMs), 'beam', 'a', v)
      if (there === null) continue
      const { at, sigmaDeg, arrivedFrom } = observe(body, trueMs, there, c)
      const method = 'signal-peak' as const
      out.push({
        id: `s${out.length}`,
        utc: utcOf(ms),
        target: { type: body },
        ...world.readings(at, trueMs),
        method,
        sigmaDeg,
        ...(arrivedFrom && { arrivedFrom }),
      })
    }
  return out
}

/** Readings off from the right ones, by a normal error of `sigmaDeg` on each axis. */
export const offBy = (world: World, there: Readings, sigmaDeg: number, c: Chance): Readings => {
  const off = (axis: 'lower' | 'upper') =>
    there[axis] + c.normal(sigmaDeg) / degPerReading(world.paper, axis, there[axis])
  return { lower: off('lower'), upper: off('upper') }
}

/** Peaked by the meter. */
const byMeter =
  (world: World): Observer =>
  (body, trueMs, there, c) => ({
    at: hands(peaked(world, body, trueMs, offBy(world, there, 0.15 * world.receiver.hpbwDeg, c))),
    sigmaDeg: Number((0.04 * world.receiver.hpbwDeg).toFixed(2)),
  })

export interface Ended {
  world: World
  station: StationRecord
  outcome: Outcome
}

/** What a practised hand writes down in `days`. */
export const observed = (world: World, days: number): SightingRecord[] =>
  everyFourHours(world, days, 15, byMeter(world))

/** The book solved after `days`, judged by the truth. */
export function ended(world: World, sightings: SightingRecord[], days: number): Ended {
  const station: StationRecord = { ...world.paper, id: 's', name: 'Rehearsal', sightings }
  const nowMs = START_MS + days * 24 * HOUR
  const now = utcOf(nowMs)
  const solved = solve(bookOf(station), { now })
  const table = targets(bookOf(station), { now, target: { type: 'moon' }, fromUtc: now, hours: 655, stepS: 7200 })
  if (!solved.ok || !table.ok) throw new Error('not solved')
  return { world, station, outcome: outcomeOf(world, station, solved.value, rowsOfTable(table.value), nowMs) }
}

/** A rehearsal from its seed to its end. */
export function rehearsed(kind: MountKind, seed: number, difficulty: Difficulty, days: number): Ended {
  const world = worldOf({ seed, difficulty, kind, startUtc: utcOf(START_MS) })
  return ended(world, observed(world, days), days)
}
