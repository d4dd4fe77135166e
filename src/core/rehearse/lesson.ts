/**
 * The walk-through of a first rehearsal: which step of the guided alignment comes now, and what is to be done for it. None of it is stored:
 * it follows from the alignment's own answer and from what the meter shows, so it continues from wherever the person is.
 */
import type { AlignmentStepJson } from '../alignment/json.ts'
import { AXES } from '../mount/names.ts'
import { ALIGNMENT_STEPS, type AlignmentStep } from '../records/alignment.ts'
import type { Axis, MountRecord, SightingRecord } from '../records/fieldbook.ts'
import { instantMs } from '../records/instant.ts'
import type { LevelWhat } from '../records/levelkinds.ts'
import type { Solution } from '../records/solution.ts'
import { DAY_MS, HOUR_MS, MINUTE_MS } from '../units.ts'
import type { Readings } from './aimed.ts'
import type { Moment } from './moments.ts'

/** The steps of the alignment up to "within": what comes after it takes another day, a spanner or a program. */
const WALKED: readonly AlignmentStep[] = ALIGNMENT_STEPS.slice(0, ALIGNMENT_STEPS.indexOf('solve') + 1)

type Body = 'sun' | 'moon'

/** One thing to do. */
export type LessonTask =
  | { do: 'open' }
  | { do: 'clock' }
  | { do: 'mast' }
  | { do: 'level'; level: LevelWhat }
  | { do: 'mark'; axis: Axis; again: boolean }
  /** The dish itself by level, driven there first: off the middle, where gravity tells both readouts. */
  | { do: 'dish-level'; at: Readings }
  | { do: 'rim' }
  | { do: 'shadow' }
  /** Find it by the meter; or, heard, peak on it and write it down. */
  | { do: 'find'; body: Body }
  | { do: 'peak'; body: Body; sigmaDeg: number }
  /** Let time go by; `best`: until the sighting that brings most; `isBeyond`: what is up stands beyond an end of an axis, or too near it. */
  | { do: 'wait'; until: Moment; best?: { body: Body; utcMs: number }; isBeyond?: true }
  | { do: 'suspect' }
  | { do: 'aside' }
  | { do: 'truth' }

export interface Lesson {
  /** Null at the end. */
  step: AlignmentStep | null
  ask: LessonTask
  /** Those of this mount, in their order. */
  steps: { id: AlignmentStep; isTaken: boolean }[]
}

/** How a body stands to the dish. */
export interface BodySeen {
  /** High enough to be worth a peak. */
  isUp: boolean
  /** And within reach of the mount as the book has it. */
  isThere: boolean
  /** Above the horizon. */
  isRisen: boolean
  /** The Sun: high enough for a shadow, and within reach. A shadow need not be driven past. */
  isShining: boolean
  /** How far the beam is from it, in beamwidths. What the meter shows, as a number. */
  off: number
}

export interface LessonFacts {
  mount: Pick<MountRecord, Axis>
  /** Of the guided alignment. */
  steps: readonly AlignmentStepJson[]
  sightings: readonly Pick<SightingRecord, 'utc' | 'method' | 'target'>[]
  /** Levels of the dish itself in the book. */
  dishLevels: number
  /** The dish at hand lies over the screen. */
  isOpen: boolean
  /** Of the feed in use. */
  hpbwDeg: number
  /** What the rehearsal's clock shows, Unix ms. */
  nowMs: number
  /** Of the place: by it the Sun has its noon. */
  lonDeg: number
  seen: Readonly<Record<Body, BodySeen>>
  /** The peak of the coming days that brings most, as the solution has it; null where there is none. */
  best: { body: Body; utcMs: number } | null
}

/** A body lower than this is not worth a peak: the ground is in the beam. Degrees. */
const LOW_DEG = 13
/** A shadow needs no more than that the Sun is clear of most skylines. Degrees. */
const SHINES_DEG = 5
/** As the mount is not yet known, a reading nearer to an end of its axis than this share of the way may lie beyond it. */
const NEAR_END = 0.08
/** 1 σ of the middle between two equal levels, in beamwidths; common practice, no source. Stated so, ten sightings do. */
const MIDDLE = 0.04
/** Beamwidths within which it is heard well above the noise. */
const HEARD = 1
/** One body is peaked again when the sky has turned so far. */
const APART_MS = 100 * MINUTE_MS
/** After so many levels on the dish another tells nothing new. */
const ENOUGH_LEVELS = 2
/** Where a level on the dish tells: shares of the ways, tried one after the other. */
const POSES = [
  [0.3, 0.8],
  [0.7, 0.2],
  [0.8, 0.8],
  [0.2, 0.2],
] as const

