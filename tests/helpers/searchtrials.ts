/**
 * First searches on mounts that are off in a known way, drawn: the dish is driven from step to step at its pace while the Sun moves on,
 * until the Sun is within the stated loss; the same by a plain raster over the same extent, row by row from a corner.
 */
import { solveStation } from '../../src/core/fit/solution.ts'
import { MOUNT_KINDS } from '../../src/core/mount/names.ts'
import { type FirstSearch, firstSearchOf, searchReadings } from '../../src/core/plan/firstsearch.ts'
import type { MountKind, StationRecord } from '../../src/core/records/fieldbook.ts'
import { isHighEnough } from '../../src/core/records/station.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { apparentPlace } from '../../src/core/sky/targets.ts'
import type { Vec3 } from '../../src/core/vectors.ts'
import { DEG } from './degrees.ts'
import { type Chance, chance } from './random.ts'
import { weir } from './stations.ts'
import { offsetDeg, type Truth, trueMount } from './truemount.ts'

/** Of either zero, or of the heading in place of the lower zero; so that 10° are what the search allows for. */
const SIGMA_DEG = 10 / 2.448
/** Of what is small beside it. */
const SMALL_DEG = 0.3
const SECONDS = 15
/** Of either axis, degrees a second. */
const SPEED = 0.5

interface Walked {
  found: boolean
  steps: number
  minutes: number
  /** The larger coordinate of the miss when it was first heard: 1 dB above cold sky, in the beam or on its skirts. Degrees. */
  firstHeardDeg: number | null
}
export interface SearchTrial {
  kind: MountKind
  hpbwDeg: number
  /** How far the Sun stood from the beam at the first step. */
  errorDeg: number
  sigmaDeg: number
  steps: number
  search: Walked
  raster: Walked
}

const LIMITS: Readonly<Record<MountKind, readonly [number, number, number, number]>> = {
  'el-over-az': [-30, 390, -10, 110],
  'ha-dec': [-190, 190, -95, 95],
  'az-over-el': [-20, 200, -100, 100],
  'x-y': [-100, 100, -100, 100],
}

function drawnRecord(c: Chance, kind: MountKind): { record: StationRecord; truth: Truth } {
  const [a, b, d, e] = LIMITS[kind]
  const axis = (minReading: number, maxReading: number) => ({
    readout: { type: 'degrees' as const },
    minReading,
    maxReading,
  })
  const small = [
    'squareness',
    'collimation',
    ...(kind === 'el-over-az' ? ['leanNorth', 'leanEast'] : kind === 'ha-dec' ? ['poleEast', 'poleUp'] : ['level']),
  ]
  const [wideA, wideB] = kind === 'az-over-el' || kind === 'x-y' ? ['heading', 'upperZero'] : ['lowerZero', 'upperZero']
  const known = ['lowerZero', 'upperZero'].filter(id => id !== wideA && id !== wideB)
  const truth: Truth = {}
  for (const id of [...small, ...known]) truth[id] = c.normal(SMALL_DEG)
  // Anything up to 10° in all, any way.
  const [size, way] = [c.between(0, 10), c.between(0, 2 * Math.PI)]
  truth[wideA!] = size * Math.cos(way)
  truth[wideB!] = size * Math.sin(way)
  const record: StationRecord = {
    ...weir(kind, c.between(25, 55) * c.sign(), axis(a, b), axis(d, e)),
    dish: { diameterM: 3, focalRatio: 0.4 },
    feeds: [{ id: 'a', name: 'horn', frequencyMHz: 1296, beamwidthDeg: c.between(1.2, 6) }],
    priors: [
      ...[...small, ...known].map(id => ({ id, value: 0, sigma: SMALL_DEG })),
      ...[wideA!, wideB!].map(id => ({ id, value: 0, sigma: SIGMA_DEG })),
      ...['lowerScale', 'upperScale'].map(id => ({ id, value: 0, sigma: 0.001 })),
    ],
  }
  return { record, truth }
}

/** Row by row from a corner, to and fro, over the whole rectangle. */
function rasterOf(search: FirstSearch): FirstSearch {
  const { step } = search.pattern
  const rows = Math.ceil(search.extent.narrow / step.across - 0.5)
  const columns = Math.ceil(search.extent.wide / step.along - 0.5)
  const places: [number, number][] = []
  for (let j = -rows; j <= rows; j++)
    for (let n = -columns; n <= columns; n++)
      places.push([((j + rows) % 2 === 0 ? n : -n) * step.along, j * step.across])
  return { ...search, pattern: { ...search.pattern, places } }
}

/** What the Sun adds to the noise in the middle of the beam, as a share of the noise: 9 dB above cold sky. */
const ADDED = 10 ** 0.9 - 1

function walk(search: FirstSearch, record: StationRecord, truth: Truth, startMs: number, hpbwDeg: number): Walked {
  const mount = trueMount(record, truth)
  let ms = startMs
  let before: { lower: number; upper: number } | null = null
  let firstHeardDeg: number | null = null
  let steps = 0
  for (let k = 0; k < search.pattern.places.length; k++) {
    const at = searchReadings(search, ms)(k)
    if (at === null || !at.inside) continue
    steps++
    const way = before === null ? 0 : Math.max(Math.abs(at.lower - before.lower), Math.abs(at.upper - before.upper))
    ms += 1000 * (SECONDS + way / SPEED)
    before = at
    const sun: Vec3 = apparentPlace({ type: 'sun' }, ms, search.station.site, 'radio').direction
    const [right, up] = offsetDeg(mount.pose(at.lower, at.upper, 'beam'), sun)
    const miss = Math.hypot(right, up)
    const rise = 10 * Math.log10(1 + ADDED * 2 ** (-4 * (miss / hpbwDeg) ** 2))
    if (rise >= 1) firstHeardDeg ??= Math.max(Math.abs(right), Math.abs(up))
    // The step was meant for the Sun of the moment when it was set; it has gone on for less than a minute.
    if (miss <= 0.52 * hpbwDeg) return { found: true, steps, minutes: (ms - startMs) / 60_000, firstHeardDeg }
  }
  return { found: false, steps, minutes: (ms - startMs) / 60_000, firstHeardDeg }
}

/** One drawn mount; null where the Sun is low or out of reach. */
export function searchTrial(seed: number): SearchTrial | null {
  const c = chance(seed)
  const kind = MOUNT_KINDS[seed % MOUNT_KINDS.length]!
  const { record, truth } = drawnRecord(c, kind)
  const startMs = Date.UTC(2026, 0, 1) + Math.floor(c.between(0, 365 * 86_400)) * 1000
  const station = stationFromRecord(record)
  const feed = station.feeds[0]!
  const sun = apparentPlace({ type: 'sun' }, startMs, station.site, 'radio')
  if (!isHighEnough(station, feed, sun.az, sun.el) || sun.el > 75 * DEG) return null
  const search = firstSearchOf(solveStation(station), feed, startMs)
  if (search === null) return null
  const first = searchReadings(search, startMs)(0)
  if (first === null || !first.inside) return null
  const hpbwDeg = feed.hpbw / DEG
  const { step } = search.pattern
  const mine = walk(search, record, truth, startMs, hpbwDeg)
  return {
    kind,
    hpbwDeg,
    errorDeg: Math.hypot(...offsetDeg(trueMount(record, truth).pose(first.lower, first.upper, 'beam'), sun.direction)),
    sigmaDeg: Math.max(step.along, step.across) / DEG / 2 + hpbwDeg,
    steps: search.pattern.places.length,
    search: mine,
    raster: walk(rasterOf(search), record, truth, startMs, hpbwDeg),
  }
}
