/** What a program may take on this mount, from the most to the least, each with what it leaves: for the question that comes first. */
import type { Answered } from '../fit/solution.ts'
import { type Deg, degFromRad } from '../units.ts'
import type { Aiming, CarryWish, Law } from './numbers.ts'
import { aimedBy, hasUnits, lawsOf, madeBy, remainsBy, wishFor } from './page.ts'
import type { Remains } from './remains.ts'
import { aimingsOf } from './told.ts'

export interface CarryChoices {
  feed: string
  /** The wish as this mount takes it. */
  wish: CarryWish
  /** Each aiming with the wish's law. */
  aimings: { aiming: Aiming; remains: Remains }[]
  /** Each law behind the wish's aiming. */
  laws: { law: Law; remains: Remains }[]
  /** Whether counts and degrees are two things here. */
  hasUnits: boolean
  toleranceDeg: Deg
  allowedLossDb: number
  /** With everything applied that the solution knows: no page leaves less. */
  wholeP95Deg: Deg
  /** Nothing was sighted: the numbers are those entered. */
  isSolved: boolean
}

export function choicesOf(answered: Answered, asked: CarryWish): CarryChoices {
  const { solved, sky, feed } = answered
  const { station } = solved
  const wish = wishFor(station, asked)
  const aimed = new Map(aimingsOf(station).map(aiming => [aiming, aimedBy(answered, aiming)]))
  const remains = (aiming: Aiming, law: Law): Remains => {
    const by = aimed.get(aiming)!
    return remainsBy(answered, by, madeBy(answered, by, { ...wish, aiming, law }))
  }
  const laws = lawsOf(station).map(law => ({ law, remains: remains(wish.aiming, law) }))
  const own = laws.find(l => l.law === wish.law)!.remains
  return {
    feed: feed.id,
    wish,
    aimings: [...aimed.keys()].map(aiming => ({
      aiming,
      remains: aiming === wish.aiming ? own : remains(aiming, wish.law),
    })),
    laws,
    hasUnits: hasUnits(station),
    toleranceDeg: degFromRad(sky.tolerance),
    allowedLossDb: station.tolerance.echoLossDb,
    wholeP95Deg: degFromRad(sky.after.p95),
    isSolved: solved.problem.sightings.length > 0,
  }
}
