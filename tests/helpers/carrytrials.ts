/** Stations drawn with a known truth, and the pages for their programs: what each promises, and what a dumb tracker does with it. */

import type { CarryWish } from '../../src/core/carry/numbers.ts'
import { type CarryPage, hasUnits, lawsOf, looksOf, pageOf } from '../../src/core/carry/page.ts'
import { aimingsOf } from '../../src/core/carry/told.ts'
import { type Answered, answerFor } from '../../src/core/fit/solution.ts'
import { slotOf } from '../../src/core/mount/slots.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { azElFromEnu } from '../../src/core/vectors.ts'
import { track } from './dumbtracker.ts'
import type { Chance } from './random.ts'
import { drawScene, mountAt, type Scene, START_MS, type StationWish } from './simulate.ts'
import { apartDeg, type TrueMount } from './truemount.ts'

const D = Math.PI / 180
export const NOW = new Date(START_MS).toISOString().replace('.000Z', 'Z')

/** A solved station whose solution is the truth itself: what a page then leaves is its own doing. */
export interface CarryScene {
  scene: Scene
  answered: Answered
  mount: TrueMount
}

/** @param truly  deviations, by id, degrees: beside those drawn, or with `isAll` in their place */
export function carryScene(
  seed: number,
  wish: StationWish = {},
  truly: Record<string, number> = {},
  isAll = false,
): CarryScene {
  const scene = drawScene(seed, wish)
  const { truth } = scene.truths[0]!
  if (isAll) for (const id of Object.keys(truth)) truth[id] = 0
  Object.assign(truth, truly)
  // Given as priors of almost no width, the truth is the solution.
  const priors = Object.entries(truth).flatMap(([key, value]) => {
    const [id, feed] = key.split(':') as [Parameters<typeof slotOf>[0], string | undefined]
    return slotOf(id, scene.record.mount.kind) === null || /^(tube|.*Play)/.test(id)
      ? []
      : [{ id, ...(feed === undefined ? {} : { feed }), value, sigma: 1e-7, measured: true }]
  })
  const record = { ...scene.record, priors, sightings: [] }
  const station = stationFromRecord(record)
  return { scene: { ...scene, record }, answered: answerFor(station, START_MS), mount: mountAt(scene, START_MS) }
}

/** Every kind of page that this station has; of tables one step. */
export function wishesOf({ answered }: CarryScene): CarryWish[] {
  const { station } = answered.solved
  const units = hasUnits(station) ? (['counts', 'degrees'] as const) : (['degrees'] as const)
  const wishes: CarryWish[] = []
  for (const aiming of aimingsOf(station))
    for (const law of lawsOf(station))
      for (const unit of units)
        for (const way of ['command', 'reading'] as const) {
          // A jack's dimensions are in counts, and both they and an offset are the same both ways.
          if (law === 'jack' && (unit === 'degrees' || way === 'reading')) continue
          if (law === 'offset' && way === 'reading') continue
          wishes.push({ aiming, law, unit, way, step: way === 'command' || unit === 'degrees' ? 3 : 60 })
        }
  return wishes
}

export const wishName = (w: CarryWish): string => `${w.aiming} ${w.law} ${w.unit} ${w.way}`

export interface Kept {
  wish: CarryWish
  promisedRmsDeg: number
  promisedP95Deg: number
  rmsDeg: number
  p95Deg: number
  worstDeg: number
  promisedWorstDeg: number
  lost: number
}