/** Taken: nothing of it is left to do here and now. A fault that was measured is taken: the sightings put a number on it. */
function isTaken({ state, needs }: AlignmentStepJson): boolean {
  switch (state.kind) {
    case 'not-begun':
    case 'undone':
      return false
    case 'needs':
      return needs.length > 0 && needs.every(n => n.what === 'finer')
    default:
      return true
  }
}

const BEYOND = { do: 'wait', until: 'hour', isBeyond: true } as const satisfies LessonTask

const isBeam = (s: LessonFacts['sightings'][number]): boolean => s.method !== 'shadow' && s.method !== 'optical'

export function lessonOf(facts: LessonFacts): Lesson {
  const { steps, sightings, isOpen } = facts
  const walked = WALKED.map(id => steps.find(s => s.id === id)).filter(
    (s): s is AlignmentStepJson => s !== undefined && s.state.kind !== 'not-for',
  )
  // Passed by, what was only entered; ticked once a sighting confirms it.
  const listed = walked.map(s => ({ id: s.id, isTaken: isTaken(s) && s.state.kind !== 'entered' }))
  const isWithin = walked.some(s => s.id === 'solve' && s.state.kind === 'done')
  // A clock check that has aged since is wanted for the next sighting, and there is none.
  if (isWithin) return { step: null, ask: { do: 'truth' }, steps: listed.map(s => ({ ...s, isTaken: true })) }
  // No plumb line hangs beside this mount: where nothing else gives a heading, the first Sun does. And gravity does not tell a polar
  // axis that points aside from an hour angle that reads wrong: what levels on the dish leave open, the sightings close.
  // A shadow that the Sun does not throw now is left for when it does, where the Moon is up.
  const waits = (s: AlignmentStepJson): boolean =>
    (s.id === 'heading' && !sightings.some(isBeam)) ||
    (s.id === 'readouts' && facts.dishLevels >= ENOUGH_LEVELS) ||
    (s.id === 'feed' && s.needs.every(n => n.what === 'shadow') && !facts.seen.sun.isShining && facts.seen.moon.isUp)
  const now = walked.find(s => !isTaken(s) && !waits(s)) ?? walked.at(-1)!
  const isFirst = sightings.length === 0 && !listed.some(s => s.id === 'site-clock' && s.isTaken)
  const ask: LessonTask = isFirst && !isOpen ? { do: 'open' } : askOf(facts, now)
  return { step: now.id, ask, steps: listed }
}

function askOf(facts: LessonFacts, { id, needs }: AlignmentStepJson): LessonTask {
  const { seen, mount } = facts
  switch (id) {
    case 'site-clock':
      return { do: 'clock' }
    case 'mast':
      return { do: 'mast' }
    case 'axes': {
      const level = needs.find(n => n.what === 'level')?.level ?? 'upper-axis-elevation'
      return { do: 'level', level }
    }
    case 'references': {
      const mark = needs.find(n => n.what === 'mark')
      return { do: 'mark', axis: mark?.axis ?? 'upper', again: mark?.again ?? false }
    }
    case 'readouts': {
      const [lower, upper] = POSES[facts.dishLevels % POSES.length]!
      return { do: 'dish-level', at: { lower: along(mount, 'lower', lower), upper: along(mount, 'upper', upper) } }
    }
    case 'feed':
      if (needs.some(n => n.what === 'rim')) return { do: 'rim' }
      if (seen.sun.isShining) return { do: 'shadow' }
      // Up and out of reach it moves on in an hour: at noon it may be so again. Past its noon and low it may stay so in winter.
      return seen.sun.isUp ? BEYOND : waitForSun(facts)
    case 'solve': {
      const why = needs.find(n => n.what === 'verdict')?.whyNot.kind
      if (why === 'suspect') return { do: 'suspect' }
      if (why === 'most-aside' || why === 'all-aside') return { do: 'aside' }
      return facts.best === null ? sight(facts, ['sun', 'moon']) : sightBest(facts, facts.best)
    }
    case 'sightings':
      return sight(facts, ['sun', 'moon'])
    default:
      // The Sun is heard far beside the beam: it comes first. In winter it may stay low or out of reach, and then it is the Moon.
      return seen.sun.isThere || !seen.moon.isUp ? sight(facts, ['sun']) : sight(facts, ['moon'])
  }
}

