/**
 * Windows as JSON: degrees, dB, UTC text, and what each spell is worth: distance, what is heard behind the target, what the
 * pointing is expected to lose.
 */
import { echoPathDb } from '../dish/echopath.ts'
import { echoLossDb } from '../dish/optics.ts'
import { partialsIn } from '../fit/residuals.ts'
import { floorOf, variancePart } from '../fit/skyerror.ts'
import { builtFor } from '../fit/solution.ts'
import type { Solved } from '../fit/solved.ts'
import { aimer, midRange, type Reach } from '../mount/aim.ts'
import { chainOf } from '../mount/asbuilt.ts'
import { type Built, SLOTS } from '../mount/slots.ts'
import type { TargetRecord } from '../records/fieldbook.ts'
import { msFromUtc, utcFromMs } from '../records/instant.ts'
import type { Feed } from '../records/station.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { backgroundOf, NOISY_WITHIN } from '../sky/background.ts'
import { DAY_MS, degFromRad, HOUR_MS, MINUTE_MS, type Rad, type UtcMs } from '../units.ts'
import { type PlaceJson, partnerSite } from './partner.ts'
import { type Passage, type Seen, type Spell, type SpellEnd, type Windows, windowsOf } from './windows.ts'

export interface WindowsWish {
  target: TargetRecord
  fromUtc: string
  /** Above 0; a fraction is allowed. */
  days: number
  /** The other end of a contact, at sea level: the target must stand above its apparent horizon too. */
  partner?: PlaceJson
}

/** Where the target stands at one instant, and what is heard behind it. */
export interface StandingJson {
  utc: string
  /** Airless, from the station. */
  declinationDeg: number
  /** From the station to the centre; null for a source and a landmark. */
  distanceKm: number | null
  /** What the distance does to an echo against 384 400 km; below 0 it is stronger. Null for any target but the Moon. */
  echoPathDb: number | null
  /** Degrees to the bright part of the galactic plane, and to the Sun; which are within 10°. Null where the target stands still. */
  noise: { galaxyDeg: number; sunDeg: number | null; near: ('galaxy' | 'sun')[] } | null
}

export interface SpellJson {
  inUtc: string
  outUtc: string
  hours: number
  /** What ended the time before it, and what ends it; `span`: only the end of what was asked for. */
  inBy: SpellEnd
  outBy: SpellEnd
  maxElDeg: number
  maxElUtc: string
  middle: StandingJson
  /** Expected over the spell after correction, rms; on one's own echoes in dB. Beyond 6.02 dB no figure holds: the beam misses. */
  pointing: { rmsDeg: number; echoLossDb: number }
}

export interface PassageJson {
  what: Passage['what']
  utc: string
  azDeg: number
  elDeg: number
}

/** 24 hours from `fromUtc`, and so on; the last may be shorter. */
export interface DayJson {
  fromUtc: string
  hours: number
  /** At its transit if there is one, else at the day's middle. */
  standing: StandingJson
  passages: PassageJson[]
}

export interface WindowsJson {
  station: string
  feed: string
  target: TargetRecord
  fromUtc: string
  toUtc: string
  hours: number
  spells: SpellJson[]
  days: DayJson[]
  /** Where there is no spell at all: what takes the hours in which the target is up, the largest first; empty where it is never up. */
  hindered: { to: SpellEnd; hours: number }[]
}

const POINTING_STEP_MS = 30 * MINUTE_MS
const HINDERED_STEP_MS = 10 * MINUTE_MS

const endOf = (wish: WindowsWish): UtcMs => msFromUtc(wish.fromUtc) + Math.round(wish.days * DAY_MS)

/** The spells themselves, as the list and the calendar need them. @param built  for the setup whose solution holds */
export function windowsFor(solved: Solved, feed: Feed, { built }: { built: Built }, wish: WindowsWish): Windows {
  const fromMs = msFromUtc(wish.fromUtc)
  const partner = wish.partner === undefined ? null : partnerSite(wish.partner)
  return windowsOf(solved.station, feed, built, targetFromRecord(wish.target), fromMs, endOf(wish), partner)
}

