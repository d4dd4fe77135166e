/** Will it reach, as JSON: a few answers in, checked by the rules of the field book; degrees, hours and shares out. */
import type { Answer } from '../records/answer.ts'
import { no } from '../records/answer.ts'
import type { StationRecord } from '../records/fieldbook.ts'
import { readFieldBook } from '../records/intake.ts'
import { stationFromRecord } from '../records/stationintake.ts'
import { degFromRad } from '../units.ts'
import type { Hindrance } from './hindrance.ts'
import { type WillReach, willReachOf } from './willreach.ts'

/** As in a field book; a mount that does not exist yet reads degrees on both axes, its limits are angles. */
export interface WillReachWish {
  site: { latDeg: number; lonDeg: number; heightM?: number }
  mount: StationRecord['mount']
  horizonMask?: { azDeg: number; elDeg: number }[]
  /** Default 8. */
  minElevationDeg?: number
  /** A calendar year, 1900 to 2180. */
  year: number
}

export interface LossJson {
  to: Hindrance
  hours: number
  /** Of the hours that the Moon is above the horizon, 0 to 1. */
  share: number
  /** Where: azimuth sectors (from, to; through east; in steps of 5°, `to` may pass 360), and elevations. */
  sectors: { fromDeg: number; toDeg: number }[]
  elDeg: { min: number; max: number }
}

export interface WillReachJson {
  year: number
  /** In the year: reached, and above the horizon at all. */
  hours: number
  upHours: number
  /** January to December, UTC. */
  months: { hours: number; upHours: number }[]
  /** Largest first; with the share reached they make 1. */
  losses: LossJson[]
  /** What of the Moon's sky is reached; hour angle west +. Null: nothing is. */
  hourAngleDeg: { min: number; max: number } | null
  declinationDeg: { min: number; max: number } | null
  /** The whole sky in cells of 5°, [azimuth index][elevation index]: what hinders at the centre, null where it is reached. */
  sky: (Hindrance | null)[][]
  cellDeg: 5
  /** 19 years from `year`, more than a turn of the Moon's nodes: hours, and how far south and north it goes, from the Earth's centre. */
  years: { year: number; hours: number; southDeg: number; northDeg: number }[]
  best: { year: number; hours: number }
  worst: { year: number; hours: number }
}

/** The wish as a station, with everything else that a station needs; the beam is narrow enough not to raise the minimum elevation. */
const bookOf = ({ site, mount, horizonMask, minElevationDeg }: WillReachWish) => ({
  format: 'moonplumb-fieldbook',
  version: 1,
  exportedUtc: '2000-01-01T00:00:00Z',
  stations: [
    {
      id: 'place',
      name: 'place',
      site: { ...site, heightM: site.heightM ?? 0 },
      dish: { diameterM: 3, focalRatio: 0.4 },
      feeds: [{ id: 'feed', name: 'feed', frequencyMHz: 1296, beamwidthDeg: 1 }],
      mount,
      sightings: [],
      ...(horizonMask && { horizonMask }),
      ...(minElevationDeg !== undefined && { tolerance: { echoLossDb: 0.5, minElevationDeg } }),
    },
  ],
})

export function willReachJson(wish: WillReachWish): Answer<WillReachJson> {
  const { year } = wish
  if (!Number.isInteger(year) || year < 1900 || year > 2180) return no('year', 'must be a whole year, 1900 to 2180')
  const book = readFieldBook(JSON.stringify(bookOf(wish)))
  if (!book.ok)
    return { ok: false, faults: book.faults.map(f => ({ ...f, path: f.path.replace(/^stations\[0\]\.?/, '') })) }
  return { ok: true, value: outOf(year, willReachOf(stationFromRecord(book.value.stations[0]!), year)) }
}

const sum = (x: readonly number[]): number => x.reduce((a, b) => a + b, 0)
const range = (r: readonly [number, number]) => ({ min: degFromRad(r[0]), max: degFromRad(r[1]) })

function outOf(year: number, found: WillReach): WillReachJson {
  const upHours = sum(found.up)
  const years = found.years.map(y => ({
    year: y.year,
    hours: y.hours,
    southDeg: degFromRad(y.south),
    northDeg: degFromRad(y.north),
  }))
  const extreme = (sign: 1 | -1) => {
    const { year: of, hours } = years.reduce((a, b) => (sign * b.hours > sign * a.hours ? b : a))
    return { year: of, hours }
  }
  return {
    year,
    hours: sum(found.reached),
    upHours,
    months: found.up.map((up, k) => ({ hours: found.reached[k]!, upHours: up })),
    losses: found.losses.map(l => ({
      to: l.to,
      hours: l.hours,
      share: l.hours / upHours,
      sectors: runs(l.sectors).map(([a, b]) => ({ fromDeg: 5 * a, toDeg: 5 * b })),
      elDeg: range(l.el),
    })),
    hourAngleDeg: found.span && range(found.span.hourAngle),
    declinationDeg: found.span && range(found.span.declination),
    sky: found.sky,
    cellDeg: 5,
    years,
    best: extreme(1),
    worst: extreme(-1),
  }
}

/** Runs of true round a circle: first index, and one past the last, which may pass the end. */
export function runs(flags: readonly boolean[]): [number, number][] {
  const n = flags.length
  if (flags.every(Boolean)) return [[0, n]]
  const out: [number, number][] = []
  for (let i = 0; i < n; i++) {
    if (!flags[i] || flags[(i + n - 1) % n]) continue
    let end = i + 1
    while (flags[end % n]) end++
    out.push([i, end])
  }
  return out
}