/** The peak that brings most, of a solution: high enough, and clear of the ends of both axes. */
export function bestPeak(mount: LessonFacts['mount'], solution: Pick<Solution, 'next'> | null): LessonFacts['best'] {
  const best = solution?.next.find(n => n.method === 'signal-peak' && bodySeen(mount, n, 0).isThere)
  return best === undefined ? null : { body: best.target, utcMs: instantMs(best.utc) }
}

/** How a body stands to the dish: as the book has it, and clear of the ends of both axes. @param off  of its beam, in beamwidths */
export function bodySeen(
  mount: LessonFacts['mount'],
  row: { elDeg: number } & Readonly<Record<Axis, number | null>>,
  off: number,
): BodySeen {
  const isUp = row.elDeg >= LOW_DEG
  const isWithin = (share: number): boolean =>
    AXES.every(axis => {
      const at = row[axis]
      const { minReading, maxReading } = mount[axis]
      const spare = share * (maxReading - minReading)
      return at !== null && at >= minReading + spare && at <= maxReading - spare
    })
  return {
    isUp,
    isThere: isUp && isWithin(NEAR_END),
    isRisen: row.elDeg > 0,
    isShining: row.elDeg >= SHINES_DEG && isWithin(0),
    off,
  }
}

/** A whole reading at a share of an axis's way. */
function along(mount: LessonFacts['mount'], axis: Axis, share: number): number {
  const { minReading, maxReading } = mount[axis]
  return Math.round(minReading + share * (maxReading - minReading))
}

/** Risen, and no higher today. Half an hour early: the Sun's noon comes up to a quarter of an hour beside that of its longitude. */
const isPastNoon = ({ seen, nowMs, lonDeg }: LessonFacts): boolean => {
  const hours = nowMs / HOUR_MS + lonDeg / 15
  return seen.sun.isRisen && hours - 24 * Math.floor(hours / 24) > 11.5
}

/** Higher at noon than now; past it the Moon comes sooner. */
const waitForSun = (facts: LessonFacts): LessonTask => ({ do: 'wait', until: isPastNoon(facts) ? 'moon-up' : 'noon' })

/** The next sighting: of the body that has fewer, once the sky has turned since its last one; else it waits. */
function sight(facts: LessonFacts, bodies: readonly Body[]): LessonTask {
  const { seen, sightings, nowMs, hpbwDeg } = facts
  const of = (body: Body) => sightings.filter(s => isBeam(s) && s.target.type === body)
  const isDue = (body: Body): boolean =>
    seen[body].isThere && of(body).every(s => Math.abs(nowMs - instantMs(s.utc)) >= APART_MS)
  const [body] = bodies.filter(isDue).sort((a, b) => of(a).length - of(b).length)
  if (body === undefined) {
    if (bodies.some(b => seen[b].isThere)) return { do: 'wait', until: 'hour' }
    if (bodies.some(b => seen[b].isUp)) return BEYOND
    if (seen.sun.isRisen) return waitForSun(facts)
    return { do: 'wait', until: bodies.includes('moon') ? 'moon-up' : 'noon' }
  }
  return atBody(body, seen[body], hpbwDeg)
}

const atBody = (body: Body, { off }: BodySeen, hpbwDeg: number): LessonTask =>
  off > HEARD ? { do: 'find', body } : { do: 'peak', body, sigmaDeg: Number((MIDDLE * hpbwDeg).toFixed(1)) }

/** Too much is still lost: what brings most is waited for. */
function sightBest({ seen, nowMs, hpbwDeg }: LessonFacts, best: NonNullable<LessonFacts['best']>): LessonTask {
  const left = best.utcMs - nowMs
  if (left < HOUR_MS / 2) return atBody(best.body, seen[best.body], hpbwDeg)
  return { do: 'wait', until: left > DAY_MS ? 'tomorrow' : 'hour', best }
}
