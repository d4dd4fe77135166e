/**
 * A tracking program against ours: the places that it shows for a target at some instants, and what would make it show them. Each
 * cause is worked out as the program would have it, with and without refraction, and compared with what was typed. Radians.
 */
import { bodyEarthFixed, instantAt } from '../sky/almanac.ts'
import { enuFromEarthFixed, siteFrame } from '../sky/earthfixed.ts'
import type { Site, Target } from '../sky/place.ts'
import { airlessPlace, lifterOf } from '../sky/targets.ts'
import { HOUR_S, type Rad, radFromDeg, type UtcMs } from '../units.ts'
import { angleBetween, azElFromEnu, enuFromAzEl, unit, type Vec3 } from '../vectors.ts'

/** What a program shows. */
export interface PlaceShown {
  /** Where it is another one than the check's own. */
  target?: Target
  utcMs: UtcMs
  az: Rad
  el: Rad
}

export type ProgramCause =
  | 'clock'
  | 'longitude-sign'
  | 'summer-time'
  | 'geocentric'
  | 'refraction'
  | 'azimuth-from-south'

/** One thing that would explain it. */
export interface ProgramExplanation {
  cause: 'agrees' | ProgramCause
  /** Of a clock and of summer time: the program's time minus the true one. */
  clockS: number | null
  /** rms over the places, arc. */
  left: Rad
  chi2: number
  /** False: it fits only if the program also leaves refraction out, as many do. */
  isAired: boolean
}

/** `agrees`, one cause, several that fit about as well (another time will tell), or none of those known here. */
export type ProgramVerdict = 'agrees' | ProgramCause | 'several' | 'none'

export interface ProgramCheck {
  verdict: ProgramVerdict
  /** What fits, best first; empty for `none`. */
  fits: ProgramExplanation[]
  /** Where ours puts the target at each instant. */
  ours: { az: Rad; el: Rad }[]
  /** How far the program is from that, arc. */
  apart: Rad[]
  /** Of `several`: a later place that would tell them apart, and by how much at least; null where none of the next hours does. */
  telling: Telling | null
}

export interface Telling {
  target: { type: 'moon' } | { type: 'sun' }
  utcMs: UtcMs
  apart: Rad
}

/** A clock that a person looks at is not off by more; an hour is a cause of its own. */
const LARGEST_CLOCK_S = 900
/** Explanations this near the best, in χ², are not told apart: three σ. */
const MARGIN = 9

/** Where a program with that fault puts a target. */
type Look = (target: Target, utcMs: UtcMs) => Vec3

interface Tried extends ProgramExplanation {
  look: Look
}

/**
 * @param target  of every place that names none itself
 * @param sigma  of each typed coordinate, arc: rounding and almanac
 * @throws RangeError  no places, or an unknown source
 */
export function checkProgram(site: Site, target: Target, shown: readonly PlaceShown[], sigma: Rad): ProgramCheck {
  if (shown.length === 0) throw new RangeError('checkProgram: there must be at least one place')
  const typed = shown.map(s => enuFromAzEl(s.az, s.el))
  const targets = shown.map(s => s.target ?? target)
  const aired = (v: Vec3, of: Target, from: Site, is: boolean): Vec3 => (is ? lifterOf(of, from.air, 'radio')(v) : v)
  const lookFrom = (from: Site, isAired: boolean): Look => {
    const frame = siteFrame(from)
    return (of, utcMs) => aired(airlessPlace(of, instantAt(utcMs), frame).direction, of, from, isAired)
  }
  const explained = (
    cause: ProgramExplanation['cause'],
    look: Look,
    isAired: boolean,
    clockS: number | null = null,
  ): Tried => {
    const square = shown.reduce((sum, s, k) => sum + angleBetween(look(targets[k]!, s.utcMs), typed[k]!) ** 2, 0)
    return { cause, clockS, left: Math.sqrt(square / shown.length), chi2: square / (sigma * sigma), isAired, look }
  }
  const later =
    (look: Look, s: number): Look =>
    (of, utcMs) =>
      look(of, utcMs + 1000 * s)

  const all: Tried[] = []
  for (const isAired of [true, false]) {
    const look = lookFrom(site, isAired)
    all.push(explained(isAired ? 'agrees' : 'refraction', look, isAired))
    for (const s of [HOUR_S, -HOUR_S]) all.push(explained('summer-time', later(look, s), isAired, s))
    const clockS = bestClock(look, targets, shown, typed)
    if (Math.abs(clockS) <= LARGEST_CLOCK_S) all.push(explained('clock', later(look, clockS), isAired, clockS))
    all.push(explained('longitude-sign', lookFrom({ ...site, lon: -site.lon }, isAired), isAired))
    all.push(
      explained(
        'azimuth-from-south',
        (of, utcMs) => {
          const [e, n, u] = look(of, utcMs)
          return [-e, -n, u]
        },
        isAired,
      ),
    )
    if (targets.some(of => of.type === 'moon')) {
      const frame = siteFrame(site)
      all.push(
        explained(
          'geocentric',
          (of, utcMs) =>
            of.type === 'moon'
              ? aired(unit(enuFromEarthFixed(bodyEarthFixed('moon', instantAt(utcMs)), frame)), of, site, isAired)
              : look(of, utcMs),
          isAired,
        ),
      )
    }
  }
  const ours = shown.map((s, k) => lookFrom(site, true)(targets[k]!, s.utcMs))
  const { verdict, fits } = judged(all, 2 * shown.length)
  return {
    verdict,
    fits: fits.map(({ look: _look, ...fit }) => fit),
    ours: ours.map(azElFromEnu),
    apart: ours.map((v, k) => angleBetween(v, typed[k]!)),
    telling: verdict === 'several' ? tellingOf(fits, lookFrom(site, true), shown, sigma) : null,
  }
}

