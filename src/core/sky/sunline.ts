/**
 * The Sun's line: where the shadow of a plumb line falls, as true azimuth, and when it will lie along a given bearing. With it
 * true north, or the mount's heading, can be staked out at any hour of sunshine without a compass. Radians, azimuth from
 * true north through east; the Sun as light sees it.
 */
import { wrapPi, wrapTurn } from '../angles.ts'
import { type Rad, radFromDeg, type UtcMs } from '../units.ts'
import type { Site } from './place.ts'
import { apparentPlace } from './targets.ts'

export type Shadow =
  | {
      kind: 'shadow'
      /** True azimuth toward which it falls, [0, 2π). */
      az: Rad
      sunAz: Rad
      sunEl: Rad
      /** How fast it turns, + clockwise seen from above, rad per minute. */
      perMinute: Rad
      /** Length of the shadow for each metre of height. */
      perMetre: number
    }
  /** Below the lowest height that casts a line, or so near the zenith that the shadow is shorter than the plumb bob. */
  | { kind: 'too-low' | 'too-high'; sunEl: Rad }

/** Below it a shadow is long and faint, and hills hide the Sun. */
export const LOWEST: Rad = radFromDeg(3)
/** Above it the shadow of a metre is under 9 cm, and turns fast. */
export const HIGHEST: Rad = radFromDeg(85)

export function shadowAt(site: Site, utcMs: UtcMs): Shadow {
  const sun = apparentPlace({ type: 'sun' }, utcMs, site, 'optical')
  if (sun.el < LOWEST) return { kind: 'too-low', sunEl: sun.el }
  if (sun.el > HIGHEST) return { kind: 'too-high', sunEl: sun.el }
  const [before, after] = [-30_000, 30_000].map(d => apparentPlace({ type: 'sun' }, utcMs + d, site, 'optical').az)
  return {
    kind: 'shadow',
    az: wrapTurn(sun.az + Math.PI),
    sunAz: sun.az,
    sunEl: sun.el,
    perMinute: wrapPi(after! - before!),
    perMetre: 1 / Math.tan(sun.el),
  }
}

export interface Crossing {
  utcMs: UtcMs
  /** The shadow points along the bearing; else the Sun stands above it, and the shadow points the other way. */
  end: 'shadow' | 'sun'
  sunEl: Rad
}

const STEP_MS = 300_000
/** The time is found to this, ms: a hundredth of a degree at the fastest rate allowed. */
const FINE_MS = 100

/**
 * When the shadow lies along a bearing, either way round: both stake the same line. In order of time.
 *
 * @param fromMs, toMs  at most a few days
 */
export function crossings(site: Site, bearing: Rad, fromMs: UtcMs, toMs: UtcMs): Crossing[] {
  const out: Crossing[] = []
  const sunAt = (ms: UtcMs) => apparentPlace({ type: 'sun' }, ms, site, 'optical')
  for (const end of ['shadow', 'sun'] as const) {
    const wanted = end === 'sun' ? bearing : bearing + Math.PI
    const off = (ms: UtcMs): Rad => wrapPi(sunAt(ms).az - wanted)
    let [a, offA] = [fromMs, off(fromMs)]
    while (a < toMs) {
      const b = Math.min(a + STEP_MS, toMs)
      const offB = off(b)
      // Not where the difference jumps by a turn, on the far side.
      if (offA <= 0 !== offB <= 0 && Math.abs(offA) + Math.abs(offB) < Math.PI) {
        let [low, high] = [a, b]
        while (high - low > FINE_MS) {
          const middle = (low + high) / 2
          if (off(middle) <= 0 === offA <= 0) low = middle
          else high = middle
        }
        const utcMs = (low + high) / 2
        const { el } = sunAt(utcMs)
        if (el >= LOWEST && el <= HIGHEST) out.push({ utcMs, end, sunEl: el })
      }
      ;[a, offA] = [b, offB]
    }
  }
  return out.sort((p, q) => p.utcMs - q.utcMs)
}
