/**
 * What a dish can bear of each step of its alignment: the error that its echo-loss tolerance allows, shared between the things that turn
 * the beam, and turned into each one's own unit by how far it moves the beam over the Moon's path. Radians, millimetres.
 */
import type { Answered } from '../fit/solution.ts'
import { SLOT, SLOTS } from '../mount/slots.ts'
import type { Mm, Rad } from '../units.ts'

/**
 * Eight things turn the beam by themselves: the lower axis, the upper axis on it, the two readouts, the heading, the feed, the clock,
 * the place. Errors add in squares, so each may use an eighth of the loss.
 */
const SHARERS = 8

/** A value counts as on one side of a limit where this many σ of it do not reach across: 1 in 20 by chance. */
export const ONE_IN_TWENTY = 1.96

export interface ErrorBudget {
  /** What may be off altogether. */
  tolerance: Rad
  /** What one of the sharers may turn the beam by. */
  share: Rad
  hpbw: Rad
  /** How far the beam goes for a unit in these slots, in the worst direction between two: 95 % of the Moon's path stays below. */
  perUnit(...slots: readonly number[]): number
  /** How far a feed may sit off the axis where the dish is pointed by its shadow: beam and shadow part by 1 + BDF. */
  feed: Mm
}

/** For an error that the sky never shows (the Moon out of reach) a radian counts as one. */
const PER_RADIAN = 1

export function errorBudgetOf({ sky, solved: { station }, feed }: Answered): ErrorBudget {
  const share = sky.tolerance / Math.sqrt(SHARERS)
  const { focalLength, bdf } = station.model
  return {
    tolerance: sky.tolerance,
    share,
    hpbw: feed.hpbw,
    feed: (share * focalLength) / (1 + bdf),
    perUnit(...slots) {
      if (sky.points.length === 0) return PER_RADIAN
      const directions = slots.length < 2 ? [0] : Array.from({ length: 12 }, (_, k) => (k * Math.PI) / 12)
      const most = directions.map(a => {
        const [first, second = first] = slots
        const [c, s] = slots.length < 2 ? [1, 0] : [Math.cos(a), Math.sin(a)]
        const sizes = sky.points
          .map(({ partials: p }) =>
            Math.hypot(c * p[first!]! + s * p[second!]!, c * p[SLOTS + first!]! + s * p[SLOTS + second!]!),
          )
          .sort((x, y) => x - y)
        return sizes[Math.ceil(0.95 * sizes.length) - 1]!
      })
      return Math.max(...most)
    },
  }
}

/** The slots of the lower axis, whatever the kind calls them. */
export const LOWER_AXIS = [SLOT.axisA, SLOT.axisB] as const

export type Inside = 'inside' | 'outside' | 'cannot-tell'

/** Which side of a limit a value lies on, where σ lets that be told. @param sigma null: not known, so it cannot be */
export function insideOf(value: number, sigma: number | null, limit: number): Inside {
  if (sigma === null) return 'cannot-tell'
  const reach = ONE_IN_TWENTY * sigma
  if (Math.abs(value) + reach <= limit) return 'inside'
  return Math.abs(value) - reach > limit ? 'outside' : 'cannot-tell'
}

/** Nearer to its limit than this share of it no measurement settles a value. */
const TOO_NEAR = 0.05

/** 1 σ that would tell on which side of a limit a value lies; null where it lies on it. */
export function settlingSigma(value: number, limit: number): number | null {
  const left = Math.abs(limit - Math.abs(value))
  return left > TOO_NEAR * limit ? left / ONE_IN_TWENTY : null
}
