/**
 * The cross scan: levels at readings along each axis. Each reading becomes the target's offset from the beam of the mount as built,
 * at its own moment; one Gaussian in both coordinates is fitted to all of them, each arm with a base of its own. So a target
 * that moves, a jack's uneven counts and arms that are not square to each other do no harm. Both directions of arrival on an
 * axis give its lost motion. Radians; times are true UTC.
 */
import { AXES } from '../mount/names.ts'
import type { Built } from '../mount/slots.ts'
import type { Axis, Side } from '../records/fieldbook.ts'
import type { Feed, Station } from '../records/station.ts'
import type { Target } from '../sky/place.ts'
import type { Rad, UtcMs } from '../units.ts'
import { directionTrack, type LineOffset, type LineOffsetSlopes, lineOffsetSlopes } from './dishtrack.ts'
import { discOf, scanWidth } from './drift.ts'
import { weakBelow } from './gaussian.ts'
import { type LevelScale, linearFrom } from './levels.ts'
import { fitPeak } from './peakfit.ts'
import type { PeakPoint } from './peakmodel.ts'

export interface CrossSample {
  axis: Axis
  utcMs: UtcMs
  lower: number
  upper: number
  level: number
  /** From which side the scanned axis arrived. */
  from?: Side
}

interface CrossOptions {
  scale: LevelScale
  /** 'free': also the width; needs enough samples. Default 'known'. */
  width?: 'free' | 'known'
}

/** One arm as it is drawn: the beam's place along it from the fitted peak, against the level. */
interface CrossArm {
  axis: Axis
  samples: { index: number; place: Rad; level: number; from?: Side; isKept: boolean }[]
}

interface LostMotion {
  axis: Axis
  /** True angle reached from '+' minus from '-', as the mount's play has it; σ. */
  play: Rad
  sigma: Rad
  /** The same in readings. */
  readings: number
}

interface CrossFit {
  kind: 'peak'
  /**
   * The sighting: the moment of the sample next to the peak, and the readings that would have been at the peak then, between those
   * that were set. So a readout's scale that is a little off does no harm. Where the axes do not span the sky, the sample's own.
   */
  utcMs: UtcMs
  lower: number
  upper: number
  /** The target's offset from the true beam then, by measurement (0, or the sample's own), and its covariance (square radians). */
  offset: LineOffset
  cov: { rr: number; ru: number; uu: number }
  /** Where the mount as built puts the target when the beam is truly on it: what the mount is wrong by. */
  miss: LineOffset
  arrivedFrom: { lower?: Side; upper?: Side }
  lostMotion: LostMotion[]
  /** Axes that were scanned. With one alone the other direction is known to a beamwidth only. */
  axes: Axis[]
  width: Rad
  sigmaWidth: Rad
  expectedWidth: Rad
  amplitude: number
  sigmaAmplitude: number
  isWeak: boolean
  /** The peak lies beyond the last reading of this axis. */
  beyond: Axis[]
  rejected: number[]
  dof: number
  arms: CrossArm[]
}

export type CrossAnswer =
  | CrossFit
  | { kind: 'too-few'; axis: Axis; samples: number; needed: number }
  | { kind: 'no-peak' }
  | { kind: 'no-pose' }

/** Samples that an arm must have: a peak, a base, and one to spare. */
const NEEDED = 4

