/**
 * What to turn at the adjusters that the person described: turns and millimetres, which way, in order, and what will
 * remain. Whether a number is worth a spanner is `advice.ts`'s to say, so that no two screens disagree.
 *
 * An angle at an arm: a screw or shim acts square to its arm, by its tangent; a flange is turned along its rim, by its arc.
 */

import { skyError } from '../fit/skyerror.ts'
import { type Answered, sigmasEnough, solutionJson } from '../fit/solution.ts'
import type { Move } from '../mount/moves.ts'
import type { MountKind } from '../mount/names.ts'
import { entryOf, moveAgainst } from '../mount/parameters.ts'
import { SLOTS, slotOf } from '../mount/slots.ts'
import type { AdjusterRecord } from '../records/adjusters.ts'
import type { ParameterId } from '../records/fieldbook.ts'
import { msFromUtc } from '../records/instant.ts'
import type { SolvedParameter } from '../records/solution.ts'
import { moonPath } from '../sky/moonpath.ts'
import { type Deg, degFromRad, type Mm, radFromDeg } from '../units.ts'
import { type AboutVertical, adviceFor, WORTH_TURNING } from './advice.ts'

/** A screw is read to a twelfth of a turn, so that it stands within half of one. Common practice, no source. */
export const TWELFTHS = 12
/** The fineness of shims and of ways along a rim. */
const STEP_MM = 0.1
/** 1 σ of how well they are set. Common practice, no source. */
const SETTING_MM = 0.5
/** A screw or shim turns a mount no further: it is turned by hand first. A flange goes all the way round. */
const FAR_DEG = 15

export interface Turns {
  /** Whole turns and twelfths of one beside them. */
  whole: number
  twelfths: number
  /** σ of the wanted move, in twelfths. */
  sigmaTwelfths: number
}

/** What is known of an amount afterwards, in the parameter's unit. */
interface Left {
  value: number
  sigma: number
}

export type BoltDo =
  | {
      kind: 'turn'
      mm: Mm
      /** Of what is wanted, not of how well it is set. */
      sigmaMm: Mm
      /** A screw whose pitch is known. */
      turns?: Turns
      /** True when the parameter is to become larger: the way that the adjuster's own `plus` names. */
      larger: boolean
      /** What moves which way, where the mount itself says it. */
      move?: Move
      aboutVertical?: AboutVertical
      left: Left
    }
  /** Perhaps zero, or less than the adjuster can be set. */
  | { kind: 'leave'; why: 'unsure' | 'too-fine' }
  /** Open: the sightings do not say yet. */
  | { kind: 'not-yet' }
  /** Too far for a screw or a shim. */
  | { kind: 'too-far' }
  /** This mount, as it is now, has no such number. */
  | { kind: 'not-here' }

export interface Bolt {
  adjuster: AdjusterRecord
  /** Null where the mount has no such number. */
  off: Pick<SolvedParameter, 'id' | 'feed' | 'value' | 'sigma' | 'unit'> | null
  does: BoltDo
}

export interface Bolts {
  /** To turn, the first one first: the lower axis before what stands on it, and what shows most on the sky before the rest. */
  turn: Bolt[]
  /** Others that alter what one of those does already: this one or that, not both. */
  instead: Bolt[]
  /** Nothing to turn there. */
  rest: Bolt[]
  /**
   * p95 over the Moon's path with no corrections in the program: as the mount stands, and as expected after all of `turn`.
   * Null where nothing is to be turned or the Moon is never reached.
   */
  sky: { beforeDeg: Deg; afterDeg: Deg } | null
}

type AdviceMount = { kind: MountKind; latDeg: Deg }

/** By how much an adjuster alters its parameter when it is moved by `mm`, and the other way round. */
function lever({ by, armMm }: AdjusterRecord, unit: SolvedParameter['unit']) {
  if (unit !== 'deg') return { toMm: (x: number) => x, fromMm: (mm: Mm) => mm }
  if (by === 'flange')
    return { toMm: (x: number) => armMm * radFromDeg(x), fromMm: (mm: Mm): number => degFromRad(mm / armMm) }
  return {
    toMm: (x: number) => armMm * Math.tan(radFromDeg(x)),
    fromMm: (mm: Mm): number => degFromRad(Math.atan(mm / armMm)),
  }
}

/** The step in which an adjuster's amount is given, and 1 σ of how well it is set, in millimetres. */
function settingOf({ by, pitchMm }: AdjusterRecord): { step: Mm; sigma: Mm } {
  if (by !== 'screw' || pitchMm === undefined) return { step: STEP_MM, sigma: SETTING_MM }
  const step = pitchMm / TWELFTHS
  return { step, sigma: step / 2 }
}

/** Whether to turn at all. A reading's zero, which `advice.ts` leaves to the software, is judged by the same limit. */
function judged(p: SolvedParameter, mount: AdviceMount): 'turn' | 'leave' | 'not-yet' | 'not-here' {
  const advice = adviceFor(p, mount)
  switch (advice.kind) {
    case 'move':
      return advice.firstStep ? 'not-yet' : 'turn'
    case 'leave':
    case 'not-yet':
      return advice.kind
    case 'software':
      if (p.unit === 'ratio') return 'not-here'
      if (p.state === 'open') return 'not-yet'
      return Math.abs(p.value) > WORTH_TURNING * p.sigma ? 'turn' : 'leave'
    default:
      return 'not-here'
  }
}

