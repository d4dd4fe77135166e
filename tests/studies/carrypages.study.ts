/**
 * A tracker that knows one page and no more, for every kind of page on 20 drawn stations and more: what it misses over the Moon's month
 * against what the page says. And 100 leaning bases with a virtual site: stars, and the Moon.
 */
import {
  carryScene,
  isKept,
  type Kept,
  pageFor,
  starMissDeg,
  trackedBy,
  wishesOf,
  wishName,
} from '../helpers/carrytrials.ts'
import { chance } from '../helpers/random.ts'
import { KINDS } from '../helpers/simulate.ts'

/** Three kinds of mount take a site, one a pole; each has one axis on a jack, so that every kind of page can be made. */
const STATIONS = { 'el-over-az': 7, 'az-over-el': 7, 'x-y': 7, 'ha-dec': 20 } as const

export default async () => {
  const kinds: Record<string, { pages: number; kept: number; lost: number; worstPct: number }> = {}
  const broken: string[] = []
  for (const kind of KINDS)
    for (let k = 0; k < STATIONS[kind]; k++) {
      const scene = carryScene(40 + k, { kind, upper: 'jack' })
      for (const wish of wishesOf(scene)) {
        const page = pageFor(scene, wish)
        const kept: Kept = trackedBy(scene, page)
        const name = `${wish.aiming} ${wish.law}`
        const of = kinds[name] ?? { pages: 0, kept: 0, lost: 0, worstPct: 0 }
        kinds[name] = of
        of.pages++
        if (page.remains.lostHours > 0) {
          of.lost++
          continue
        }
        if (isKept(kept)) of.kept++
        else broken.push(`${kind} ${k} ${wishName(wish)}: ${kept.promisedRmsDeg} ${kept.rmsDeg}`)
        const off = Math.abs(kept.rmsDeg - kept.promisedRmsDeg)
        if (kept.promisedRmsDeg > 0.05) of.worstPct = Math.max(of.worstPct, (100 * off) / kept.promisedRmsDeg)
      }
    }
  const c = chance(77)
  let stars = 0
  let moonPct = 0
  for (let k = 0; k < 100; k++) {
    const lean = { leanNorth: c.between(-4, 4), leanEast: c.between(-4, 4) }
    const level = { heading: c.between(-6, 6), level: c.between(-4, 4) }
    const kind = (['el-over-az', 'az-over-el', 'x-y'] as const)[k % 3]!
    const truly = kind === 'el-over-az' ? lean : level
    const scene = carryScene(500 + k, { kind, lower: 'degrees', upper: 'degrees' }, truly, true)
    stars = Math.max(stars, starMissDeg(scene, c))
    const kept = trackedBy(
      scene,
      pageFor(scene, { aiming: 'site', law: 'line', unit: 'degrees', way: 'command', step: 2 }),
    )
    if (kept.promisedRmsDeg > 0.005)
      moonPct = Math.max(moonPct, (100 * Math.abs(kept.rmsDeg - kept.promisedRmsDeg)) / kept.promisedRmsDeg)
  }
  return {
    stations: Object.values(STATIONS).reduce((a, n) => a + n, 0),
    kinds,
    broken,
    leaningBases: { bases: 100, starsWorstDeg: stars, moonWorstPct: moonPct },
  }
}