/** What the tracker misses over the Moon's month, given the page as JSON, on the true mount. */
export function trackedBy({ answered, mount }: CarryScene, page: CarryPage): Kept {
  const text = JSON.parse(JSON.stringify(page))
  const points = answered.sky.points.map(p => p.moon)
  const looks = looksOf(points)
  const { site } = answered.solved.station
  let lost = 0
  const misses = points.flatMap((p, k) => {
    const seen = (latDeg: number, lonDeg: number) => {
      // At the station's own place the path has it already.
      const isHere = Math.abs(latDeg * D - site.lat) < 1e-12 && Math.abs(lonDeg * D - site.lon) < 1e-12
      const v = isHere ? p.direction : looks[k]!.from({ ...site, lat: latDeg * D, lon: lonDeg * D })
      const { az, el } = azElFromEnu(v)
      return { azDeg: az / D, elDeg: el / D }
    }
    const at = track(text, seen)
    const miss = at === null ? Number.NaN : apartDeg(mount.pose(at.lower, at.upper, 'beam').b, p.direction)
    if (Number.isFinite(miss)) return [miss]
    lost++
    return []
  })
  const sorted = [...misses].sort((a, b) => a - b)
  return {
    wish: page.wish,
    promisedRmsDeg: page.remains.rmsDeg,
    promisedP95Deg: page.remains.p95Deg,
    promisedWorstDeg: page.remains.worstDeg,
    rmsDeg: Math.sqrt(misses.reduce((a, x) => a + x * x, 0) / Math.max(1, misses.length)),
    p95Deg: sorted[Math.ceil(0.95 * sorted.length) - 1] ?? 0,
    worstDeg: sorted[sorted.length - 1] ?? 0,
    lost,
  }
}

/** To 1 %, and to what rounding at the edge of a pose does to very little. */
export const isKept = ({ promisedRmsDeg, rmsDeg, promisedP95Deg, p95Deg }: Kept): boolean =>
  Math.abs(rmsDeg - promisedRmsDeg) <= 0.01 * promisedRmsDeg + 0.0005 &&
  Math.abs(p95Deg - promisedP95Deg) <= 0.01 * promisedP95Deg + 0.0005

/**
 * How far a tracker that knows a virtual site and nothing else of the mount misses stars, at worst of 20: no air, no parallax, so the
 * leaning base and the level one elsewhere are the same. Of a mount that is off in nothing but its base.
 */
export function starMissDeg(scene: CarryScene, c: Chance): number {
  const page = JSON.parse(JSON.stringify(pageFor(scene, SITE_ALONE)))
  for (const n of page.numbers) if (/\.\d$/.test(n.id)) n.text = n.id.endsWith('.1') ? '1' : '0'
  const { site } = scene.answered.solved.station
  let worst = 0
  for (let k = 0, tries = 0; k < 20 && tries < 2000; tries++) {
    const here = { az: c.between(0, 360) * D, el: c.between(10, 80) * D }
    const t: [number, number, number] = [
      Math.cos(here.el) * Math.sin(here.az),
      Math.cos(here.el) * Math.cos(here.az),
      Math.sin(here.el),
    ]
    const fixed = earthFixed(t, site.lat, site.lon)
    const seen = (latDeg: number, lonDeg: number) => {
      const [e, n, u] = localOf(fixed, latDeg * D, lonDeg * D)
      return { azDeg: Math.atan2(e, n) / D, elDeg: Math.asin(u) / D }
    }
    const at = track(page, seen)
    if (
      at === null ||
      (['lower', 'upper'] as const).some(a => at[a] < page.axes[a].fromDeg || at[a] > page.axes[a].toDeg)
    )
      continue
    k++
    worst = Math.max(worst, apartDeg(scene.mount.pose(at.lower, at.upper, 'beam').b, t))
  }
  return worst
}

const SITE_ALONE: CarryWish = { aiming: 'site', law: 'line', unit: 'degrees', way: 'command', step: 2 }
type V = [number, number, number]
/** East, north, up of a place; and the same in the frame fixed to the Earth. */
const localBasis = (lat: number, lon: number): [V, V, V] => [
  [-Math.sin(lon), Math.cos(lon), 0],
  [-Math.sin(lat) * Math.cos(lon), -Math.sin(lat) * Math.sin(lon), Math.cos(lat)],
  [Math.cos(lat) * Math.cos(lon), Math.cos(lat) * Math.sin(lon), Math.sin(lat)],
]
function earthFixed(t: V, lat: number, lon: number): V {
  const [e, n, u] = localBasis(lat, lon)
  return [0, 1, 2].map(k => t[0] * e[k]! + t[1] * n[k]! + t[2] * u[k]!) as V
}
const localOf = (v: V, lat: number, lon: number): V =>
  localBasis(lat, lon).map(b => b[0] * v[0] + b[1] * v[1] + b[2] * v[2]) as V

export const pageFor = ({ answered }: CarryScene, wish: CarryWish): CarryPage => pageOf(answered, wish, NOW)