/** Fits a cross scan. @param samples in order of time */
export function fitCross(
  station: Station,
  feed: Feed,
  built: Built,
  target: Target,
  samples: readonly CrossSample[],
  o: CrossOptions,
): CrossAnswer {
  const axes = AXES.filter(axis => samples.some(s => s.axis === axis))
  const countOf = (axis: Axis) => samples.filter(s => s.axis === axis).length
  const poor = axes.find(axis => countOf(axis) < NEEDED + (axes.length === 1 ? 1 : 0))
  if (poor !== undefined || axes.length === 0)
    return {
      kind: 'too-few',
      axis: poor ?? 'lower',
      samples: poor === undefined ? 0 : countOf(poor),
      needed: NEEDED + 1,
    }
  const times = samples.map(s => s.utcMs)
  const direction = directionTrack(target, station.site, 'radio', Math.min(...times), Math.max(...times))
  const spots: LineOffsetSlopes[] = []
  for (const s of samples) {
    const spot = lineOffsetSlopes(station.model, built, 'beam', s, direction(s.utcMs))
    if (spot === null) return { kind: 'no-pose' }
    spots.push(spot)
  }
  const expectedWidth = scanWidth(feed.hpbw, discOf(target))
  const twoWay = axes.filter(axis =>
    (['+', '-'] as const).every(side => samples.filter(s => s.axis === axis && s.from === side).length >= 3),
  )
  // One axis alone: places along its own direction, the other coordinate left out.
  const only = axes.length === 1 ? unitOf(spots[samples.length >> 1]![axes[0]!]) : null
  const reduced = (v: readonly [number, number]): number[] =>
    only === null ? [v[0], v[1]] : [v[0] * only[0] + v[1] * only[1]]
  const points: PeakPoint[] = samples.map((s, i) => ({
    at: reduced([spots[i]!.right, spots[i]!.up]),
    level: linearFrom(o.scale, s.level),
    base: axes.map(axis => (axis === s.axis ? 1 : 0)),
    shifts: [
      ...(only === null
        ? [
            [1, 0],
            [0, 1],
          ]
        : [[1]]),
      // Arrived from '+', the true angle is half the play more, and the target's offset that much further on.
      ...twoWay.map(axis => {
        const side = s.axis === axis ? (s.from === '+' ? 0.5 : s.from === '-' ? -0.5 : 0) : 0
        return reduced(spots[i]![axis]).map(x => -side * x)
      }),
    ],
  }))
  const range = points[0]!.at.map((_, c): [number, number] => {
    const list = points.map(p => p.at[c]!)
    return [Math.min(...list) - expectedWidth / 4, Math.max(...list) + expectedWidth / 4]
  })
  const isFree = o.width === 'free'
  const peak = fitPeak(points, {
    width: isFree ? null : expectedWidth,
    widths: [expectedWidth / 3, expectedWidth * 3],
    noise: o.scale === 'dB' ? 'proportional' : 'even',
    range,
  })
  if (peak === null) return { kind: 'no-peak' }
  const { values, covariance } = peak
  const n = covariance.n
  const shifts = points[0]!.shifts.length
  const at = (r: number, c: number): number => covariance.a[r * n + c]!
  const sigmaAmplitude = Math.sqrt(at(shifts + (isFree ? 1 : 0), shifts + (isFree ? 1 : 0)))
  if (!(peak.height > 2 * sigmaAmplitude)) return { kind: 'no-peak' }

  const wide = feed.hpbw ** 2
  const miss: LineOffset =
    only === null ? { right: values[0]!, up: values[1]! } : { right: values[0]! * only[0], up: values[0]! * only[1] }
  const cov =
    only === null
      ? { rr: at(0, 0), ru: at(0, 1), uu: at(1, 1) }
      : {
          rr: at(0, 0) * only[0] ** 2 + wide * only[1] ** 2,
          ru: (at(0, 0) - wide) * only[0] * only[1],
          uu: at(0, 0) * only[1] ** 2 + wide * only[0] ** 2,
        }
  const away = spots.map(q => Math.hypot(...reduced([q.right - miss.right, q.up - miss.up])))
  const next = away.indexOf(Math.min(...away))
  const sample = samples[next]!
  const spot = spots[next]!
  // Along one axis alone the other coordinate is not measured: the mount's own word stands there, a beamwidth wide.
  const offset: LineOffset =
    only === null
      ? { right: spot.right - miss.right, up: spot.up - miss.up }
      : along(only, spot.right * only[0] + spot.up * only[1] - values[0]!)
  const top = only === null ? peakReadings(spot, sample, offset) : alongAxis(axes[0]!, spot, sample, values[0]!, only)
  const first = only === null ? 2 : 1
  const arms = axes.map(axis => armOf(axis, samples, spots, miss, peak.kept))
  return {
    kind: 'peak',
    utcMs: sample.utcMs,
    lower: top?.lower ?? sample.lower,
    upper: top?.upper ?? sample.upper,
    offset: top === null ? offset : { right: 0, up: 0 },
    cov,
    miss,
    arrivedFrom: Object.fromEntries(
      axes.flatMap(axis => {
        const sides = new Set(samples.filter(s => s.axis === axis).map(s => s.from))
        const [side] = sides
        return sides.size === 1 && side !== undefined ? [[axis, side]] : []
      }),
    ),
    lostMotion: twoWay.map((axis, k) => ({
      axis,
      play: values[first + k]!,
      sigma: Math.sqrt(at(first + k, first + k)),
      readings: values[first + k]! / (axis === 'lower' ? spot.lowerPerReading : spot.upperPerReading),
    })),
    axes,
    width: peak.width,
    sigmaWidth: isFree ? Math.sqrt(at(shifts, shifts)) : 0,
    expectedWidth,
    amplitude: peak.height,
    sigmaAmplitude,
    isWeak: peak.height < weakBelow(peak.dof) * sigmaAmplitude,
    beyond: arms.filter(a => a.samples.every(s => s.place > 0) || a.samples.every(s => s.place < 0)).map(a => a.axis),
    rejected: samples.flatMap((_, i) => (peak.kept[i] === 0 ? [i] : [])),
    dof: peak.dof,
    arms,
  }
}

