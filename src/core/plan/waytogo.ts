/**
 * How far an axis still has to be driven by hand: from where it stands to a target that moves on, at a measured speed, always from the
 * same side, with its overrun once the button is released. All in readings of that axis and seconds; the axis runs at one speed while the
 * button is held, then comes to rest evenly over its overrun (so it takes twice the time that running through would take).
 */
import type { Side } from '../mount/names.ts'

export interface AxisDrive {
  /** While it runs; > 0. */
  readingsPerS: number
  /** How far it runs on once the button is released; ≥ 0. */
  overrun: number
  /** From which side it must arrive, '+' with the reading going up; null: either. */
  arriveFrom: Side | null
}

export interface WayWish {
  /** Where the axis stands. */
  present: number
  /** Where the target is now, and how fast it moves on, per second. */
  target: number
  targetPerS: number
  /** Null: not measured, so no seconds, and no side. */
  drive: AxisDrive | null
  /** How far to go past the target, to come back and take the play up: > 0. */
  runUp: number
  /** The limits; null where nobody knows them. */
  min: number | null
  max: number | null
  /** Nearer than this counts as arrived: half a count, half a tenth of a degree. */
  within: number
}

/** One pull: the button is held until `letGoAt`, and the axis comes to rest at `to`. */
export interface Pull {
  side: Side
  /** > 0. */
  amount: number
  to: number
  letGoAt: number
  /** Null without a speed. */
  holdS: number | null
}

/** What keeps the axis from arriving, or from arriving as it should. */
export type Stopped =
  /** The target is beyond a limit: the way ends there. */
  | { kind: 'limit'; end: 'min' | 'max'; at: number }
  /** No room behind the target to come back from: it arrives from the wrong side. */
  | { kind: 'wrong-side'; end: 'min' | 'max'; at: number }
  /** The target moves on faster than the axis. */
  | { kind: 'too-slow' }

export interface WayToGo {
  /** Empty: it has arrived, or cannot go. At most two: past the target, and back. */
  pulls: Pull[]
  /** From the first press until it stands on the target; null without a speed. */
  seconds: number | null
  stopped: Stopped | null
}

const signOf = (side: Side): 1 | -1 => (side === '+' ? 1 : -1)
const sideOf = (way: number): Side => (way < 0 ? '-' : '+')

/** From one reading to another in one pull. @param amount at least the overrun */
function pull(from: number, side: Side, amount: number, drive: AxisDrive | null): Pull {
  const sign = signOf(side)
  const overrun = drive?.overrun ?? 0
  return {
    side,
    amount,
    to: from + sign * amount,
    letGoAt: from + sign * Math.max(0, amount - overrun),
    holdS: drive === null ? null : Math.max(0, amount - overrun) / drive.readingsPerS,
  }
}

/** Until it stands: while held, and coming to rest. */
const secondsOf = (amount: number, drive: AxisDrive): number => (amount + drive.overrun) / drive.readingsPerS

/** @throws RangeError speed or run-up not above 0, overrun below 0, anything not finite */
export function wayToGo(wish: WayWish): WayToGo {
  const { present, target, targetPerS, drive, runUp, within } = wish
  const all = [present, target, targetPerS, runUp, within]
  if (!all.every(Number.isFinite) || !(runUp > 0)) throw new RangeError(`wayToGo: ${JSON.stringify(wish)}`)
  if (drive !== null && !(drive.readingsPerS > 0 && drive.overrun >= 0))
    throw new RangeError(`wayToGo: speed must be > 0 and overrun ≥ 0, got ${drive.readingsPerS}, ${drive.overrun}`)
  if (Math.abs(target - present) <= within) return { pulls: [], seconds: 0, stopped: null }
  const toLimit = (limit: NonNullable<ReturnType<typeof beyond>>): WayToGo =>
    pullOrNone({ ...wish, target: limit.at, targetPerS: 0 }, limit)
  const limit = beyond(target, wish)
  if (limit !== null) return toLimit(limit)
  if (drive === null) return straight(wish)
  if (drive.readingsPerS <= Math.abs(targetPerS)) return { pulls: [], seconds: null, stopped: { kind: 'too-slow' } }
  const ahead = sideOf(target - present)
  const side = drive.arriveFrom ?? ahead
  const direct = straight(wish)
  // What is shorter than the overrun cannot be driven in one pull: back first, then up to it.
  const way = side === ahead && direct.pulls[0]!.amount >= drive.overrun ? direct : aroundFrom(wish, drive, side)
  // The target may pass a limit while the axis is under way.
  const passed = beyond(way.pulls.at(-1)?.to ?? target, wish)
  return passed === null ? way : toLimit(passed)
}