/** What to do at one adjuster. @param p  the parameter that it alters, as solved; null: there is none */
export function boltDo(adjuster: AdjusterRecord, p: SolvedParameter | null, mount: AdviceMount): BoltDo {
  const verdict = p === null ? 'not-here' : judged(p, mount)
  if (p === null || verdict === 'not-here') return { kind: 'not-here' }
  if (verdict === 'not-yet') return { kind: 'not-yet' }
  if (verdict === 'leave') return { kind: 'leave', why: 'unsure' }
  const { value, sigma, unit } = p
  if (unit === 'deg' && adjuster.by !== 'flange' && Math.abs(value) > FAR_DEG) return { kind: 'too-far' }
  const { toMm, fromMm } = lever(adjuster, unit)
  const setting = settingOf(adjuster)
  const wanted = toMm(Math.abs(value))
  const steps = Math.round(wanted / setting.step)
  const mm = steps * setting.step
  if (steps === 0 || wanted < setting.sigma) return { kind: 'leave', why: 'too-fine' }
  // What a millimetre does there: along a tangent a little less than at the middle.
  const perMm = (fromMm(wanted + 0.01) - fromMm(wanted)) / 0.01
  const advice = adviceFor(p, mount)
  const move = moveAgainst(p.id, value > 0, { kind: mount.kind, latitude: mount.latDeg })
  return {
    kind: 'turn',
    mm,
    sigmaMm: sigma / perMm,
    ...(adjuster.by === 'screw' && adjuster.pitchMm !== undefined
      ? {
          turns: {
            whole: Math.floor(steps / TWELFTHS),
            twelfths: steps % TWELFTHS,
            sigmaTwelfths: sigma / perMm / setting.step,
          },
        }
      : {}),
    larger: value < 0,
    ...(move ? { move } : {}),
    ...(advice.kind === 'move' && advice.aboutVertical ? { aboutVertical: advice.aboutVertical } : {}),
    left: {
      value: Math.sign(value) * (Math.abs(value) - fromMm(mm)),
      sigma: Math.hypot(sigma, perMm * setting.sigma),
    },
  }
}

const isOfLowerAxis = (id: ParameterId): boolean => entryOf(id).renewedBy.includes('lower-axis')

/** @param nowUtc  as it was asked for */
export function boltsOf(answered: Answered, adjusters: readonly AdjusterRecord[], nowUtc: string): Bolts {
  const { feed, solved } = answered
  const { model, record } = solved.station
  const now = msFromUtc(nowUtc)
  const mount = { kind: model.kind, latDeg: record.site.latDeg }
  const { parameters } = solutionJson(answered, nowUtc)
  const enough = sigmasEnough(answered, now)
  const isMeant = (id: string, of: string | null | undefined) => (p: { id: string; feed?: string | null }) =>
    p.id === id && (!p.feed || p.feed === of)
  const told = adjusters.map((adjuster): Bolt => {
    const p = parameters.find(isMeant(adjuster.turns, feed.id)) ?? null
    return {
      adjuster,
      off: p && { id: p.id, ...(p.feed && { feed: p.feed }), value: p.value, sigma: p.sigma, unit: p.unit },
      does: boltDo(adjuster, p, mount),
    }
  })
  /** How much it shows on the sky: in units of the σ that is good enough. */
  const shows = ({ off }: Bolt): number => {
    const one = off && enough.find(isMeant(off.id, feed.id))
    return one ? Math.abs(off.value) / one.sigma : 0
  }
  const order = (a: Bolt, b: Bolt): number =>
    Number(isOfLowerAxis(b.off!.id)) - Number(isOfLowerAxis(a.off!.id)) || shows(b) - shows(a)
  const turning = told.filter(b => b.does.kind === 'turn')
  const isFirst = (b: Bolt) => turning.find(o => o.off!.id === b.off!.id) === b
  const turn = turning.filter(isFirst).sort(order)
  return {
    turn,
    instead: turning.filter(b => !isFirst(b)),
    rest: told.filter(b => b.does.kind !== 'turn'),
    sky: skyOf(answered, turn, now),
  }
}

function skyOf({ solved, feed, built, covariance, sky }: Answered, turn: readonly Bolt[], now: number): Bolts['sky'] {
  if (turn.length === 0 || sky.points.length === 0) return null
  const { station } = solved
  const [after, spread] = [built.slice(), covariance.slice()]
  for (const { off, does } of turn) {
    const slot = off && slotOf(off.id, station.model.kind)
    if (!off || does.kind !== 'turn' || slot === null) continue
    const inside = (x: number): number => (off.unit === 'deg' ? radFromDeg(x) : x)
    after[slot] = inside(does.left.value)
    const at = slot * SLOTS + slot
    spread[at] = spread[at]! + Math.max(0, inside(does.left.sigma) ** 2 - inside(off.sigma) ** 2)
  }
  const later = skyError(station, feed, after, spread, moonPath(station.site, now))
  if (later.points.length === 0) return null
  return { beforeDeg: degFromRad(sky.before.p95), afterDeg: degFromRad(later.before.p95) }
}
