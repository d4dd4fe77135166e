/**
 * The quick cross scan: each axis is driven off the peak to one and the same level on either side; the middle is the peak. Each
 * reading becomes the target's place along the axis at its own moment, so a target that moves does no harm. Radians, true UTC.
 */
import { AXES } from '../mount/names.ts'
import type { Built } from '../mount/slots.ts'
import { countsSteps } from '../readout/readout.ts'
import type { Axis } from '../records/fieldbook.ts'
import type { Feed, Station } from '../records/station.ts'
import type { Target } from '../sky/place.ts'
import type { Rad, UtcMs } from '../units.ts'
import { directionTrack, type LineOffset, type LineOffsetSlopes, lineOffsetSlopes } from './dishtrack.ts'
import { discOf, scanWidth } from './drift.ts'
import { midpointOf, sigmaAtLevel } from './midpoint.ts'

interface EqualReading {
  axis: Axis
  utcMs: UtcMs
  lower: number
  upper: number
  pair: number
}

interface EqualFit {
  kind: 'middle'
  utcMs: UtcMs
  lower: number
  upper: number
  /** Where the mount as built puts the target when the true beam is on it. */
  miss: LineOffset
  cov: { rr: number; ru: number; uu: number }
  arms: { axis: Axis; pairs: number; sigma: Rad; spread: Rad | null }[]
}

export type EqualAnswer =
  | EqualFit
  /** An axis without a pair on both sides of the peak. */
  | { kind: 'lacks'; axis: Axis }
  | { kind: 'no-pose' }
  /** The axes do not span the sky here. */
  | { kind: 'useless' }

/** How equal two levels are set by eye, dB. Common practice, no source. */
const LEVEL_DB = 0.2

interface Placed {
  reading: EqualReading
  at: LineOffsetSlopes
}

/** @param readings  two of each pair; a third one of a pair is not looked at */
export function equalFit(
  station: Station,
  feed: Feed,
  built: Built,
  target: Target,
  readings: readonly EqualReading[],
): EqualAnswer {
  const list = [...readings].sort((a, b) => a.utcMs - b.utcMs)
  const last = list.at(-1)
  if (last === undefined) return { kind: 'lacks', axis: 'lower' }
  const direction = directionTrack(target, station.site, 'radio', list[0]!.utcMs, last.utcMs)
  const placed: Placed[] = []
  for (const reading of list) {
    const at = lineOffsetSlopes(station.model, built, 'beam', reading, direction(reading.utcMs))
    if (at === null) return { kind: 'no-pose' }
    placed.push({ reading, at })
  }
  const width = scanWidth(feed.hpbw, discOf(target))
  const arms = AXES.map(axis => armOf(station, axis, placed, width))
  const [low, up] = arms
  if (low == null) return { kind: 'lacks', axis: 'lower' }
  if (up == null) return { kind: 'lacks', axis: 'upper' }
  // miss · e = middle along both axes' directions.
  const det = low.e[0] * up.e[1] - low.e[1] * up.e[0]
  if (Math.abs(det) < 0.05) return { kind: 'useless' }
  const solve = (a: number, b: number): LineOffset => ({
    right: (a * up.e[1] - b * low.e[1]) / det,
    up: (b * low.e[0] - a * up.e[0]) / det,
  })
  const miss = solve(low.middle, up.middle)
  const [da, db] = [solve(low.sigma, 0), solve(0, up.sigma)]
  const end = placed.at(-1)!
  const offset: LineOffset = { right: end.at.right - miss.right, up: end.at.up - miss.up }
  const q = end.at
  const spread = q.lower[0] * q.upper[1] - q.lower[1] * q.upper[0]
  return {
    kind: 'middle',
    utcMs: end.reading.utcMs,
    lower: end.reading.lower - (offset.right * q.upper[1] - offset.up * q.upper[0]) / spread / q.lowerPerReading,
    upper: end.reading.upper - (offset.up * q.lower[0] - offset.right * q.lower[1]) / spread / q.upperPerReading,
    miss,
    cov: {
      rr: da.right ** 2 + db.right ** 2,
      ru: da.right * da.up + db.right * db.up,
      uu: da.up ** 2 + db.up ** 2,
    },
    arms: [low, up].map(({ axis, pairs, sigma, spread: s }) => ({ axis, pairs, sigma, spread: s })),
  }
}

/** The middle of an axis's pairs along its own direction, and that direction; null without a pair. */
function armOf(station: Station, axis: Axis, placed: readonly Placed[], width: Rad) {
  const pairs = new Map<number, Placed[]>()
  for (const p of placed)
    if (p.reading.axis === axis) pairs.set(p.reading.pair, [...(pairs.get(p.reading.pair) ?? []), p])
  const whole = [...pairs.values()].filter(p => p.length >= 2)
  const first = whole[0]?.[0]
  if (first === undefined) return null
  const n = Math.hypot(...first.at[axis])
  if (!(n > 0)) return null
  const e: readonly [number, number] = [first.at[axis][0] / n, first.at[axis][1] / n]
  const along = (p: Placed): Rad => p.at.right * e[0] + p.at.up * e[1]
  const sides = whole.map(p => ({ left: along(p[0]!), right: along(p[1]!) }))
  const half = sides.reduce((a, s) => a + Math.abs(s.right - s.left) / 2, 0) / sides.length
  const drop = 12.04 * (Math.max(half, width / 50) / width) ** 2
  const perReading = Math.abs(axis === 'lower' ? first.at.lowerPerReading : first.at.upperPerReading) * n
  const step = perReading * (countsSteps(station.model[axis].readout) ? 1 : 0.1)
  const each = Math.hypot(sigmaAtLevel(Math.min(drop, 12.04), width, LEVEL_DB), step / Math.sqrt(12))
  const m = midpointOf(sides, each)
  return { axis, e, middle: m.middle, sigma: m.sigma, spread: m.spread, pairs: sides.length }
}
