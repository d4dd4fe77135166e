/**
 * Will it reach? Before a post is concreted in: which of the Moon's hours a mount gets at a place, and what takes the others. The
 * Moon is asked every ten minutes of a year; each time stands for ten minutes. Radians.
 */
import { haDecFromEnu } from '../frames.ts'
import { onPaper } from '../mount/slots.ts'
import type { Station } from '../records/station.ts'
import { siteFrame, topocentric } from '../sky/earthfixed.ts'
import { liftedDirection, refractivity } from '../sky/refraction.ts'
import { bodyTrack } from '../sky/track.ts'
import { type Rad, radFromDeg } from '../units.ts'
import { azElFromEnu, enuFromAzEl } from '../vectors.ts'
import { type Hindrance, type PreparedMount, preparedMount } from './hindrance.ts'
import { type MoonYear, moonYears, shareByDeclination } from './mooncycle.ts'

const STEP_MS = 600_000
const STEPS_AN_HOUR = 6
/** Azimuths are reported in sectors of this many degrees. */
const SECTOR_DEG = 5
const SECTORS = 360 / SECTOR_DEG
const CELL_DEG = 5

/** What a hindrance takes: hours of the year, in which directions. */
export interface Loss {
  to: Hindrance
  hours: number
  /** Sectors of 5° of azimuth, by index from north, that hold any of it. */
  sectors: boolean[]
  el: [lowest: Rad, highest: Rad]
}

export interface WillReach {
  /** Hours above the apparent horizon; of those, in reach; both by month. */
  up: number[]
  reached: number[]
  /** Largest first. `reached` and these add up to `up`. */
  losses: Loss[]
  /** What is reached, topocentric; null where nothing is. */
  span: { hourAngle: [Rad, Rad]; declination: [Rad, Rad] } | null
  /** Over the whole sky, cells of 5°: [azimuth][elevation], null where the mount reaches the cell's centre. */
  sky: (Hindrance | null)[][]
  years: MoonYear[]
}

/** @param year  a calendar year, UTC; the cycle begins with it */
export function willReachOf(station: Station, year: number): WillReach {
  const outlook = preparedMount(station, station.feeds[0]!, onPaper())
  return {
    ...yearOf(station, outlook, year),
    sky: skyOf(outlook),
    years: moonYears(year, shareByDeclination(station.site, outlook)),
  }
}

function yearOf({ site }: Station, outlook: PreparedMount, year: number): Omit<WillReach, 'sky' | 'years'> {
  const frame = siteFrame(site)
  const n = refractivity(site.air, 'radio')
  const [fromMs, toMs] = [Date.UTC(year, 0, 1), Date.UTC(year + 1, 0, 1)]
  const moon = bodyTrack('moon', fromMs, toMs)
  const up = new Array<number>(12).fill(0)
  const reached = new Array<number>(12).fill(0)
  const losses = new Map<Hindrance, Loss>()
  let hourAngle: [Rad, Rad] | undefined
  let declination: [Rad, Rad] | undefined
  for (let utcMs = fromMs + STEP_MS / 2; utcMs < toMs; utcMs += STEP_MS) {
    const airless = topocentric(moon(utcMs), frame).direction
    const direction = liftedDirection(airless, n)
    const { az, el } = azElFromEnu(direction)
    if (el < 0) continue
    const month = new Date(utcMs).getUTCMonth()
    up[month]!++
    const to = outlook.hindrance(direction, az, el)
    if (to === null) {
      reached[month]!++
      const { ha, dec } = haDecFromEnu(airless, site.lat)
      hourAngle = widened(hourAngle, ha)
      declination = widened(declination, dec)
      continue
    }
    const loss = losses.get(to) ?? { to, hours: 0, sectors: new Array<boolean>(SECTORS).fill(false), el: [el, el] }
    losses.set(to, loss)
    // Counted in steps until the year is over.
    loss.hours++
    loss.sectors[Math.min(SECTORS - 1, Math.floor(az / radFromDeg(SECTOR_DEG)))] = true
    loss.el = widened(loss.el, el)
  }
  const hours = (counts: number[]) => counts.map(n => n / STEPS_AN_HOUR)
  return {
    up: hours(up),
    reached: hours(reached),
    span: hourAngle && declination ? { hourAngle, declination } : null,
    losses: [...losses.values()].map(l => ({ ...l, hours: l.hours / STEPS_AN_HOUR })).sort((a, b) => b.hours - a.hours),
  }
}

const widened = (range: [Rad, Rad] | undefined, x: Rad): [Rad, Rad] =>
  range === undefined ? [x, x] : [Math.min(range[0], x), Math.max(range[1], x)]

function skyOf(outlook: PreparedMount): WillReach['sky'] {
  return Array.from({ length: 360 / CELL_DEG }, (_, a) =>
    Array.from({ length: 90 / CELL_DEG }, (_, e) => {
      const [az, el] = [radFromDeg((a + 0.5) * CELL_DEG), radFromDeg((e + 0.5) * CELL_DEG)]
      return outlook.hindrance(enuFromAzEl(az, el), az, el)
    }),
  )
}