export function windowsJson(solved: Solved, feed: Feed, now: UtcMs, wish: WindowsWish): WindowsJson {
  const mount = builtFor(solved, now, feed)
  const windows = windowsFor(solved, feed, mount, wish)
  const { spells, passages } = windows
  const fromMs = msFromUtc(wish.fromUtc)
  const toMs = endOf(wish)
  const standing = (seen: Seen) => standingJson(windows, wish.target, seen)
  const pointing = pointingOf(solved, mount, windows)
  return {
    station: solved.station.record.name,
    feed: feed.id,
    target: wish.target,
    fromUtc: utcFromMs(fromMs),
    toUtc: utcFromMs(toMs),
    hours: hoursWithin(spells, fromMs, toMs),
    spells: spells.map((s, k) => ({
      inUtc: utcFromMs(s.inMs),
      outUtc: utcFromMs(s.outMs),
      hours: (s.outMs - s.inMs) / HOUR_MS,
      inBy: s.inBy,
      outBy: s.outBy,
      maxElDeg: degFromRad(s.highest.el),
      maxElUtc: utcFromMs(s.highest.utcMs),
      middle: standing(s.middle),
      pointing: { rmsDeg: degFromRad(pointing[k]!), echoLossDb: echoLossDb(pointing[k]!, feed.hpbw) },
    })),
    days: Array.from({ length: Math.ceil((toMs - fromMs) / DAY_MS) }, (_, k) => {
      const a = fromMs + k * DAY_MS
      const b = Math.min(toMs, a + DAY_MS)
      const own = passages.filter(p => p.seen.utcMs >= a && p.seen.utcMs < b)
      return {
        fromUtc: utcFromMs(a),
        hours: hoursWithin(spells, a, b),
        standing: standing(own.find(p => p.what === 'transit')?.seen ?? windows.at((a + b) / 2)),
        passages: own.map(({ what, seen }) => ({
          what,
          utc: utcFromMs(seen.utcMs),
          azDeg: degFromRad(seen.az),
          elDeg: degFromRad(seen.el),
        })),
      }
    }),
    hindered: spells.length > 0 ? [] : hinderedIn(windows, fromMs, toMs),
  }
}

/** Asked every ten minutes; each time stands for ten minutes. */
function hinderedIn({ at, endAt }: Windows, fromMs: UtcMs, toMs: UtcMs): WindowsJson['hindered'] {
  const counts = new Map<SpellEnd, number>()
  for (let utcMs = fromMs + HINDERED_STEP_MS / 2; utcMs < toMs; utcMs += HINDERED_STEP_MS) {
    if (at(utcMs).el < 0) continue
    const to = endAt(utcMs)
    counts.set(to, (counts.get(to) ?? 0) + 1)
  }
  return [...counts]
    .map(([to, count]) => ({ to, hours: (count * HINDERED_STEP_MS) / HOUR_MS }))
    .sort((a, b) => b.hours - a.hours)
}

/** Hours of the spells between two instants. */
export const hoursWithin = (spells: readonly Pick<Spell, 'inMs' | 'outMs'>[], a: UtcMs, b: UtcMs): number =>
  spells.reduce((sum, s) => sum + Math.max(0, Math.min(b, s.outMs) - Math.max(a, s.inMs)), 0) / HOUR_MS

function standingJson({ track, frame }: Windows, target: TargetRecord, seen: Seen): StandingJson {
  const { utcMs, distanceKm } = seen
  let noise: StandingJson['noise'] = null
  if (!track.isFixed) {
    const { galaxy, sun } = backgroundOf(track.from(frame, utcMs).direction, frame, utcMs)
    const isSun = target.type === 'sun'
    noise = {
      galaxyDeg: degFromRad(galaxy),
      sunDeg: isSun ? null : degFromRad(sun),
      near: [
        ...(galaxy <= NOISY_WITHIN ? (['galaxy'] as const) : []),
        ...(!isSun && sun <= NOISY_WITHIN ? (['sun'] as const) : []),
      ],
    }
  }
  return {
    utc: utcFromMs(utcMs),
    declinationDeg: degFromRad(seen.declination),
    distanceKm,
    echoPathDb: target.type === 'moon' && distanceKm !== null ? echoPathDb(distanceKm) : null,
    noise,
  }
}

/** The expected error after correction of each spell, rms over a point every half hour: √(mean tr(J C Jᵀ) + floor²). */
function pointingOf(
  { station }: Solved,
  { built, covariance }: ReturnType<typeof builtFor>,
  { spells, at }: Windows,
): Rad[] {
  const onto = aimer(station.model, built, 'beam')
  const chain = chainOf(station.model, built, 'beam')
  const mid = midRange(station.model, built)
  const bySpell = spells.map(s => {
    const steps = Math.max(1, Math.ceil((s.outMs - s.inMs) / POINTING_STEP_MS))
    const points: { reach: Reach; partials: Float64Array }[] = []
    for (let k = 0; k <= steps; k++) {
      const { direction } = at(s.inMs + (k * (s.outMs - s.inMs)) / steps)
      const reach = onto(direction, mid)
      const partials = new Float64Array(2 * SLOTS)
      if (reach !== null && partialsIn(chain, direction, reach.lower, reach.upper, 0, 0, partials) !== null)
        points.push({ reach, partials })
    }
    return points
  })
  const floor = floorOf(station, built, bySpell.flat())
  return bySpell.map(points => {
    const spread = points.reduce((sum, p) => sum + variancePart(p.partials, covariance), 0) / Math.max(1, points.length)
    return Math.sqrt(spread + floor * floor)
  })
}
