/**
 * One hard fault in a dish that is otherwise only as wrong as second-hand mounts are, and the same dish without it: what somebody
 * writes down of some days who peaks with the meter, notes the side of arrival, levels at the beginning and the end, reads a
 * scribed mark each day and a shadow now and then; and what the app says of that.
 */
import { hasMoved, solve } from '../../src/core/questions.ts'
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
import { still } from '../../src/core/rehearse/drives.ts'
import type { HardFault } from '../../src/core/rehearse/faults.ts'
import type { LevelPlace } from '../../src/core/rehearse/mount.ts'
import type { Said } from '../../src/core/rehearse/named.ts'
import { heightDeg } from '../../src/core/rehearse/turning.ts'
import { type Hands, type World, worldOf } from '../../src/core/rehearse/world.ts'
import { everyFourHours, offBy, peaked, START_MS } from './practised.ts'
import { KINDS, utcOf } from './simulate.ts'
import { bookOf } from './stations.ts'

export const DAYS = 6
const DAY = 86_400_000
const NOW_MS = START_MS + DAYS * DAY
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

export interface Trial {
  world: World
  said: Said
}

/** @param hasMarks  without them a counter is proven by the sightings alone */
export function hardTrial(seed: number, fault: HardFault | null, hasMarks = true): Trial {
  const world = hardWorld(seed, fault)
  const sightings = [...sighted(world), ...shadows(world)].sort((a, b) => (a.utc < b.utc ? -1 : 1))
  const station: StationRecord = {
    ...world.paper,
    id: 's',
    name: 'Rehearsal',
    sightings,
    levels: levelled(world),
    ...(hasMarks && { references: marked(world) }),
  }
  const now = utcOf(NOW_MS)
  const [solved, moved] = [solve(bookOf(station), { now }), hasMoved(bookOf(station), { now })]
  if (!solved.ok || !moved.ok) throw new Error(`not solved: ${seed} ${fault}`)
  return { world, said: { station, solution: solved.value as Solution, moved: moved.value } }
}
