/**
 * What to drive to for any target: rows of both readings over the coming minutes, corrected and as entered, and what happens to it next,
 * with the cause when it leaves reach. Like dial.ts, which knows Sun and Moon only; the sky is asked here, the screen interpolates.
 */
import { haDecFromEnu } from '../frames.ts'
import { trueAngle } from '../mount/readings.ts'
import { type Built, onPaper } from '../mount/slots.ts'
import type { Axis } from '../records/fieldbook.ts'
import type { Feed, Station } from '../records/station.ts'
import type { Place, Target } from '../sky/place.ts'
import { airlessDirection } from '../sky/refraction.ts'
import { apparentPlace } from '../sky/targets.ts'
import { type Deg, degFromRad, radFromDeg, type UtcMs } from '../units.ts'
import { type DialBody, nextEvent } from './dial.ts'
import { type DialRow, dialRows, evenTimes } from './dialrows.ts'
import { type Hindrance, preparedMount } from './hindrance.ts'

/** The distance is null for a source and a landmark. */
export type TargetDialRow = DialRow & {
  distanceKm: number | null
  /** Hour angle, west +, and declination: of the station, without air. */
  haDeg: Deg
  decDeg: Deg
  /** The readings of the mount as entered, without corrections; null: no pose. */
  enteredLower: number | null
  enteredUpper: number | null
}

/** The spell within reach that runs, or comes next. */
export interface ReachSpell {
  /** Null: it runs already. */
  fromMs: UtcMs | null
  /** Null: not within a day. */
  untilMs: UtcMs | null
  /** What ends it. */
  why: Hindrance | null
}

export interface TargetDial {
  rows: TargetDialRow[]
  /** The next that happens within 25 hours; null: nothing does. */
  next: DialBody['event']
  /** Why it is out of reach now, or will be at `next`; null: it is within reach and stays so, or comes within it. */
  why: Hindrance | null
  /** Null: not within reach for a day. */
  spell: ReachSpell | null
  /** How wide its disc is; null: a point, or not known. */
  sizeDeg: Deg | null
  /** Readings in a degree of each axis, where the target stands; null: no pose. */
  perDeg: Record<Axis, number | null>
}

/** Radii, km: the Sun's nominal one (IAU 2015), the Moon's mean one (IAU 2015, from memory). */
const RADIUS_KM = { sun: 695_700, moon: 1737.4 } as const

/**
 * @param target of the records, in radians
 * @param stepMs and count of the rows from `now` on
 * @throws RangeError for a source that is not in the table
 */
export function dialTargetOf(
  whole: Station,
  feed: Feed,
  built: Built,
  target: Target,
  now: UtcMs,
  stepMs: number,
  count: number,
): TargetDial {
  const station = target.type === 'landmark' ? withoutFloor(whole) : whole
  const { model, site } = station
  const at = keptPlaces(utcMs => apparentPlace(target, utcMs, site, 'radio'))
  const times = evenTimes(now, stepMs, count)
  const entered = dialRows(station, feed, onPaper(), at, times, () => ({}))
  const rows = dialRows(station, feed, built, at, times, ({ direction, distanceKm }) => {
    const airless = target.type === 'landmark' ? direction : airlessDirection(direction, site.air, 'radio')
    const { ha, dec } = haDecFromEnu(airless, site.lat)
    return { distanceKm, haDeg: degFromRad(ha), decDeg: degFromRad(dec) }
  }).map((row, k) => ({ ...row, enteredLower: entered[k]!.lower, enteredUpper: entered[k]!.upper }))
  const outlook = preparedMount(station, feed, built)
  const outAt = (utcMs: UtcMs): Hindrance | null => {
    const { direction, az, el } = at(utcMs)
    return outlook.hindrance(direction, az, el)
  }
  const stateAt = (utcMs: UtcMs) => (at(utcMs).el < 0 ? 'down' : outAt(utcMs) === null ? 'reached' : 'up')
  const next = nextEvent(stateAt, now)
  const outNow = outAt(now)
  const why = outNow ?? (next?.what === 'leaves-reach' ? outAt(next.utcMs) : null)
  const first = rows[0]
  const perDeg = (axis: Axis): number | null => {
    const reading = first?.[axis]
    const angle = reading === undefined || reading === null ? null : trueAngle(model, built, axis, reading)
    return angle?.kind === 'angle' ? radFromDeg(1) / Math.abs(angle.perReading) : null
  }
  return {
    rows,
    next,
    why,
    spell: spellFrom(now, outNow === null, outAt),
    sizeDeg: sizeOf(target, first?.distanceKm ?? null),
    perDeg: { lower: perDeg('lower'), upper: perDeg('upper') },
  }
}

/** A landmark stands on the horizon and is visible or not: minimum elevation and mask do not apply to it. */
const withoutFloor = (station: Station): Station => ({
  ...station,
  mask: [],
  tolerance: { ...station.tolerance, minElevation: -Math.PI / 2 },
})

/** The sky is asked once for an instant, however often it is needed. */
function keptPlaces(placeAt: (utcMs: UtcMs) => Place): (utcMs: UtcMs) => Place {
  const kept = new Map<UtcMs, Place>()
  return utcMs => {
    const place = kept.get(utcMs) ?? placeAt(utcMs)
    kept.set(utcMs, place)
    return place
  }
}

const sizeOf = (target: Target, distanceKm: number | null): Deg | null =>
  (target.type === 'sun' || target.type === 'moon') && distanceKm !== null
    ? degFromRad(2 * Math.asin(RADIUS_KM[target.type] / distanceKm))
    : null

/** The spell that runs, or the next within 25 hours. */
function spellFrom(now: UtcMs, isReached: boolean, outAt: (utcMs: UtcMs) => Hindrance | null): ReachSpell | null {
  const change = (from: UtcMs) => nextEvent(utcMs => (outAt(utcMs) === null ? 'reached' : 'up'), from)?.utcMs ?? null
  const fromMs = isReached ? null : change(now)
  if (!isReached && fromMs === null) return null
  const untilMs = change(fromMs ?? now)
  return { fromMs, untilMs, why: untilMs === null ? null : outAt(untilMs) }
}
