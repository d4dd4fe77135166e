/**
 * Windows: the spells in which a target can be used from here. It is then inside the mount's limits, above mask and floor, and,
 * where the other end of a contact is given, above its horizon. And when it rises, crosses the meridian, sets.
 *
 * The sky is asked once a minute, so no spell and no gap longer than that is missed. Where the target is too low, leaps are made
 * that it cannot outrun. Edges are bisected. Radians, UTC ms.
 */
import { haDecFromEnu } from '../frames.ts'
import type { Built } from '../mount/slots.ts'
import type { Feed, Station } from '../records/station.ts'
import { type SiteFrame, siteFrame } from '../sky/earthfixed.ts'
import type { Site, Target } from '../sky/place.ts'
import { airlessElevation } from '../sky/refraction.ts'
import { lifterOf } from '../sky/targets.ts'
import { type TargetTrack, targetTrack } from '../sky/targettrack.ts'
import { HOUR_MS, MINUTE_MS, type Rad, radFromDeg, type UtcMs } from '../units.ts'
import { azElFromEnu, type Vec3 } from '../vectors.ts'
import { type Hindrance, preparedMount } from './hindrance.ts'

/** What ends a spell: a hindrance here, the other end's horizon, or the end of the span. */
export type SpellEnd = Hindrance | 'partner' | 'span'

/** Where a target stands, with what the mount does not need to know. */
export interface Seen {
  utcMs: UtcMs
  /** Apparent, radio. */
  direction: Vec3<'Enu'>
  az: Rad
  el: Rad
  /** Airless, topocentric; hour angle west +. */
  hourAngle: Rad
  declination: Rad
  distanceKm: number | null
}

export interface Spell {
  /** The first and the last whole second inside; or the end of the span. */
  inMs: UtcMs
  outMs: UtcMs
  inBy: SpellEnd
  outBy: SpellEnd
  highest: Seen
  middle: Seen
}

/** The centre on the apparent horizon, or in the upper meridian; to the second. */
export interface Passage {
  what: 'rise' | 'transit' | 'set'
  seen: Seen
}

export interface Windows {
  spells: Spell[]
  passages: Passage[]
  /** Where the target stands, for any instant of the span. */
  at: (utcMs: UtcMs) => Seen
  /** What keeps it from being used while it is up; `partner` where nothing here does. */
  endAt: (utcMs: UtcMs) => SpellEnd
  track: TargetTrack
  frame: SiteFrame
}

const STEP_MS = MINUTE_MS

/**
 * No target climbs faster: the Earth's turn, 15.04° an hour, 1.02 times that for a Moon seen from the surface, its own
 * declination 0.3° an hour, and what the air adds below the horizon.
 */
const FASTEST = radFromDeg(17) / HOUR_MS