/** The limit that the target lies beyond. */
function beyond(reading: number, { min, max }: WayWish): Extract<Stopped, { kind: 'limit' }> | null {
  if (min !== null && reading < min) return { kind: 'limit', end: 'min', at: min }
  if (max !== null && reading > max) return { kind: 'limit', end: 'max', at: max }
  return null
}

/** In one pull, to where the target will be: amount = s (target + rate · seconds - present), seconds = (amount + overrun)/speed. */
function straight({ present, target, targetPerS, drive }: WayWish): WayToGo {
  const side = sideOf(target - present)
  const gap = Math.abs(target - present)
  if (gap === 0) return { pulls: [], seconds: 0, stopped: null }
  if (drive === null) return { pulls: [pull(present, side, gap, null)], seconds: null, stopped: null }
  const away = signOf(side) * targetPerS
  const amount = (gap + (away * drive.overrun) / drive.readingsPerS) / (1 - away / drive.readingsPerS)
  return { pulls: [pull(present, side, amount, drive)], seconds: secondsOf(amount, drive), stopped: null }
}

/** Past the target (or back from it) by the run-up, and to it from the side wanted. */
function aroundFrom(wish: WayWish, drive: AxisDrive, side: Side): WayToGo {
  const { present, target, targetPerS } = wish
  const sign = signOf(side)
  const { overrun, readingsPerS: speed } = drive
  // First pull: from the present to `back` behind where the target will be then. Its amount a solves
  // a = s (present - target - rate t) + back, t = (a + back + 2 overrun)/speed: a straight line in `back`.
  const away = (-sign * targetPerS) / speed
  const amountFor = (back: number) => (sign * (present - target) + back + away * (back + 2 * overrun)) / (1 - away)
  const backFor = (amount: number) =>
    (amount * (1 - away) - sign * (present - target) - 2 * away * overrun) / (1 + away)
  const least = Math.max(overrun, wish.within)
  let back = Math.max(wish.runUp, least)
  // A pull shorter than the overrun: further back, until it is just that long.
  if (amountFor(back) < overrun) back = backFor(overrun)
  const end = side === '+' ? 'min' : 'max'
  const at = side === '+' ? wish.min : wish.max
  if (at !== null && sign * (present - sign * amountFor(back) - at) < 0) {
    // As near to the limit as allowed, if that leaves two pulls.
    back = backFor(sign * (present - at))
    if (back < least || amountFor(back) < overrun) return pullOrNone(wish, { kind: 'wrong-side', end, at })
  }
  const amount = amountFor(back)
  const turn = pull(present, side === '+' ? '-' : '+', amount, drive)
  return {
    pulls: [turn, pull(turn.to, side, back, drive)],
    seconds: secondsOf(amount, drive) + secondsOf(back, drive),
    stopped: null,
  }
}

/** Straight there nevertheless; no pull where the overrun would carry it beyond. */
function pullOrNone(wish: WayWish, stopped: Stopped): WayToGo {
  const way = straight(wish)
  const isPull = (way.pulls[0]?.amount ?? 0) >= (wish.drive?.overrun ?? 0)
  return isPull ? { ...way, stopped } : { pulls: [], seconds: null, stopped }
}