const unitOf = (v: readonly [number, number]): [number, number] => {
  const n = Math.hypot(v[0], v[1])
  return n > 0 ? [v[0] / n, v[1] / n] : [1, 0]
}
const along = (e: readonly [number, number], x: number): LineOffset => ({ right: e[0] * x, up: e[1] * x })

/** Places along an arm, growing with the readings of its axis. */
function armOf(
  axis: Axis,
  samples: readonly CrossSample[],
  spots: readonly LineOffsetSlopes[],
  miss: LineOffset,
  kept: Uint8Array,
): CrossArm {
  return {
    axis,
    samples: samples.flatMap((s, i) => {
      if (s.axis !== axis) return []
      const q = spots[i]!
      const e = unitOf(q[axis])
      const sign = Math.sign(axis === 'lower' ? q.lowerPerReading : q.upperPerReading) || 1
      const place = sign * ((q.right - miss.right) * e[0] + (q.up - miss.up) * e[1])
      return [
        { index: i, place, level: s.level, ...(s.from === undefined ? {} : { from: s.from }), isKept: kept[i] === 1 },
      ]
    }),
  }
}

/** One axis alone: its reading at the peak, the other as it was. */
function alongAxis(
  axis: Axis,
  q: LineOffsetSlopes,
  s: CrossSample,
  peak: Rad,
  e: readonly [number, number],
): { lower: number; upper: number } {
  const per = (q[axis][0] * e[0] + q[axis][1] * e[1]) * (axis === 'lower' ? q.lowerPerReading : q.upperPerReading)
  const place = q.right * e[0] + q.up * e[1]
  return { lower: s.lower, upper: s.upper, [axis]: s[axis] - (place - peak) / per }
}

/** Readings at which the offset of a sample would be nothing; null where the axes do not span the sky there. */
function peakReadings(
  q: LineOffsetSlopes,
  s: CrossSample,
  offset: LineOffset,
): { lower: number; upper: number } | null {
  const det = q.lower[0] * q.upper[1] - q.lower[1] * q.upper[0]
  if (Math.abs(det) < 0.05) return null
  const dLower = -(offset.right * q.upper[1] - offset.up * q.upper[0]) / det
  const dUpper = -(offset.up * q.lower[0] - offset.right * q.lower[1]) / det
  return { lower: s.lower + dLower / q.lowerPerReading, upper: s.upper + dUpper / q.upperPerReading }
}
