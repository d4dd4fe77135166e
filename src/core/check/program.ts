/**
 * A tracking program against ours: the places that it shows for a target at some instants, and what would make it show them. Each
 * cause is worked out as the program would have it, with and without refraction, and held against what was typed. Radians.
 */
import { bodyEarthFixed, instantAt } from '../sky/almanac.ts'
import { enuFromEarthFixed, siteFrame } from '../sky/earthfixed.ts'
import type { Site, Target } from '../sky/place.ts'
import { apparentDirection } from '../sky/refraction.ts'
import { airlessPlace } from '../sky/targets.ts'
import type { Rad, UtcMs } from '../units.ts'
import { angleBetween, azElFromEnu, enuFromAzEl, type Vec3 } from '../vectors.ts'

/** What a program shows. */
export interface Shown {
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
export interface Explanation {
  cause: 'agrees' | ProgramCause
  /** Of a clock and of summer time: the program's time minus the true one. */
  clockS: number | null
  /** rms over the places, arc. */
  left: Rad
  chi2: number
  /** False: it fits only if the program leaves refraction out besides, as many do. */
  isAired: boolean
}

/** `agrees`, one cause, several that fit about as well (another time will tell), or none of those known here. */
export type ProgramVerdict = 'agrees' | ProgramCause | 'several' | 'none'

export interface ProgramCheck {
  verdict: ProgramVerdict
  /** What fits, best first; empty for `none`. */
  fits: Explanation[]
  /** Where ours puts the target at each instant. */
  ours: { az: Rad; el: Rad }[]
  /** How far the program is from that, arc. */
  apart: Rad[]
}

const HOUR_S = 3600
/** Beyond it a clock is no clock that someone looks at; an hour is a cause of its own. */
const LARGEST_CLOCK_S = 900
/** Explanations this near the best, in χ², are not told apart: three σ. */
const MARGIN = 9

type Look = (utcMs: UtcMs) => Vec3

/**
 * @param sigma  of each typed coordinate, arc: rounding and almanac
 * @throws RangeError  no places, or an unknown source
 */
export function checkProgram(site: Site, target: Target, shown: readonly Shown[], sigma: Rad): ProgramCheck {
  if (shown.length === 0) throw new RangeError('checkProgram: there must be at least one place')
  const typed = shown.map(s => enuFromAzEl(s.az, s.el))
  const lookFrom = (from: Site, isAired: boolean): Look => {
    const frame = siteFrame(from)
    return utcMs => aired(airlessPlace(target, instantAt(utcMs), frame).direction, from, isAired)
  }
  const explained = (
    cause: Explanation['cause'],
    look: Look,
    isAired: boolean,
    clockS: number | null = null,
  ): Explanation => {
    const square = shown.reduce((sum, s, k) => sum + angleBetween(look(s.utcMs), typed[k]!) ** 2, 0)
    return { cause, clockS, left: Math.sqrt(square / shown.length), chi2: square / (sigma * sigma), isAired }
  }
  const aired = (v: Vec3, from: Site, is: boolean): Vec3 =>
    is && target.type !== 'landmark' ? apparentDirection(v, from.air, 'radio') : v
  const later =
    (look: Look, s: number): Look =>
    utcMs =>
      look(utcMs + 1000 * s)

  const all: Explanation[] = []
  for (const isAired of [true, false]) {
    const look = lookFrom(site, isAired)
    all.push(explained(isAired ? 'agrees' : 'refraction', look, isAired))
    for (const s of [HOUR_S, -HOUR_S]) all.push(explained('summer-time', later(look, s), isAired, s))
    const clockS = bestClock(look, shown, typed)
    if (Math.abs(clockS) <= LARGEST_CLOCK_S) all.push(explained('clock', later(look, clockS), isAired, clockS))
    all.push(explained('longitude-sign', lookFrom({ ...site, lon: -site.lon }, isAired), isAired))
    all.push(
      explained(
        'azimuth-from-south',
        utcMs => {
          const [e, n, u] = look(utcMs)
          return [-e, -n, u]
        },
        isAired,
      ),
    )
    if (target.type === 'moon') {
      const frame = siteFrame(site)
      all.push(
        explained(
          'geocentric',
          utcMs => {
            const v = enuFromEarthFixed(bodyEarthFixed('moon', instantAt(utcMs)), frame)
            const r = Math.hypot(...v)
            return aired([v[0] / r, v[1] / r, v[2] / r], site, isAired)
          },
          isAired,
        ),
      )
    }
  }
  const ours = shown.map(s => lookFrom(site, true)(s.utcMs))
  return {
    ...judged(all, 2 * shown.length),
    ours: ours.map(azElFromEnu),
    apart: ours.map((v, k) => angleBetween(v, typed[k]!)),
  }
}

/** The clock that brings a program's places nearest to what is looked at: Gauss-Newton along the target's own motion, seconds. */
function bestClock(look: Look, shown: readonly Shown[], typed: readonly Vec3[]): number {
  let s = 0
  for (let i = 0; i < 6; i++) {
    let [up, down] = [0, 0]
    shown.forEach(({ utcMs }, k) => {
      const at = look(utcMs + 1000 * s)
      const next = look(utcMs + 1000 * (s + 20))
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

/** Two faults at once are believed only where one does not do. */
const SECOND_FAULT = MARGIN + 1

/** What fits at all, each cause once. A clock that is fitted pays for it, two faults at once too; agreeing needs no cause. */
function judged(all: readonly Explanation[], rows: number): Pick<ProgramCheck, 'verdict' | 'fits'> {
  // Four σ of χ², and no narrower than the almanacs' own differences.
  const most = rows + 4 * Math.sqrt(2 * rows)
  const price = (e: Explanation) =>
    e.chi2 + (e.cause === 'clock' ? 2 : 0) + (e.isAired || e.cause === 'refraction' ? 0 : SECOND_FAULT)
  const fits: Explanation[] = []
  for (const e of [...all].filter(x => x.chi2 <= most).sort((a, b) => price(a) - price(b)))
    if (!fits.some(f => f.cause === e.cause)) fits.push(e)
  const [best] = fits
  if (best === undefined) return { verdict: 'none', fits }
  const near = fits.filter(f => price(f) - price(best) <= MARGIN)
  if (near.some(f => f.cause === 'agrees')) return { verdict: 'agrees', fits: near.filter(f => f.cause === 'agrees') }
  return { verdict: near.length === 1 ? best.cause : 'several', fits: near }
}
