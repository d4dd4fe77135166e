/**
 * How many sightings it takes to come within 1 dB on one's own echoes, and within the usual 0.5 dB: the one that the solution names next, against one every five hours or more and
 * against one at random, each within three days of the last, by the same ways (Sun by its noise or its shadow; the Moon by its noise
 * where it is heard and found). Drawn stations of all mounts, 1.3 to 5.8 GHz; a campaign ends at 30 sightings. CAMPAIGNS: how many (200); FROM: after so many others.
 * Figures: median, quartiles and nine in ten of the sightings needed, and the share of campaigns that came so far.
 */
import { solve } from '../../src/core/questions.ts'
import type { Method, SightingRecord } from '../../src/core/records/fieldbook.ts'
import { answered } from '../helpers/answered.ts'
import { type Chance, chance } from '../helpers/random.ts'
import { bookOf, drawScene, KINDS, type Scene, START_MS, sight, utcOf } from '../helpers/simulate.ts'

const CAMPAIGNS = Number(process.env.CAMPAIGNS ?? 200)
const FROM = Number(process.env.FROM ?? 0)
const MOST = 30
const HOUR_MS = 3_600_000
const SPAN_MS = 72 * HOUR_MS
const STRATEGIES = ['advised', 'even', 'random'] as const
type Strategy = (typeof STRATEGIES)[number]

type Solution = ReturnType<typeof solved>
const solved = (scene: Scene, sightings: SightingRecord[], ms: number) =>
  answered(solve(bookOf({ ...scene.record, sightings }), { now: utcOf(ms) }))

interface Made {
  ms: number
  sighting: SightingRecord
}

/** The first of some times at which a way can be carried out on the mount as it is. */
function firstOf(
  scene: Scene,
  times: Iterable<number>,
  waysAt: () => { target: 'sun' | 'moon'; method: Method },
  id: string,
): Made | null {
  for (const ms of times) {
    const { target, method } = waysAt()
    const sighting = sight(scene, { ms, target: { type: target }, method, lowestDeg: 8 }, id)
    if (sighting) return { ms, sighting }
  }
  return null
}

function nextOf(scene: Scene, strategy: Strategy, solution: Solution, ms: number, c: Chance, id: string): Made | null {
  if (strategy === 'advised') {
    for (const next of solution.next) {
      const at = Date.parse(next.utc)
      const sighting = sight(scene, { ms: at, target: { type: next.target }, method: next.method, lowestDeg: 8 }, id)
      if (sighting) return { ms: at, sighting }
    }
  }
  const hearsMoon = solution.next.some(n => n.target === 'moon')
  const way = (): { target: 'sun' | 'moon'; method: Method } => {
    const x = c.next()
    return hearsMoon && x < 1 / 3
      ? { target: 'moon', method: 'signal-peak' }
      : { target: 'sun', method: x < 2 / 3 ? 'signal-peak' : 'shadow' }
  }
  const spread = Array.from({ length: 120 }, (_, k) => ms + (5 + k / 2) * HOUR_MS)
  const drawn = Array.from({ length: 400 }, () => ms + c.between(0.2 * HOUR_MS, SPAN_MS))
  // An advice that cannot be carried out (a slot at the edge of the reach) is made good by one at random.
  return firstOf(scene, strategy === 'even' ? spread : drawn, way, id)
}

interface Needed {
  oneDb: number | null
  halfDb: number | null
}

/** Sightings until so far; null: not within 30. */
function campaignOf(seed: number, strategy: Strategy): Needed {
  const scene = drawScene(seed, { kind: KINDS[seed % 4]! })
  const c = chance(seed + 17)
  const needed: Needed = { oneDb: null, halfDb: null }
  let made = nextOf(scene, 'random', { next: [] } as unknown as Solution, START_MS, c, 's0')
  const sightings: SightingRecord[] = []
  while (made !== null) {
    sightings.push(made.sighting)
    const ms = made.ms + 600_000
    const solution = solved(scene, sightings, ms)
    if (sightings.length >= 4) {
      const { after, toleranceDeg } = solution.sky
      if (after.p95Deg <= Math.SQRT2 * toleranceDeg) needed.oneDb ??= sightings.length
      if (after.p95Deg <= toleranceDeg) needed.halfDb = sightings.length
    }
    if (needed.halfDb !== null || sightings.length === MOST) break
    made = nextOf(scene, strategy, solution, ms, c, `s${sightings.length}`)
  }
  return needed
}

function figures(list: readonly (number | null)[]) {
  const sorted = list.map(n => n ?? Infinity).sort((a, b) => a - b)
  const at = (share: number) => {
    const n = sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!
    return Number.isFinite(n) ? n : `more than ${MOST}`
  }
  return {
    campaigns: list.length,
    within: Number((list.filter(n => n !== null).length / Math.max(1, list.length)).toFixed(3)),
    quarter: at(0.25),
    median: at(0.5),
    threeQuarters: at(0.75),
    nineInTen: at(0.9),
  }
}

export default async () => {
  const seeds = Array.from({ length: CAMPAIGNS }, (_, k) => 810_000 + FROM + k)
  const all = STRATEGIES.map(s => ({ strategy: s, needed: seeds.map(seed => campaignOf(seed, s)) }))
  const of = (far: keyof Needed, keep: (k: number) => boolean) =>
    Object.fromEntries(
      all.map(({ strategy, needed }) => [strategy, figures(needed.filter((_, k) => keep(seeds[k]!)).map(n => n[far]))]),
    )
  const both = (keep: (k: number) => boolean) => ({ toOneDb: of('oneDb', keep), toHalfDb: of('halfDb', keep) })
  return {
    all: both(() => true),
    byKind: Object.fromEntries(KINDS.map((kind, k) => [kind, both(seed => seed % 4 === k)])),
  }
}