/** Hours after the last place at which another look is proposed. */
const LATER_H = [1, 2, 3, 4, 6, 8, 10, 12]
/** This many σ apart, two causes are told apart at a glance; by fewer than LEAST, not at all. */
const PLAIN = 6
const LEAST = 4
/** A target is looked for above this height only. */
const UP = radFromDeg(5)

/** The first look at the Moon or the Sun that tells causes apart at a glance, else the best of them; null where none does. */
function tellingOf(fits: readonly Tried[], ours: Look, shown: readonly PlaceShown[], sigma: Rad): Telling | null {
  const last = Math.max(...shown.map(s => s.utcMs))
  let best: Telling | null = null
  for (const h of LATER_H)
    for (const type of ['moon', 'sun'] as const) {
      const target = { type }
      const utcMs = last + 1000 * HOUR_S * h
      if (azElFromEnu(ours(target, utcMs)).el < UP) continue
      const places = fits.map(f => f.look(target, utcMs))
      const apart = Math.min(...places.flatMap((v, k) => places.slice(k + 1).map(w => angleBetween(v, w))))
      if (apart < LEAST * sigma || (best !== null && apart <= best.apart)) continue
      best = { target, utcMs, apart }
      if (apart >= PLAIN * sigma) return best
    }
  return best
}

/** The clock that brings a program's places nearest to what is looked at: Gauss-Newton along the target's own motion, seconds. */
function bestClock(
  look: Look,
  targets: readonly Target[],
  shown: readonly PlaceShown[],
  typed: readonly Vec3[],
): number {
  let s = 0
  for (let i = 0; i < 6; i++) {
    let [up, down] = [0, 0]
    shown.forEach(({ utcMs }, k) => {
      const at = look(targets[k]!, utcMs + 1000 * s)
      const next = look(targets[k]!, utcMs + 1000 * (s + 20))
      for (let c = 0; c < 3; c++) {
        const slope = (next[c]! - at[c]!) / 20
        up += slope * (typed[k]![c]! - at[c]!)
        down += slope * slope
      }
    })
    if (down === 0) return 0
    s += up / down
    if (Math.abs(s) > 4 * LARGEST_CLOCK_S) return Infinity
  }
  return s
}

/** Two faults at once are believed only where one is not enough. */
const SECOND_FAULT = MARGIN + 1

/** What fits at all, each cause once. A clock that is fitted pays for it, two faults at once too; agreeing needs no cause. */
function judged(all: readonly Tried[], rows: number): { verdict: ProgramVerdict; fits: Tried[] } {
  // Four σ of χ², and no narrower than the almanacs' own differences.
  const most = rows + 4 * Math.sqrt(2 * rows)
  const price = (e: ProgramExplanation) =>
    e.chi2 + (e.cause === 'clock' ? 2 : 0) + (e.isAired || e.cause === 'refraction' ? 0 : SECOND_FAULT)
  const fits: Tried[] = []
  for (const e of [...all].filter(x => x.chi2 <= most).sort((a, b) => price(a) - price(b)))
    if (!fits.some(f => f.cause === e.cause)) fits.push(e)
  const [best] = fits
  if (best === undefined) return { verdict: 'none', fits }
  const near = fits.filter(f => price(f) - price(best) <= MARGIN)
  if (near.some(f => f.cause === 'agrees')) return { verdict: 'agrees', fits: near.filter(f => f.cause === 'agrees') }
  return { verdict: near.length === 1 ? best.cause : 'several', fits: near }
}