/** @param partner  the other end of a contact; null: none */
export function windowsOf(
  station: Station,
  feed: Feed,
  built: Built,
  target: Target,
  fromMs: UtcMs,
  toMs: UtcMs,
  partner: Site | null,
): Windows {
  const { site } = station
  const frame = siteFrame(site)
  const lifted = lifterOf(target, site.air, 'radio')
  const track = targetTrack(target, fromMs, toMs)
  const outlook = preparedMount(station, feed, built)
  const far = partner && { frame: siteFrame(partner), horizon: airlessElevation(0, partner.air, 'radio') }
  const at = (utcMs: UtcMs): Seen => {
    const { direction: airless, distanceKm } = track.from(frame, utcMs)
    const direction = lifted(airless)
    const { az, el } = azElFromEnu(direction)
    const { ha, dec } = haDecFromEnu(airless, site.lat)
    return { utcMs, direction, az, el, hourAngle: ha, declination: dec, distanceKm }
  }
  /** How far it stands above the other end's horizon. */
  const beyond = (utcMs: UtcMs): Rad =>
    far === null ? Infinity : azElFromEnu(track.from(far.frame, utcMs).direction).el - far.horizon
  const isIn = (s: Seen): boolean =>
    s.el >= outlook.lowest && beyond(s.utcMs) >= 0 && outlook.isHighEnough(s.az, s.el) && outlook.isReached(s.direction)

  /** Whole ms between which a question changes its answer, the earlier first. */
  const change = (a: UtcMs, b: UtcMs, ask: (s: Seen) => boolean): [UtcMs, UtcMs] => {
    const first = ask(at(a))
    let [lo, hi] = [a, b]
    while (hi - lo > 1) {
      const mid = Math.floor((lo + hi) / 2)
      if (ask(at(mid)) === first) lo = mid
      else hi = mid
    }
    return [lo, hi]
  }
  const endAt = (utcMs: UtcMs): SpellEnd => {
    const s = at(utcMs)
    return outlook.hindrance(s.direction, s.az, s.el) ?? 'partner'
  }

  const spells: Spell[] = []
  const passages: Passage[] = []
  let open: { inMs: UtcMs; inBy: SpellEnd; best: Seen } | null = null
  const close = (outMs: UtcMs, outBy: SpellEnd) => {
    const { inMs, inBy, best } = open!
    open = null
    if (!(outMs > inMs)) return
    spells.push({
      inMs,
      outMs,
      inBy,
      outBy,
      highest: highestAbout(at, best, inMs, outMs),
      middle: at((inMs + outMs) / 2),
    })
  }
  const pass = (what: Passage['what'], a: UtcMs, b: UtcMs, ask: (s: Seen) => boolean) =>
    passages.push({ what, seen: at(clamp(Math.round(change(a, b, ask)[1] / 1000) * 1000, fromMs, toMs)) })

  let before: Seen | null = null
  let wasIn = false
  for (let utcMs = fromMs; ; ) {
    const s = at(utcMs)
    const is = isIn(s)
    if (before === null) {
      if (is) open = { inMs: fromMs, inBy: 'span', best: s }
    } else {
      const a = before.utcMs
      if (before.el < 0 !== s.el < 0) pass(s.el < 0 ? 'set' : 'rise', a, utcMs, p => p.el < 0)
      if (before.hourAngle < 0 && s.hourAngle >= 0 && s.hourAngle - before.hourAngle < Math.PI)
        pass('transit', a, utcMs, p => p.hourAngle < 0)
      if (is !== wasIn) {
        const [last, first] = change(a, utcMs, isIn)
        if (is) open = { inMs: Math.ceil(first / 1000) * 1000, inBy: endAt(last), best: s }
        else close(Math.floor(last / 1000) * 1000, endAt(first))
      }
    }
    if (open !== null && s.el > open.best.el) open.best = s
    before = s
    wasIn = is
    if (utcMs >= toMs) break
    utcMs = track.isFixed ? toMs : Math.min(toMs, utcMs + leapFrom(s, outlook.lowest, beyond))
  }
  if (open !== null) close(toMs, 'span')
  return { spells, passages, at, endAt, track, frame }
}

const clamp = (x: number, lo: number, hi: number): number => Math.min(hi, Math.max(lo, x))

/** How long nothing can begin here: the target is too low, here or at the other end, and not about to rise or set. */
function leapFrom(s: Seen, lowest: Rad, beyond: (utcMs: UtcMs) => Rad): number {
  const closed = Math.max(lowest - s.el, -beyond(s.utcMs))
  return Math.max(STEP_MS, Math.floor(Math.min(closed, Math.abs(s.el)) / FASTEST))
}

/** The highest place of a spell, to half a second: golden section about the highest of the minutes. */
function highestAbout(at: (utcMs: UtcMs) => Seen, best: Seen, inMs: UtcMs, outMs: UtcMs): Seen {
  const GOLDEN = (Math.sqrt(5) - 1) / 2
  let lo = Math.max(inMs, best.utcMs - STEP_MS)
  let hi = Math.min(outMs, best.utcMs + STEP_MS)
  const ends = [lo, hi]
  while (hi - lo > 500) {
    const [c, d] = [hi - GOLDEN * (hi - lo), lo + GOLDEN * (hi - lo)]
    if (at(c).el > at(d).el) hi = d
    else lo = c
  }
  return [...ends, (lo + hi) / 2].map(at).reduce((a, b) => (b.el > a.el ? b : a), best)
}
