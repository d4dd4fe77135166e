/** Every slip of a page beside what it costs over the Moon's path: which of them a check must see. */
import type { Answered } from '../fit/solution.ts'
import type { Rad } from '../units.ts'
import { type Carried, carriedOf, type Mistake, mistakesOf } from './mistakes.ts'
import { type CarryPage, looksOf, readingsBy } from './page.ts'
import { missesAt } from './remains.ts'
import { anglesOf } from './shown.ts'

/** A slip is not looked for if it costs less than this share, in decibels, of what the person allows or the page leaves anyway. */
const HARM = 0.25
/** Enough points of the Moon's path to tell what a slip costs. */
const HARM_POINTS = 80

/** The 95th percentile of the miss over some of the Moon's path, rad; places without a reading count as wholly missed. */
export function missesOver(answered: Answered, carried: readonly Carried[]): Rad[] {
  const { solved, sky } = answered
  const { station } = solved
  const missAt = missesAt(answered)
  const every = Math.max(1, Math.floor(sky.points.length / HARM_POINTS))
  const moons = sky.points.filter((_, k) => k % every === 0).map(p => p.moon)
  const looks = looksOf(moons)
  const angles = anglesOf(station, looks)
  return carried.map(c => {
    const set = readingsBy(c.axes, c.numbers)
    const misses = angles(c)
      .map((a, k) => {
        const miss = missAt(set(a), moons[k]!.direction)
        return miss ? Math.hypot(...miss) : Math.PI
      })
      .sort((a, b) => a - b)
    return misses[Math.ceil(0.95 * misses.length) - 1] ?? 0
  })
}

/** Slips beside what each costs over the Moon's path. */
export interface Weighed {
  mistakes: Mistake[]
  /** rad, p95. */
  misses: Rad[]
  harmful: boolean[]
}

export function weighed(answered: Answered, page: CarryPage): Weighed {
  const mistakes = mistakesOf(answered, page)
  const [own, ...misses] = missesOver(answered, [carriedOf(page), ...mistakes.map(m => m.carried)])
  return {
    mistakes,
    misses,
    harmful: misses.map(m => m * m > own! * own! + HARM * Math.max(answered.sky.tolerance, own!) ** 2),
  }
}
